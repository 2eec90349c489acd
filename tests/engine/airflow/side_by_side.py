"""Plain networks of one shape laid out for the compiled solver, and random ones for both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from advisor.engine.airflow.elements import Network
from advisor.engine.airflow.kernel import FAN, PASSIVE, TABLE
from advisor.engine.airflow.solver import Ambient, CurveTable, Flows, curve_arrays, solve
from advisor.engine.curves import FallingCurve, FanCurve, falling_curve, straight_curve
from tests.engine.airflow.plain_network import Branch, PlainNetwork

ROOM = ("ambient_c", "density", "viscosity_ratio", "heat_capacity")


def solve_all(
    nets: Sequence[PlainNetwork], coupled: bool = False, tables: dict[int, FallingCurve] | None = None
) -> Flows:
    """Solve networks that share their shape and their curves; ``tables`` puts tabulated losses on branches."""
    network, curves = layout(nets[0], tables or {})
    return solve(network, curves, *figures(nets), coupled)


def layout(net: PlainNetwork, tables: dict[int, FallingCurve]) -> tuple[Network, CurveTable]:
    """Zones and branches as the solver takes them; outside comes last."""
    nz, nb = len(net.z_zone), len(net.branches)
    frm, to = np.array([(b.frm, b.to) for b in net.branches]).T % (nz + 1)
    by_branch = {b: branch.curve for b, branch in enumerate(net.branches) if branch.curve is not None} | tables
    curves = list({id(curve): curve for curve in by_branch.values()}.values())
    of, kind = np.full(nb, -1), np.full(nb, PASSIVE)
    for b, curve in by_branch.items():
        of[b] = next(k for k, known in enumerate(curves) if known is curve)
        kind[b] = TABLE if b in tables else FAN
    network = Network(
        tuple(f"zone{z}" for z in range(nz)), (), frm.copy(), to.copy(), kind, np.zeros(nb, np.int64), np.ones(nb),
        np.array([*net.z_zone, 0.0]), np.array([b.z for b in net.branches], dtype=float), np.array(net.wall), 0.3,
    )  # fmt: skip
    return network, CurveTable(of, kind, curve_arrays(curves), tuple(curves))


def figures(nets: Sequence[PlainNetwork]) -> tuple:
    """What is given of every network, in the order in which ``solve`` takes it."""
    alpha, beta, speed, scale, heat = (
        np.array([[getattr(b, name) for b in net.branches] for net in nets], dtype=float)
        for name in ("alpha", "beta", "speed", "scale", "heat_w")
    )
    ambient, wall, heat_zone = (
        Ambient(*(np.array([getattr(net, name) for net in nets], dtype=float) for name in ROOM)),
        np.array([net.wall for net in nets], dtype=float),
        np.array([net.heat for net in nets], dtype=float),
    )
    return alpha, beta, speed, scale, ambient, wall, heat_zone, heat


def warmed(net: PlainNetwork, rises: np.ndarray) -> PlainNetwork:
    """A plain network whose zones have given rises."""
    return replace(net, rises=tuple(float(rise) for rise in rises))


def random_fan_curve(rng: np.random.Generator) -> FallingCurve:
    """A fan of 10 to 60 litres a second and 8 to 45 Pa, every third one with a stall dip (invented)."""
    share = np.linspace(0.0, 1.0, 8)
    flow, pressure = rng.uniform(0.01, 0.06) * share, rng.uniform(8.0, 45.0) * (1.0 - share ** rng.uniform(0.8, 2.0))
    if rng.random() < 1 / 3:
        pressure[3] *= 0.85
    return falling_curve(FanCurve(tuple(zip(flow, pressure, strict=True)), 1000.0))


def random_shape(rng: np.random.Generator) -> list[tuple[int, int]]:
    """Ends of branches between 3 to 7 zones and the outside (-1): a tree that reaches all, and 3 to 8 ways more."""
    zones = int(rng.integers(3, 8))
    order = rng.permutation(np.arange(-1, zones))
    ends = [(int(order[k]), int(order[rng.integers(0, k)])) for k in range(1, zones + 1)]
    for _ in range(rng.integers(3, 9)):
        one, other = rng.choice(np.arange(-1, zones), 2, replace=False)
        ends.append((int(one), int(other)))
    return [pair if rng.random() < 0.5 else pair[::-1] for pair in ends]


def random_networks(rng: np.random.Generator, count: int, rest_share: float = 0.1) -> list[PlainNetwork]:
    """Networks of one random shape: losses over three decades, filters, 1 to 3 fans of which some rest, heat."""
    ends = random_shape(rng)
    zones, nb = max(max(pair) for pair in ends) + 1, len(ends)
    fans = set(rng.choice(nb, rng.integers(1, 4), replace=False).tolist())
    curves = {b: random_fan_curve(rng) for b in fans}
    filters, hot = rng.random(nb) < 0.3, int(rng.integers(nb))
    z_zone, z_branch = rng.uniform(0.0, 0.5, zones), rng.uniform(0.0, 0.5, nb)
    nets = []
    for _ in range(count):
        branches = tuple(
            Branch(
                *ends[b], z_branch[b], 10 ** rng.uniform(1.0, 2.7) if filters[b] else 0.0, 10 ** rng.uniform(2.7, 5.5),
                curves.get(b), rng.uniform(0.4, 1.2) * (rng.random() > rest_share) if b in fans else 0.0,
                float(rng.integers(1, 4)), rng.uniform(0.0, 30.0) if b == hot else 0.0,
            )
            for b in range(nb)
        )  # fmt: skip
        heat = rng.uniform(0.0, 150.0, zones) * (rng.random(zones) < 0.5)
        nets.append(
            PlainNetwork(
                branches, tuple(z_zone), tuple(rng.uniform(0.2, 1.5, zones)), tuple(heat), rng.uniform(15.0, 35.0),
                rng.uniform(0.95, 1.25), rng.uniform(0.98, 1.05), 1006.0,
            )
        )  # fmt: skip
    return nets


def random_table(rng: np.random.Generator) -> FallingCurve:
    """A loss tabulated at 40 flows up to 50 litres a second."""
    flow = np.linspace(0.0, 0.05, 40)
    loss = 10 ** rng.uniform(1.0, 2.5) * flow + 10 ** rng.uniform(3.0, 5.0) * flow**2
    return straight_curve(tuple(zip(flow, loss, strict=True)), 1.0, 1.2)
