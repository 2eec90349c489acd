"""Random networks of five zones and the outside, eight losses and two fans: what the solver and its peers are timed on.

Invented: a front chamber with a filter, drives, board, graphics, a rear chamber. All is isothermal and level, so that
the water-network peer can be told the same: 1 Pa is its metre, a volume flow its flow.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

OUTSIDE, FRONT, DRIVES, BOARD, GRAPHICS, REAR = 5, 0, 1, 2, 3, 4
ZONES = ("front", "drives", "board", "graphics", "rear")
# From, to, linear [Pa s/m3] and quadratic loss [Pa s2/m6] of the network that the random ones are drawn around.
LOSSES = (
    (OUTSIDE, FRONT, 110.0, 8.0e3),
    (FRONT, GRAPHICS, 75.0, 3.5e4),
    (DRIVES, BOARD, 140.0, 2.2e4),
    (DRIVES, GRAPHICS, 65.0, 5.5e4),
    (GRAPHICS, BOARD, 45.0, 2.8e4),
    (GRAPHICS, OUTSIDE, 190.0, 7.5e4),
    (BOARD, REAR, 35.0, 7.5e3),
    (BOARD, OUTSIDE, 95.0, 4.5e4),
)
FANS = ((FRONT, DRIVES), (REAR, OUTSIDE))
ENDS = np.array([loss[:2] for loss in LOSSES] + list(FANS), dtype=np.int64)
FAN_FLOW_M3S = 0.032
# Share of the shut-off pressure at even shares of the flow: a falling curve with a knee, no parabola.
FAN_SHAPE = np.array([1.0, 0.87, 0.79, 0.73, 0.64, 0.5, 0.34, 0.17, 0.0])
TABLE_END_M3S = 0.05
SPEED_STEPS = 9


@dataclass(frozen=True)
class SixNodes:
    """One network: losses ``alpha``, ``beta`` (8,), fan points (2, points), settings (n, 2) of its fans' speeds."""

    alpha: np.ndarray
    beta: np.ndarray
    fan_flow: np.ndarray
    fan_pressure: np.ndarray
    speeds: np.ndarray

    def tables(self, points: int) -> tuple[np.ndarray, np.ndarray]:
        """Flow (points,) [m3/s] and pressure loss (8, points) [Pa] of the passive branches."""
        flow = np.linspace(0.0, TABLE_END_M3S, points)
        return flow, self.alpha[:, None] * flow + self.beta[:, None] * flow**2


def random_networks(count: int, seed: int) -> list[SixNodes]:
    """Draw networks; each has a grid of fan settings, as a set of fans in the search has."""
    rng = np.random.default_rng(seed)
    return [_random_network(rng) for _ in range(count)]


def _random_network(rng: np.random.Generator) -> SixNodes:
    alpha, beta = (np.array([loss[k] for loss in LOSSES]) * np.exp(rng.normal(0.0, 0.4, 8)) for k in (2, 3))
    flow = np.linspace(0.0, 1.0, len(FAN_SHAPE)) * FAN_FLOW_M3S * rng.uniform(0.8, 1.25, (2, 1))
    pressure = 24.0 * rng.uniform(0.8, 1.25, (2, 1)) * FAN_SHAPE ** rng.uniform(0.9, 1.1, (2, 1))
    step = np.linspace(0.4, 1.0, SPEED_STEPS)
    first, second = np.meshgrid(step, step, indexing="ij")
    return SixNodes(alpha, beta, flow, pressure, np.stack([first.ravel(), second.ravel()], axis=1))
