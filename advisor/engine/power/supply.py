"""The power supply: efficiency at any load, what comes out of the wall and what stays as heat."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from advisor.engine.cubic import ShapedCubic, shaped_cubic
from advisor.engine.errors import InputError
from advisor.engine.inputs import Point, Supply

Array = NDArray[np.float64]

# Below the first measured point, the share of that point's loss which does not depend on load (estimate, no source).
NO_LOAD_LOSS_SHARE = 0.5
# Rounding may lift a load a hair above the rating.
RATING_TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class WallPower:
    """A supply at work: load [W], share of rating, efficiency, power from the wall and heat in the supply [W].

    ``extrapolated`` marks loads below the smallest one at which the efficiency was measured.
    """

    dc_w: Array
    share: Array
    efficiency: Array
    wall_w: Array
    loss_w: Array
    extrapolated: NDArray[np.bool_]


@lru_cache(maxsize=4096)
def _efficiency_curve(code: str, points: tuple[Point, ...]) -> ShapedCubic:
    """Build the curve through the points, which must make sense: no one may draw less from the wall under more load."""
    shares = np.array([share for share, _ in points])
    values = np.array([value for _, value in points])
    if len(points) < 2 or shares[0] <= 0.0 or np.any(np.diff(shares) <= 0.0) or abs(shares[-1] - 1.0) > 1e-9:
        raise InputError(
            f"supply '{code}' has efficiency points at the shares {_listed(shares)}; "
            "give two or more, rising, above 0 and up to 1 (the rating)"
        )
    if np.any(values <= 0.0) or np.any(values >= 1.0) or np.any(np.diff(shares / values) <= 0.0):
        raise InputError(
            f"supply '{code}' has the efficiencies {_listed(values)}; "
            "give values between 0 and 1 by which the power from the wall rises with load"
        )
    return shaped_cubic(shares, values)


def _listed(values: Array) -> str:
    return ", ".join(f"{value:g}" for value in values)


def load_share(supply: Supply, dc_w: ArrayLike) -> Array:
    """Return a load [W] as a share of the supply's rating; a load above the rating is an error.

    >>> from advisor.engine.inputs import FanCurve
    >>> supply = Supply("S", "", "atx", 0.14, 500.0, 480.0, (), (), "", FanCurve((), 0.0), (), 0.0, 0.0, 0.0)
    >>> load_share(supply, [100.0, 500.0])
    array([0.2, 1. ])
    """
    return _checked_share(supply, np.asarray(dc_w, dtype=float) / supply.rating_w)


def _checked_share(supply: Supply, share: Array) -> Array:
    bad = ~((share >= 0.0) & (share <= 1.0 + RATING_TOLERANCE))
    if np.any(bad):
        worst = float(np.asarray(share)[bad].flat[0]) * supply.rating_w
        raise InputError(
            f"supply '{supply.code}' is asked for {worst:.1f} W; it delivers 0 to {supply.rating_w:g} W: "
            "choose one with a higher rating"
        )
    return np.minimum(share, 1.0)


def efficiency_at(supply: Supply, share: ArrayLike) -> Array:
    """Return the efficiency of a supply at a share of its rating.

    A monotone cubic through the measured points (no overshoot between them). Below the first one, half of the loss
    measured there stays whatever the load and the rest is proportional to load, so efficiency falls to 0 at no load.

    Parameters
    ----------
    supply : Supply
        ``efficiency`` holds (share of rating, efficiency), rising to share 1.
    share : array_like
        Share of rating [1], 0 to 1.

    Returns
    -------
    ndarray
        Efficiency [1].

    References
    ----------
    Fritsch & Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246; see ``cubic``.

    Examples
    --------
    >>> from advisor.engine.inputs import FanCurve
    >>> points = ((0.1, 0.84), (0.2, 0.87), (0.5, 0.90), (1.0, 0.87))
    >>> supply = Supply("S", "", "atx", 0.14, 500.0, 480.0, points, (), "", FanCurve((), 0.0), (), 0.0, 0.0, 0.0)
    >>> efficiency_at(supply, [0.0, 0.05, 0.5]).round(4).tolist()
    [0.0, 0.7778, 0.9]
    """
    shares = _checked_share(supply, np.asarray(share, dtype=float))
    curve = _efficiency_curve(supply.code, supply.efficiency)
    first, first_efficiency = supply.efficiency[0]
    first_loss = first * (1.0 / first_efficiency - 1.0)
    low_loss = first_loss * (NO_LOAD_LOSS_SHARE + (1.0 - NO_LOAD_LOSS_SHARE) * shares / first)
    return np.where(shares < first, shares / (shares + low_loss), curve(np.maximum(shares, first)))


def wall_power(supply: Supply, dc_w: ArrayLike) -> WallPower:
    """Return what a supply takes from the wall and keeps as heat at a load.

    Parameters
    ----------
    supply : Supply
    dc_w : array_like
        Load [W], from 0 to the rating; at 0 only the no-load loss remains.

    References
    ----------
    Definition of efficiency: load over power from the wall.

    Examples
    --------
    >>> from advisor.engine.inputs import FanCurve
    >>> points = ((0.2, 0.90), (0.6, 0.92), (1.0, 0.89))
    >>> supply = Supply("S", "", "atx", 0.14, 500.0, 480.0, points, (), "", FanCurve((), 0.0), (), 0.0, 0.0, 0.0)
    >>> state = wall_power(supply, 300.0)
    >>> round(float(state.wall_w), 4), round(float(state.loss_w), 4), bool(state.extrapolated)
    (326.087, 26.087, False)
    """
    load = np.asarray(dc_w, dtype=float)
    share = load_share(supply, load)
    efficiency = efficiency_at(supply, share)
    no_load_w = NO_LOAD_LOSS_SHARE * supply.efficiency[0][0] * (1.0 / supply.efficiency[0][1] - 1.0) * supply.rating_w
    wall = np.where(load > 0.0, load / np.where(efficiency > 0.0, efficiency, 1.0), no_load_w)
    return WallPower(load, share, efficiency, wall, wall - load, share < supply.efficiency[0][0])


def speed_step(supply: Supply, share: ArrayLike) -> Array:
    """Return the speed of the supply's own fan as a share of full speed, by its steps; 0 means that it rests.

    Parameters
    ----------
    supply : Supply
        ``speed_steps`` holds (up to this share of rating, share of full speed), rising to share 1.
    share : array_like
        Share of rating [1], 0 to 1.

    Examples
    --------
    >>> from advisor.engine.inputs import FanCurve
    >>> steps = ((0.3, 0.0), (0.6, 0.5), (1.0, 1.0))
    >>> supply = Supply("S", "", "atx", 0.14, 500.0, 480.0, (), (), "", FanCurve((), 0.0), steps, 0.0, 0.0, 0.0)
    >>> speed_step(supply, [0.1, 0.3, 0.31, 1.0])
    array([0. , 0. , 0.5, 1. ])
    """
    shares = _checked_share(supply, np.asarray(share, dtype=float))
    bounds = np.array([bound for bound, _ in supply.speed_steps])
    speeds = np.array([speed for _, speed in supply.speed_steps])
    if bounds.size == 0 or np.any(np.diff(bounds) <= 0.0) or bounds[-1] < 1.0:
        raise InputError(
            f"supply '{supply.code}' has fan steps up to the shares {_listed(bounds)}; give rising shares up to 1"
        )
    return speeds[np.searchsorted(bounds, shares, side="left")]
