"""Falling curves: a fan's pressure against its flow, as the solver evaluates it.

Points pass through a shape-preserving cubic (``cubic``); a stall dip is replaced by its monotone envelope first.
Outside the points the curve goes on quadratically with the slope it ends with, so that at vanishing speed only a
quadratic loss is left.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from advisor.engine.cubic import shaped_cubic
from advisor.engine.errors import InputError

Point = tuple[float, float]

# Flat stretches of an envelope fall by this share of the shut-off pressure over the whole range of flow.
_TILT = 1e-4


@dataclass(frozen=True, slots=True)
class FanCurve:
    """Measured pressure-flow points at one speed and density; see ``FallingCurve``.

    ``rest_loss_pa_s2_m6`` is the measured quadratic loss of the fan at rest, where there is one.
    """

    points: tuple[Point, ...]
    speed_rpm: float
    density_kg_m3: float = 1.2
    rest_loss_pa_s2_m6: float | None = None


@dataclass(frozen=True)
class FallingCurve:
    """Piecewise cubic ``p(Q)`` [Pa] of flow [m3/s] at ``speed_rpm`` and ``density_kg_m3``.

    ``starts`` (n,) are the left ends of the pieces and ``end`` the right end of the last; ``pieces`` (n, 4) the
    coefficients in powers of the distance from the left end. ``tail`` is the quadratic loss [Pa/(m3/s)^2] outside.
    ``stall_flow_m3s`` is the flow left of which the fan may stall, 0 where no dip was measured.
    """

    starts: np.ndarray
    pieces: np.ndarray
    end: float
    tail: float
    speed_rpm: float
    density_kg_m3: float
    stall_flow_m3s: float

    @property
    def free_flow_m3s(self) -> float:
        """Flow at which the pressure falls to zero [m3/s]."""
        high = self.end
        while self.pressure(high) > 0:
            high *= 2
        low = 0.0
        for _ in range(80):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.pressure(middle) > 0 else (low, middle)
        return 0.5 * (low + high)

    def pressure(self, flow_m3s: float) -> float:
        """Return the pressure rise [Pa] at a flow [m3/s], either sign, at the curve's own speed and density."""
        if flow_m3s < self.starts[0]:
            d = flow_m3s - self.starts[0]
            return float(self.pieces[0, 0] + self.pieces[0, 1] * d + self.tail * d * d)
        k = int(np.searchsorted(self.starts, flow_m3s, side="right")) - 1
        d = min(flow_m3s, self.end) - self.starts[k]
        c = self.pieces[k]
        p = c[0] + d * (c[1] + d * (c[2] + d * c[3]))
        if flow_m3s > self.end:
            slope = c[1] + d * (2 * c[2] + 3 * d * c[3])
            over = flow_m3s - self.end
            p += slope * over - self.tail * over * over
        return float(p)


def envelope(points: tuple[Point, ...]) -> tuple[np.ndarray, np.ndarray, float]:
    """Return flows, strictly falling pressures and the flow at the right end of the last dip.

    >>> q, p, stall = envelope(((0.0, 20.0), (0.01, 15.0), (0.02, 16.0), (0.03, 0.0)))
    >>> [round(float(v), 2) for v in p], stall
    ([20.0, 16.0, 16.0, 0.0], 0.02)
    """
    flow = np.array([q for q, _ in points], dtype=float)
    raw = np.array([p for _, p in points], dtype=float)
    if len(flow) < 2 or np.any(np.diff(flow) <= 0) or flow[0] < 0:
        raise InputError("a fan curve needs at least two points with flows from zero upwards, each above the last")
    if not np.all(np.isfinite(raw)) or raw[0] <= 0:
        raise InputError(f"a fan curve needs a shut-off pressure above zero, not {raw[0]:g} Pa")
    upper = np.maximum.accumulate(raw[::-1])[::-1]
    dips = np.flatnonzero(upper > raw + 1e-12 * raw[0])
    stall = float(flow[dips[-1] + 1]) if len(dips) else 0.0
    least = _TILT * upper[0] * np.diff(flow) / flow[-1]
    for k in range(len(flow) - 2, -1, -1):
        upper[k] = max(upper[k], upper[k + 1] + least[k])
    return flow, upper, stall


@lru_cache(maxsize=4096)
def falling_curve(curve: FanCurve) -> FallingCurve:
    """Build the curve the solver uses from measured points (see the module's text)."""
    flow, pressure, stall = envelope(curve.points)
    cubic = shaped_cubic(flow, pressure)
    tail = curve.rest_loss_pa_s2_m6
    if tail is None:
        tail = max(-cubic.end_slope / (2 * flow[-1]), 1e-6 * pressure[0] / flow[-1] ** 2)
    return FallingCurve(
        flow[:-1].copy(), cubic.pieces, float(flow[-1]), float(tail), curve.speed_rpm, curve.density_kg_m3, stall
    )


def straight_curve(points: tuple[Point, ...], speed_rpm: float, density_kg_m3: float) -> FallingCurve:
    """Build a piecewise-linear curve whose end segments go on straight, as water-network programs tabulate pumps."""
    flow, pressure = (np.array(axis, dtype=float) for axis in zip(*points, strict=True))
    slopes = np.diff(pressure) / np.diff(flow)
    pieces = np.zeros((len(slopes), 4))
    pieces[:, 0], pieces[:, 1] = pressure[:-1], slopes
    return FallingCurve(flow[:-1].copy(), pieces, float(flow[-1]), 0.0, speed_rpm, density_kg_m3, 0.0)
