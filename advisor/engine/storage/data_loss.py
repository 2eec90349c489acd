"""The mean time until a group of drives loses data, by a chain of failures and repairs.

Failures are independent unless ``later_mtbf_h`` makes those after the first more frequent.
"""

from __future__ import annotations

import math

from advisor.engine.errors import InputError
from advisor.engine.storage.reliability import HOURS_PER_YEAR


def mttdl_first_order_h(
    members: int, tolerated: int, mtbf_h: float, repair_h: float, later_mtbf_h: float | None = None
) -> float:
    """Return the leading term of the mean time to data loss [h] of one group.

    ``MTBF * MTBF_later^m / (N (N-1) ... (N-m) MTTR^m)`` for a group of N drives that survives m failures; it is below
    the exact value by a share of about MTTR/MTBF.

    Parameters
    ----------
    members, tolerated : int
        N and m; m from 0 to N - 1.
    mtbf_h, repair_h : float
        Of one drive, and from a failure to the end of its rebuild [h].
    later_mtbf_h : float, optional
        Of the drives that remain after a first failure, where failures are correlated [h].

    References
    ----------
    Patterson, Gibson & Katz, SIGMOD 1988; Chen, Lee, Gibson, Katz & Patterson, ACM Computing Surveys 26 (1994).

    Examples
    --------
    >>> round(mttdl_first_order_h(5, 1, 1e6, 24.0) / 8760.0, 2)
    237823.44
    """
    _check_group(members, tolerated)
    later = mtbf_h if later_mtbf_h is None else later_mtbf_h
    ways = math.prod(members - failed for failed in range(tolerated + 1))
    return mtbf_h / ways * (later / repair_h) ** tolerated


def mttdl_h(
    members: int,
    tolerated: int,
    mtbf_h: float,
    repair_h: float,
    unreadable: float = 0.0,
    later_mtbf_h: float | None = None,
) -> float:
    """Return the mean time to data loss [h] of one group: the exact mean of a chain of failures and repairs.

    States count failed drives. From k failed, one more fails at ``(N - k)/MTBF``; repairs end one at a time at
    ``1/MTTR``. With ``m`` failed, a repair meets an unreadable sector with chance ``unreadable``: data is lost. Repair
    times are exponential, which is harmless while they are short against MTBF.

    Parameters
    ----------
    members, tolerated : int
        N and m; m from 0 to N - 1.
    mtbf_h, repair_h : float
        Of one drive, and from a failure to the end of its rebuild [h].
    unreadable : float
        Chance that the last possible rebuild meets an unreadable sector, see ``read_error_probability``.
    later_mtbf_h : float, optional
        Of the drives that remain after a first failure, where failures are correlated [h].

    References
    ----------
    Mean first-passage time of a birth-death chain, e.g. Karlin & Taylor, A First Course in Stochastic Processes, ch. 4.

    Examples
    --------
    >>> round(mttdl_h(5, 1, 1e6, 24.0) / 8760.0, 2), round(mttdl_h(10, 0, 1e6, 24.0), 1)
    (237874.81, 100000.0)
    """
    _check_group(members, tolerated)
    later = mtbf_h if later_mtbf_h is None else later_mtbf_h
    down = [(members - k) / (later if k else mtbf_h) for k in range(tolerated + 1)]
    up = [0.0] + [1.0 / repair_h] * tolerated
    if tolerated:
        down[-1] += unreadable / repair_h
        up[-1] *= 1.0 - unreadable
    # Mean time to go from k to k + 1 failed drives for the first time: 1/down_k plus the detours through k - 1.
    step = total = 0.0
    for rate_down, rate_up in zip(down, up, strict=True):
        step = (1.0 + rate_up * step) / rate_down
        total += step
    return total


def loss_within(years: float, mttdl_hours: float) -> float:
    """Return the chance of losing data within some years, from the mean time to data loss [h].

    >>> round(loss_within(10.0, 285.39 * 8760.0), 4)
    0.0344
    """
    if not mttdl_hours > 0.0:
        raise InputError(f"a mean time to data loss of {mttdl_hours:g} h makes no sense; give more than 0")
    return -math.expm1(-years * HOURS_PER_YEAR / mttdl_hours)


def _check_group(members: int, tolerated: int) -> None:
    if not 0 <= tolerated < members:
        raise InputError(f"{members} drives cannot survive {tolerated} failures; give 0 to one fewer than the drives")
