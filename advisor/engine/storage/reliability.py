"""How often drives fail or cannot be read, how long a rebuild takes, and what may go wrong meanwhile.

Everything here assumes drives that fail independently at a constant rate, which real ones do not quite: drives of one
batch, one shock or one hot cage fail together.
"""

from __future__ import annotations

import math

from advisor.engine.errors import InputError

HOURS_PER_YEAR = 8760.0
BITS_PER_TB = 8e12

# A rebuild reads and writes at this part of the drive's own rate while the machine stays in use (no source).
REBUILD_SLOWDOWN = 2.0
# Until someone has replaced a failed drive where no hot spare waits (an assumption).
REPLACEMENT_DELAY_H = 24.0

TEMPERATURE_NOTE = (
    "Published sources disagree on temperature and drive life: a maker's model of accelerated ageing gives 27 % more "
    "failures at 30 °C than at 25 °C, while a field study of many thousand drives (Pinheiro, Weber and Barroso, FAST "
    "2007) found about 10 % fewer, the fewest at 35 to 40 °C, and a rise at high temperature only for drives of three "
    "years and more. These figures therefore do not depend on temperature."
)


def mtbf_from_rate(yearly_failure_rate: float) -> float:
    """Return the mean time between failures [h] from the share of drives that fail in a year.

    Parameters
    ----------
    yearly_failure_rate : float
        Above 0 and below 1.

    References
    ----------
    Constant failure rate: AFR = 1 - exp(-8760 h / MTBF).

    Examples
    --------
    >>> round(mtbf_from_rate(0.0087217), -2)
    1000000.0
    """
    if not 0.0 < yearly_failure_rate < 1.0:
        raise InputError(
            f"a yearly failure rate of {yearly_failure_rate:g} is not a share; give more than 0, less than 1"
        )
    return -HOURS_PER_YEAR / math.log1p(-yearly_failure_rate)


def rate_from_mtbf(mtbf_h: float) -> float:
    """Return the share of drives that fail in a year from the mean time between failures [h]; the inverse.

    >>> round(rate_from_mtbf(1.2e6), 7)
    0.0072734
    """
    _above_zero("a mean time between failures", mtbf_h)
    return -math.expm1(-HOURS_PER_YEAR / mtbf_h)


def read_error_probability(read_tb: float, read_error_rate: float) -> float:
    """Return the chance of at least one unreadable sector while reading.

    Parameters
    ----------
    read_tb : float
        How much is read [TB, 1e12 bytes].
    read_error_rate : float
        Unrecoverable errors per bit, as on a data sheet, 0 or more and below 1.

    References
    ----------
    1 - (1 - e)^bits, in the form that keeps its digits: -expm1(bits * log1p(-e)).

    Examples
    --------
    >>> round(read_error_probability(12.5, 1e-14), 7)
    0.6321206
    """
    if read_tb < 0.0 or not 0.0 <= read_error_rate < 1.0:
        raise InputError(
            f"reading {read_tb:g} TB at {read_error_rate:g} errors a bit makes no sense; give 0 TB or more and 0 to 1"
        )
    return -math.expm1(read_tb * BITS_PER_TB * math.log1p(-read_error_rate))


def rebuild_hours(capacity_tb: float, transfer_mb_s: float, slowdown: float = REBUILD_SLOWDOWN) -> float:
    """Return how long it takes to write a replacement drive from end to end [h].

    Parameters
    ----------
    capacity_tb : float
        Of one drive [TB].
    transfer_mb_s : float
        Sustained rate of the drive [MB/s, 1e6 bytes a second].
    slowdown : float
        1 for a machine at rest; ``REBUILD_SLOWDOWN`` while it serves.

    Examples
    --------
    >>> round(rebuild_hours(8.0, 200.0), 2)
    22.22
    """
    _above_zero("a transfer rate", transfer_mb_s)
    return capacity_tb * 1e12 / (transfer_mb_s * 1e6) / 3600.0 * slowdown


def loss_in_rebuild(
    members: int,
    tolerated: int,
    *,
    hours: float,
    mtbf_h: float,
    read_tb_per_drive: float,
    read_error_rate: float,
    one_source: bool = False,
) -> float:
    """Return the chance that data is lost between a first failure and the end of its rebuild.

    Data is lost when ``tolerated`` more drives fail meanwhile, or when one fewer fail and a sector of the rest then
    cannot be read. Further failures are taken to come before the reading, and one unreadable sector counts as loss:
    both on the safe side.

    Parameters
    ----------
    members : int
        Drives of the group before the failure, hot spares not counted.
    tolerated : int
        Failures that the group survives, below ``members``; with 0 the first failure is the loss.
    hours : float
        From the failure to the end of the rebuild [h].
    mtbf_h : float
        Of one drive [h].
    read_tb_per_drive : float
        What is read from each surviving drive [TB].
    read_error_rate : float
        Unrecoverable errors per bit.
    one_source : bool
        Whether only one surviving drive must be read (mirrors) instead of all of them (parity).

    Examples
    --------
    >>> single = loss_in_rebuild(5, 1, hours=24, mtbf_h=1e6, read_tb_per_drive=8, read_error_rate=1e-15)
    >>> double = loss_in_rebuild(6, 2, hours=24, mtbf_h=1e6, read_tb_per_drive=8, read_error_rate=1e-15)
    >>> round(single, 4), round(double, 8)
    (0.2259, 2.711e-05)
    """
    if tolerated <= 0:
        return 1.0
    rest, fails = members - 1, -math.expm1(-hours / mtbf_h)
    reads = 1 if one_source else rest - (tolerated - 1)
    unreadable = read_error_probability(reads * read_tb_per_drive, read_error_rate)
    at_the_limit = _binomial(rest, tolerated - 1, fails)
    too_many = sum(_binomial(rest, count, fails) for count in range(tolerated, rest + 1))
    return too_many + at_the_limit * unreadable


def _binomial(trials: int, hits: int, chance: float) -> float:
    return math.comb(trials, hits) * chance**hits * (1.0 - chance) ** (trials - hits)


def _above_zero(what: str, value: float) -> None:
    if not value > 0.0:
        raise InputError(f"{what} of {value:g} makes no sense; give more than 0")
