"""How long a UPS unit carries a load, and the cheapest that carries it long enough."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from advisor.engine.errors import InputError
from advisor.engine.inputs import Ups

# A measured runtime comes back from its logarithm a hair off; that must not decide.
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Runtime:
    """Minutes at a load; ``extrapolated`` marks a load outside the measured ones."""

    minutes: float
    extrapolated: bool


@dataclass(frozen=True, slots=True)
class UpsChoice:
    """The unit chosen and its runtime, or None for both, with the reason in a sentence."""

    unit: Ups | None
    runtime: Runtime | None
    reason: str


def _checked_points(unit: Ups) -> tuple[np.ndarray, np.ndarray]:
    loads = np.array([load for load, _ in unit.runtime], dtype=float)
    minutes = np.array([value for _, value in unit.runtime], dtype=float)
    rising = loads.size >= 2 and bool(np.all(np.diff(loads) > 0.0)) and loads[0] > 0.0
    if not rising or np.any(minutes <= 0.0) or np.any(np.diff(minutes) > 0.0) or loads[-1] > unit.rating_w:
        raise InputError(
            f"UPS '{unit.code}' has the runtime points {unit.runtime}; give two or more loads above 0 W, rising, "
            f"up to the rating ({unit.rating_w:g} W), with minutes above 0 that do not rise"
        )
    return loads, minutes


def runtime(unit: Ups, load_w: float) -> Runtime:
    """Return how long a unit carries a load: straight lines between the points on logarithmic scales.

    Parameters
    ----------
    unit : Ups
        ``runtime`` holds (load [W], minutes).
    load_w : float
        Power taken from the unit [W], above 0 and up to its rating; more is an error.

    Returns
    -------
    Runtime
        Outside the measured loads the nearest line is continued and the result flagged.

    References
    ----------
    Peukert's law makes runtime a power of the load, a straight line on these scales.

    Examples
    --------
    >>> unit = Ups("U", "", 600.0, ((100.0, 60.0), (400.0, 7.5)), 150.0)
    >>> result = runtime(unit, 200.0)
    >>> round(result.minutes, 2), result.extrapolated
    (21.21, False)
    """
    if not 0.0 < load_w <= unit.rating_w:
        raise InputError(
            f"UPS '{unit.code}' is asked to carry {load_w:g} W; it carries above 0 and up to {unit.rating_w:g} W: "
            "choose a unit with a higher rating"
        )
    loads, minutes = _checked_points(unit)
    segment = int(np.clip(np.searchsorted(loads, load_w) - 1, 0, loads.size - 2))
    x0, x1 = np.log(loads[segment : segment + 2])
    y0, y1 = np.log(minutes[segment : segment + 2])
    value = float(np.exp(y0 + (np.log(load_w) - x0) * (y1 - y0) / (x1 - x0)))
    return Runtime(value, not loads[0] <= load_w <= loads[-1])


def holds(unit: Ups, load_w: float, minutes: float) -> bool:
    """Tell whether the measured points prove that a unit carries a load for so long.

    A load below the smallest measured one is carried at least as long as that one; above the largest nothing is
    proven.
    """
    loads, _ = _checked_points(unit)
    if load_w > loads[-1]:
        return False
    return runtime(unit, max(load_w, float(loads[0]))).minutes >= minutes * (1.0 - ROUNDING)


def choose_ups(units: Iterable[Ups], load_w: float, minutes: float) -> UpsChoice:
    """Return the cheapest unit (then the first by code) proven to carry a load for so long.

    Parameters
    ----------
    units : iterable of Ups
    load_w : float
        Power from the wall [W] that it has to replace, above 0.
    minutes : float
        How long.

    Examples
    --------
    >>> small = Ups("U-1", "", 300.0, ((50.0, 60.0), (300.0, 4.0)), 90.0)
    >>> choose_ups([small], 100.0, 10.0).unit.code
    'U-1'
    >>> choose_ups([small], 100.0, 90.0).reason
    'No UPS unit carries 100 W for 90 min; the longest is U-1 with 21 min. Lower ups_minutes or the load.'
    """
    listed = sorted(units, key=lambda unit: (unit.price, unit.code))
    for unit in listed:
        if holds(unit, load_w, minutes):
            found = runtime(unit, load_w)
            return UpsChoice(unit, found, f"{unit.code} carries {load_w:.0f} W for {found.minutes:.0f} min.")
    return UpsChoice(None, None, _why_none(listed, load_w, minutes))


def _why_none(units: list[Ups], load_w: float, minutes: float) -> str:
    wanted = f"No UPS unit carries {load_w:.0f} W"
    strong = [unit for unit in units if load_w <= unit.runtime[-1][0]]
    if not units:
        return "There is no UPS unit to choose from: add one to the catalogue, or take one out of excluded_parts."
    if not strong:
        most = max(unit.runtime[-1][0] for unit in units)
        return f"{wanted}; the most for which a runtime is known is {most:.0f} W. Lower the load or add a larger unit."
    best = max(strong, key=lambda unit: runtime(unit, load_w).minutes)
    longest = runtime(best, load_w).minutes
    return (
        f"{wanted} for {minutes:.0f} min; the longest is {best.code} with {longest:.0f} min. "
        "Lower ups_minutes or the load."
    )
