"""The surge when drives start, and starting them in groups so that the supply can carry it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from advisor.engine.errors import InputError
from advisor.engine.inputs import Drive, Supply
from advisor.engine.power.draw import draw
from advisor.engine.power.loads import DRIVE_12V_SHARE, Loads
from advisor.engine.scenarios import SCENARIO_TABLE

RAIL_V = 12.0
# A drive manual asks for motors to be started at intervals of 12 s or more where they start one after the other.
SEQUENTIAL_START_INTERVAL_S = 12.0
START_SCENARIO = "working"


@dataclass(frozen=True, slots=True)
class SpinUpPlan:
    """How the drives of a build start.

    ``group_size`` drives start together, ``groups`` times, ``interval_s`` apart; all turn after ``seconds``.
    ``peak_w_12v`` is the highest draw at 12 V [W] meanwhile, against ``limit_w_12v``. Where not even one drive at a
    time fits, ``possible`` is False and the figures are those of one at a time.
    """

    possible: bool
    group_size: int
    groups: int
    peak_w_12v: float
    limit_w_12v: float
    interval_s: float
    seconds: float


def surge_watts(drive: Drive) -> float:
    """Return what one drive draws at 12 V [W] while it starts: at least what it draws when it turns.

    ``spin_up_a`` is taken at 12 V; for a drive that starts from 5 V, it is the equivalent current.
    """
    return max(RAIL_V * drive.spin_up_a, _turning_watts(drive))


def _turning_watts(drive: Drive) -> float:
    return drive.idle_w * DRIVE_12V_SHARE.get(drive.form, 1.0)


def peak_watts(drive: Drive, count: int, group_size: int, rest_watts: float) -> float:
    """Return the highest draw at 12 V [W] while ``count`` drives start in groups of ``group_size``.

    Earlier groups already turn without seeking when a group starts; ``rest_watts`` is all else on 12 V.
    """
    turning, surge = _turning_watts(drive), surge_watts(drive)
    starts = range(0, count, group_size)
    return rest_watts + max((n * turning + min(group_size, count - n) * surge for n in starts), default=0.0)


def spin_up_plan(drive: Drive, count: int, rest_watts: float, supply: Supply) -> SpinUpPlan:
    """Return the quickest start whose surge stays within the supply's 12 V rating.

    Of all group sizes that fit, the fewest groups; of these the lowest peak, then the smallest groups.

    Parameters
    ----------
    drive : Drive
        ``spin_up_a`` [A at 12 V] for ``spin_up_s`` [s].
    count : int
        How many drives start, 0 or more.
    rest_watts : float
        What everything else draws at 12 V meanwhile [W].
    supply : Supply
        ``rating_12v_w`` [W].

    Returns
    -------
    SpinUpPlan

    References
    ----------
    Product manuals of 3.5-inch drives: about 2.0 A (one older: 2.8 A) at 12 V; a SAS drive manual, section 4.2:
    sequential starts 12 s or more apart.

    Examples
    --------
    >>> from advisor.engine.inputs import FanCurve
    >>> drive = Drive("D", "", "3.5", 8.0, 5.0, 8.0, 2.0, 10.0, 26.0, 29.0, 60.0, 0.01, 1e-15, 8, 200.0, 0.04)
    >>> supply = Supply("S", "", "atx", 0.14, 300.0, 250.0, (), (), "", FanCurve((), 0.0), (), 0.0, 0.0, 0.0)
    >>> plan = spin_up_plan(drive, 10, 100.0, supply)
    >>> plan.group_size, plan.groups, plan.peak_w_12v, plan.seconds
    (5, 2, 235.0, 22.0)
    """
    if count < 0:
        raise InputError(f"{count} drives cannot start; count 0 or more")
    limit = supply.rating_12v_w
    interval = max(SEQUENTIAL_START_INTERVAL_S, drive.spin_up_s)
    if count == 0:
        return SpinUpPlan(rest_watts <= limit, 0, 0, rest_watts, limit, interval, 0.0)
    plans = [(-(-count // size), peak_watts(drive, count, size, rest_watts), size) for size in range(1, count + 1)]
    fitting = [plan for plan in plans if plan[1] <= limit]
    groups, peak, size = min(fitting, default=plans[0])
    return SpinUpPlan(bool(fitting), size, groups, peak, limit, interval, (groups - 1) * interval + drive.spin_up_s)


def rest_at_start(loads: Loads, fans_full_w: float) -> float:
    """Return what all but the drives draws at 12 V [W] while they start: loaded as when working, fans at full speed.

    >>> loads = Loads(100.0, 200.0, 1, 20.0, 10.0, 5.0, 0.0, 0.0, 5.0, 8.0, 4, 0.6)
    >>> rest_at_start(loads, 10.0)
    200.0
    """
    working = next(scenario for scenario in SCENARIO_TABLE if scenario.code == START_SCENARIO)
    return float(draw(replace(loads, drive_count=0), working, fans_full_w).twelve_volt_w)
