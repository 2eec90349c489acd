"""The six-node networks as the engine's solver takes them: all fan settings of a network in one batch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.airflow.elements import Network
from advisor.engine.airflow.kernel import FAN, PASSIVE, TABLE
from advisor.engine.airflow.solver import Ambient, CurveTable, Flows, curve_arrays, solve
from advisor.engine.constants import REFERENCE_DENSITY
from advisor.engine.curves import straight_curve
from tests.bench.six_nodes import ENDS, FANS, LOSSES, ZONES, SixNodes

# For the coupled solve alone: heights of zones (outside last) and branches [m], heat [W] and walls [W/K] of zones.
ZONE_HEIGHTS_M = (0.25, 0.15, 0.3, 0.2, 0.4, 0.0)
BRANCH_HEIGHTS_M = (0.2, 0.2, 0.2, 0.15, 0.25, 0.15, 0.35, 0.42, 0.15, 0.4)
ZONE_HEAT_W = (0.0, 60.0, 110.0, 180.0, 5.0)
WALL_W_K = (0.4, 0.3, 0.8, 0.4, 0.3)
HEAT_CAPACITY = 1006.0
AMBIENT_C = 23.0


@dataclass(frozen=True)
class Prepared:
    """One network with its fan settings as a batch."""

    network: Network
    curves: CurveTable
    alpha: np.ndarray
    beta: np.ndarray
    speed: np.ndarray
    ambient: Ambient
    coupled: bool

    def solve(self) -> Flows:
        """Solve all settings."""
        n = len(self.speed)
        zones, branches = np.zeros((n, len(ZONES))), np.zeros((n, len(ENDS)))
        return solve(
            self.network, self.curves, self.alpha, self.beta, self.speed, np.ones_like(self.speed), self.ambient,
            zones + WALL_W_K, zones + ZONE_HEAT_W, branches, self.coupled,
        )  # fmt: skip

    def volume_flows(self) -> np.ndarray:
        """Flow (settings, branches) [m3/s] of an isothermal network."""
        return self.solve().mass_flow / REFERENCE_DENSITY


def prepare(network: SixNodes, points: int = 0, coupled: bool = False) -> Prepared:
    """Lay out a network: with its smooth laws, or with losses tabulated at some points."""
    n, passive = len(network.speeds), len(LOSSES)
    pairs = zip(network.fan_flow, network.fan_pressure, strict=True)
    curves = [straight_curve(tuple(zip(x, y, strict=True)), 1.0, REFERENCE_DENSITY) for x, y in pairs]
    of, kind = np.array([-1] * passive + [0, 1]), np.array([PASSIVE] * passive + [FAN] * len(FANS))
    alpha, beta = np.zeros((n, len(ENDS))), np.zeros((n, len(ENDS)))
    if points:
        flow, loss = network.tables(points)
        curves += [straight_curve(tuple(zip(flow, table, strict=True)), 1.0, REFERENCE_DENSITY) for table in loss]
        of[:passive], kind[:passive] = np.arange(passive) + len(FANS), TABLE
    else:
        alpha[:, :passive], beta[:, :passive] = network.alpha, network.beta
    speed = np.hstack([np.zeros((n, passive)), network.speeds])
    return Prepared(
        _laid_out(coupled),
        CurveTable(of, kind, curve_arrays(curves), tuple(curves)),
        alpha,
        beta,
        speed,
        _room(n),
        coupled,
    )


def _laid_out(coupled: bool) -> Network:
    nb, tall = len(ENDS), 1.0 if coupled else 0.0
    return Network(
        ZONES, (), ENDS[:, 0].copy(), ENDS[:, 1].copy(), np.array([PASSIVE] * len(LOSSES) + [FAN] * len(FANS)),
        np.zeros(nb, dtype=np.int64), np.ones(nb), tall * np.array(ZONE_HEIGHTS_M), tall * np.array(BRANCH_HEIGHTS_M),
        np.array(WALL_W_K), 0.3,
    )  # fmt: skip


def _room(n: int) -> Ambient:
    one = np.ones(n)
    return Ambient(AMBIENT_C * one, REFERENCE_DENSITY * one, one, HEAT_CAPACITY * one)
