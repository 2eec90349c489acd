"""Sound power of the sources: fans by speed, supplies and graphics boards by load, drives by what they do."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from advisor.engine.constants import REFERENCE_DENSITY
from advisor.engine.errors import InputError
from advisor.engine.inputs import Point

Numbers = float | NDArray[np.float64]

# AMCA 300-series and ASHRAE: Lw changes by 50 log10 of the speed ratio; others print 55, hence its uncertainty.
SPEED_EXPONENT = 50.0
EXPONENT_U_ONE_READING = 5.0
EXPONENT_U_MORE_READINGS = 2.0
DENSITY_EXPONENT = 20.0


def sound_power(speed_rpm: ArrayLike, readings: Sequence[Point], exponent: float = SPEED_EXPONENT) -> Numbers:
    """Return a fan's A-weighted sound power level [dB re 1 pW] at a speed.

    Parameters
    ----------
    speed_rpm : [rev/min], any shape, 0 or more; at rest there is no sound (minus infinity)
    readings : (speed [rev/min], level [dB]) pairs, slowest first
    exponent : decibels per decade of speed

    Notes
    -----
    Between readings the level is linear in the logarithm of speed; outside them it follows
    ``exponent * log10(N/N0)`` from the nearest one (fan sound law, AMCA 300 series).

    >>> round(float(sound_power(800.0, ((1200.0, 30.0),))), 2)
    21.2
    """
    speeds = _speeds(speed_rpm)
    running = speeds > 0.0
    if not running.any():
        return np.full(speeds.shape, -np.inf)[()]
    decades, levels = _table(readings)
    decade = np.log10(np.where(running, speeds, 1.0))
    inside = np.clip(decade, decades[0], decades[-1])
    found = np.interp(inside, decades, levels) + exponent * (decade - inside)
    return np.where(running, found, -np.inf)[()]


def sound_power_uncertainty(speed_rpm: ArrayLike, readings: Sequence[Point], sound_u_db: float) -> Numbers:
    """Return the standard uncertainty [dB] of ``sound_power``, 0 at rest.

    Parameters
    ----------
    speed_rpm : [rev/min], any shape, 0 or more
    readings : (speed [rev/min], level [dB]) pairs, slowest first
    sound_u_db : standard uncertainty of a reading [dB]

    Notes
    -----
    The reading's own, and that of the exponent (5 with one reading, 2 with more) over the distance to the nearest
    reading in decades of speed, as independent terms.

    >>> round(float(sound_power_uncertainty(120.0, ((1200.0, 30.0),), 1.0)), 2)
    5.1
    """
    speeds = _speeds(speed_rpm)
    running = speeds > 0.0
    if not running.any():
        return np.zeros(speeds.shape)[()]
    decades, _ = _table(readings)
    exponent_u = EXPONENT_U_ONE_READING if len(decades) == 1 else EXPONENT_U_MORE_READINGS
    decade = np.log10(np.where(running, speeds, 1.0))
    distance = np.min(np.abs(decade[..., np.newaxis] - decades), axis=-1)
    return np.where(running, np.hypot(sound_u_db, exponent_u * distance), 0.0)[()]


def density_term(density: ArrayLike) -> Numbers:
    """Return what air of another density [kg/m3] adds to a fan's sound power level [dB].

    ``20 log10(rho/rho_ref)``: AMCA 300 series and ASHRAE fan laws; rho_ref is 1.2 kg/m3.

    >>> round(float(density_term(0.96)), 2)
    -1.94
    """
    densities = np.asarray(density, dtype=float)
    if not np.all(densities > 0.0):
        raise InputError(f"density {np.min(densities):g} kg/m3 has to be above 0")
    return DENSITY_EXPONENT * np.log10(densities / REFERENCE_DENSITY)


def level_by_share(points: Sequence[Point], share: ArrayLike) -> Numbers:
    """Return the sound power level [dB] of a supply or graphics board at a share of its full load.

    Parameters
    ----------
    points : (share [-], level [dB]) pairs, least load first
    share : of full load [-], 0 to 1, any shape

    Notes
    -----
    Linear between the points; below the first and above the last the level stays as there.

    >>> float(level_by_share(((0.2, 20.0), (1.0, 36.0)), 0.6))
    28.0
    """
    shares = np.asarray(share, dtype=float)
    outside = ~((shares >= 0.0) & (shares <= 1.0))
    if outside.any():
        worst = shares[outside].flat[0]
        raise InputError(f"load share {worst:g} is outside 0 to 1; choose a part with a higher rating")
    at, levels = _columns(points, "load")
    return np.interp(shares, at, levels)


def _speeds(speed_rpm: ArrayLike) -> NDArray[np.float64]:
    speeds = np.asarray(speed_rpm, dtype=float)
    if not np.all(speeds >= 0.0):
        raise InputError(f"speed {np.min(speeds):g} rev/min isn't 0 or more; give 0 for a fan at rest")
    return speeds


def _table(readings: Sequence[Point]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    at, levels = _columns(readings, "speed")
    if at[0] <= 0.0:
        raise InputError(f"sound reading at speed {at[0]:g} rev/min; readings need a speed above 0")
    return np.log10(at), levels


def _columns(points: Sequence[Point], what: str) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    if not points:
        raise InputError(f"no sound readings by {what}; at least one is needed for a part that runs")
    at, levels = np.array(points, dtype=float).T
    if not np.all(np.diff(at) > 0.0):
        raise InputError(f"sound readings by {what} {at.tolist()} have to rise from one to the next; sort them")
    return at, levels
