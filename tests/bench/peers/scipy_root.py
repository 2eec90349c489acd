"""``scipy.optimize.root`` on the zone pressures, vectorised over the branches, with the analytic Jacobian.

Passive branches follow their smooth law ``a*Q + b*Q*|Q|``, fans their straight-line curves.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import root

from advisor.engine.constants import LINEAR_BELOW_PA
from tests.bench.six_nodes import ENDS, LOSSES, OUTSIDE, SixNodes

METHODS = ("hybr", "lm")
TOLERANCE = 1e-10
_PASSIVE = len(LOSSES)
_TO_LITRES = 1e3

Function = Callable[[np.ndarray], np.ndarray]


@dataclass(frozen=True)
class RootPeer:
    """One network at one fan setting, as functions of the five zone pressures [Pa]."""

    flow_and_slope: Callable[[np.ndarray], tuple[np.ndarray, np.ndarray]]
    balance: Function
    jacobian: Function

    def solve(self, method: str) -> np.ndarray:
        """Zone pressures [Pa], from a start at rest."""
        return root(self.balance, np.zeros(OUTSIDE), jac=self.jacobian, method=method, tol=TOLERANCE).x

    def flows(self, pressure: np.ndarray) -> np.ndarray:
        """Flow of every branch [m3/s]."""
        return self.flow_and_slope(pressure)[0]

    def smooth(self, pressure: np.ndarray) -> bool:
        """Whether every drop is beyond those at which the engine's losses turn linear."""
        ends = np.append(pressure, 0.0)[ENDS]
        return bool(np.abs(ends[:, 0] - ends[:, 1]).min() > LINEAR_BELOW_PA)


def root_peer(network: SixNodes, speeds: np.ndarray) -> RootPeer:
    """Set up one network at one fan setting (2,)."""
    incidence = _incidence()
    drops = -incidence.T.copy()
    twice_b, four_b, squared = 2.0 * network.beta, 4.0 * network.beta, network.alpha**2
    pressure, flow, slopes = _inverse_curves(network)
    fan, squared_speeds = np.arange(2), speeds**2

    def flow_and_slope(p: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        drop = drops @ p
        loss, rise = drop[:_PASSIVE], -drop[_PASSIVE:] / squared_speeds
        slope = np.sqrt(squared + four_b * np.abs(loss))
        k = np.clip((pressure < rise[:, None]).sum(axis=1) - 1, 0, slopes.shape[1] - 1)
        s = slopes[fan, k]
        passive = np.sign(loss) * (slope - network.alpha) / twice_b
        fans = speeds * (flow[fan, k] + s * (rise - pressure[fan, k]))
        return np.concatenate((passive, fans)), np.concatenate((1.0 / slope, -s / speeds))

    def balance(p: np.ndarray) -> np.ndarray:
        return (incidence @ flow_and_slope(p)[0]) * _TO_LITRES

    def jacobian(p: np.ndarray) -> np.ndarray:
        return (incidence * flow_and_slope(p)[1]) @ drops * _TO_LITRES

    return RootPeer(flow_and_slope, balance, jacobian)


def _incidence() -> np.ndarray:
    """Zones by branches: -1 where a branch leaves, 1 where it arrives."""
    found = np.zeros((OUTSIDE + 1, len(ENDS)))
    found[ENDS[:, 0], np.arange(len(ENDS))] = -1.0
    found[ENDS[:, 1], np.arange(len(ENDS))] = 1.0
    return found[:OUTSIDE]


def _inverse_curves(network: SixNodes) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Pressures rising, flows and slopes dQ/dp of both fans; the ends go on straight."""
    pressure, flow = network.fan_pressure[:, ::-1].copy(), network.fan_flow[:, ::-1].copy()
    return pressure, flow, np.diff(flow, axis=1) / np.diff(pressure, axis=1)
