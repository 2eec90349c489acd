"""What a machine that is never off takes from the wall in a year, and what that costs."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.engine.errors import InputError

HOURS_PER_YEAR = 8760.0
# Shares of the hours of a year, for a machine that is never off (an assumption, shown with every figure).
DUTY = {"idle": 0.6, "working": 0.3, "full_load": 0.1}


def yearly_energy_kwh(wall_w: Mapping[str, float], duty: Mapping[str, float] = DUTY) -> float:
    """Return the energy [kWh] that a machine which is never off takes from the wall in a year.

    Parameters
    ----------
    wall_w : mapping
        Scenario to power from the wall [W].
    duty : mapping
        Scenario to share of the hours of a year; shares sum to 1.

    Examples
    --------
    >>> round(yearly_energy_kwh({"idle": 50.0, "working": 100.0, "full_load": 200.0}), 1)
    700.8
    """
    total = sum(duty.values())
    if abs(total - 1.0) > 1e-9:
        raise InputError(f"the shares of a year sum to {total:g}; they must sum to 1")
    missing = sorted(set(duty) - set(wall_w))
    if missing:
        raise InputError(f"power from the wall is missing for {', '.join(missing)}; give it for {', '.join(duty)}")
    return HOURS_PER_YEAR / 1000.0 * sum(share * wall_w[code] for code, share in duty.items())


def yearly_cost(energy_kwh: float, price_per_kwh: float) -> float:
    """Return what a year's energy costs, in the currency of the price.

    >>> round(yearly_cost(700.0, 0.30), 2)
    210.0
    """
    return energy_kwh * price_per_kwh
