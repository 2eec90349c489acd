"""Random airflow networks, and the same network for our kernel, for scipy and for EPANET."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import root

from advisor.engine.airflow.elements import Network
from advisor.engine.airflow.kernel import FAN, PASSIVE, TABLE
from advisor.engine.airflow.solver import Ambient, CurveTable, curve_arrays, solve
from advisor.engine.curves import FallingCurve, straight_curve

DENSITY = 1.2
# Multi-point fan curve, not a parabola; end segments go on straight.
FAN_FLOW = np.array([0.000, 0.004, 0.008, 0.012, 0.016, 0.020, 0.024, 0.028, 0.032])
FAN_PRESSURE = np.array([24.0, 20.5, 18.6, 17.5, 15.4, 12.0, 8.2, 4.1, 0.0])
FAN_CURVE = straight_curve(tuple(zip(FAN_FLOW, FAN_PRESSURE, strict=True)), 1.0, DENSITY)
TABLE_REACH = 0.08  # m3/s


@dataclass(frozen=True)
class Sketch:
    """A network: zones, branches (from, to, a, b) with -1 for outside, fans (from, to, relative speed)."""

    zones: int
    branches: tuple[tuple[int, int, float, float], ...]
    fans: tuple[tuple[int, int, float], ...]

    @property
    def ends(self) -> list[tuple[int, int]]:
        return [(i, j) for i, j, *_ in self.branches] + [(i, j) for i, j, _ in self.fans]


def sketch(rng: np.random.Generator) -> Sketch:
    """Draw a network of 3 to 7 zones in which every zone has a way out; about half its branches have a filter."""
    zones = int(rng.integers(3, 8))
    ways = [(int(rng.integers(-1, z)), z) for z in range(zones)] + [(zones - 1, -1)]
    while len(ways) < zones + 1 + int(rng.integers(2, 7)):
        i, j = (int(v) for v in rng.integers(-1, zones, 2))
        if i != j:
            ways.append((i, j))
    branches = tuple(
        (i, j, float(rng.choice([0.0, rng.uniform(30, 400)])), float(10 ** rng.uniform(3.3, 5.3))) for i, j in ways
    )
    fans = []
    for _ in range(int(rng.integers(1, 4))):
        i, j = (int(v) for v in rng.choice(np.arange(-1, zones), 2, replace=False))
        fans.append((i, j, float(rng.uniform(0.4, 1.2))))
    return Sketch(zones, branches, tuple(fans))


def loss_points(a: float, b: float, points: int) -> tuple[tuple[float, float], ...]:
    """Tabulate ``a*Q + b*Q^2`` evenly."""
    flow = np.linspace(0.0, TABLE_REACH, points)
    return tuple(zip(flow.tolist(), (a * flow + b * flow**2).tolist(), strict=True))


def ours(net: Sketch, points: int = 0, fan: FallingCurve = FAN_CURVE) -> tuple[np.ndarray, np.ndarray]:
    """Volume flows [m3/s] and zone pressures [Pa] by the kernel; ``points`` tabulates the losses."""
    nb, passive = len(net.ends), len(net.branches)
    frm, to = (np.array([end[k] if end[k] >= 0 else net.zones for end in net.ends]) for k in range(2))
    curves = [fan] + [straight_curve(loss_points(a, b, points), 1.0, DENSITY) for _, _, a, b in net.branches if points]
    kind = np.array([TABLE if points else PASSIVE] * passive + [FAN] * len(net.fans))
    of = np.array([k + 1 if points else -1 for k in range(passive)] + [0] * len(net.fans))
    network = Network(
        tuple(f"z{k}" for k in range(net.zones)), (), frm, to, kind, np.zeros(nb, dtype=int), np.ones(nb),
        np.zeros(net.zones + 1), np.zeros(nb), np.zeros(net.zones), 0.3,
    )  # fmt: skip
    a = np.array([[0.0 if points else row[2] for row in net.branches] + [0.0] * len(net.fans)])
    b = np.array([[0.0 if points else row[3] for row in net.branches] + [0.0] * len(net.fans)])
    speed = np.array([[0.0] * passive + [w for _, _, w in net.fans]])
    one = np.ones(1)
    room = Ambient(20.0 * one, DENSITY * one, one, 1006.0 * one)
    none = np.zeros((1, net.zones))
    table = CurveTable(of, kind, curve_arrays(curves), tuple(curves))
    flows = solve(network, table, a, b, speed, np.ones((1, nb)), room, none, none, np.zeros((1, nb)), coupled=False)
    return flows.mass_flow[0] / DENSITY, flows.pressure[0]


def scipy_flows(net: Sketch, points: int = 0, start: np.ndarray | None = None) -> tuple[np.ndarray, np.ndarray]:
    """The same by ``scipy.optimize.root`` on the zone pressures; flags are not trusted, residuals are."""
    tables = [tuple(np.array(loss_points(a, b, points)).T) for _, _, a, b in net.branches] if points else None

    def flows(x: np.ndarray) -> np.ndarray:
        p = np.append(x, 0.0)
        found = []
        for k, (i, j, a, b) in enumerate(net.branches):
            drop = p[i] - p[j]
            found.append(_table_flow(drop, *tables[k]) if tables else _smooth_flow(drop, a, b))
        return np.array(found + [_fan_flow(p[j] - p[i], w) for i, j, w in net.fans])

    def balance(x: np.ndarray) -> np.ndarray:
        total = np.zeros(net.zones + 1)
        for (i, j), q in zip(net.ends, flows(x), strict=True):
            total[i] -= q
            total[j] += q
        return 1e3 * total[:-1]

    first = np.zeros(net.zones) if start is None else start
    best = min(
        (root(balance, first, method=method, tol=1e-14).x for method in ("hybr", "lm")),
        key=lambda x: np.abs(balance(x)).max(),
    )
    assert np.abs(balance(best)).max() < 1e-9  # L/s
    return flows(best), best


def _smooth_flow(drop: float, a: float, b: float) -> float:
    """Flow at a pressure drop; below 1e-3 Pa the law is a straight line, as the model has it."""
    size = abs(drop)
    at_line = (-a + np.sqrt(a * a + 4 * b * 1e-3)) / (2 * b)
    q = size / 1e-3 * at_line if size < 1e-3 else (-a + np.sqrt(a * a + 4 * b * size)) / (2 * b)
    return float(np.sign(drop) * q)


def _table_flow(drop: float, flow: np.ndarray, loss: np.ndarray) -> float:
    k = int(np.clip(np.searchsorted(loss, abs(drop), side="right") - 1, 0, len(flow) - 2))
    q = flow[k] + (abs(drop) - loss[k]) * (flow[k + 1] - flow[k]) / (loss[k + 1] - loss[k])
    return float(np.copysign(q, drop))


def _fan_flow(rise: float, w: float) -> float:
    """Flow of a fan at a pressure rise, by the affinity laws; end segments go on straight, backwards too."""
    y = rise / w**2
    p, q = FAN_PRESSURE[::-1], FAN_FLOW[::-1]
    k = int(np.clip(np.searchsorted(p, y) - 1, 0, len(p) - 2))
    return float(w * (q[k] + (y - p[k]) * (q[k + 1] - q[k]) / (p[k + 1] - p[k])))
