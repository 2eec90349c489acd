"""Airflow networks solved a second, by the engine and by programs from outside, on one core each."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from importlib.metadata import version

import numpy as np

from tests.bench.own_solver import Prepared, prepare
from tests.bench.peers.epanet import opened
from tests.bench.peers.scipy_root import METHODS, root_peer
from tests.bench.results import Result
from tests.bench.six_nodes import SixNodes, random_networks
from tests.bench.timing import durations_s, median_s

NETWORKS, SEED = 208, 20
POINTS, FEW_POINTS = 501, 51
REPEATS = 15
# Fan settings of a network that scipy, far slower, solves: the corners and the middle of the grid.
SAMPLE = (0, 8, 40, 72, 80)
MIX = f"{NETWORKS} random networks of 5 zones, 8 losses and 2 fans, at 81 fan settings each, isothermal"


def networks_vs_epanet_toolkit() -> Result:
    """Time per network against EPANET on the same tables; the engine solves a network's settings in one batch."""
    many, few = (_against_epanet(random_networks(NETWORKS, SEED), points) for points in (POINTS, FEW_POINTS))
    return Result(
        "networks_vs_epanet_toolkit", many["ratio"], "times as fast",
        f"EPANET 2.2 toolkit through wntr {version('wntr')}, opened once a network, initH + runH", many["ratio"],
        {"mix": MIX, f"{POINTS}_points": many, f"{FEW_POINTS}_points": few},
    )  # fmt: skip


def _against_epanet(networks: Sequence[SixNodes], points: int) -> dict[str, float]:
    own, peer, difference = [], [], 0.0
    for network in networks:
        mine = prepare(network, points)
        own.append(_time_a_network(mine))
        flows = mine.volume_flows()
        with opened(network, points) as toolkit:
            for speeds, flow in zip(network.speeds, flows, strict=True):
                toolkit.set_speeds(speeds)
                peer += durations_s(toolkit.solve, 1)
                difference = max(difference, _difference(toolkit.flows(), flow))
    return _compared(own, peer, difference)


def networks_vs_scipy_root() -> Result:
    """Time per network against scipy's better method on the smooth law."""
    own, by_method, difference = [], {method: [] for method in METHODS}, 0.0
    for network in random_networks(NETWORKS, SEED):
        mine = prepare(network)
        own.append(_time_a_network(mine))
        flows = mine.volume_flows()
        for k in SAMPLE:
            peer = root_peer(network, network.speeds[k])
            for method, times in by_method.items():
                times += durations_s(lambda peer=peer, method=method: peer.solve(method), 1)
                pressure = peer.solve(method)
                if peer.smooth(pressure):
                    difference = max(difference, _difference(peer.flows(pressure), flows[k]))
    best = min(METHODS, key=lambda method: statistics.median(by_method[method]))
    found = {method: _compared(own, times, difference) for method, times in by_method.items()}
    return Result(
        "networks_vs_scipy_root", found[best]["ratio"], "times as fast",
        f"scipy {version('scipy')} optimize.root, method {best}, vectorised, analytic Jacobian", found[best]["ratio"],
        {"mix": MIX, **found},
    )  # fmt: skip


def networks_per_second_per_core() -> Result:
    """Networks a second on one core: isothermal with smooth laws; beside it coupled by density, buoyancy and heat."""
    rates = {}
    for name, coupled in (("isothermal", False), ("coupled", True)):
        times = [_time_a_network(prepare(network, coupled=coupled)) for network in random_networks(NETWORKS, SEED)]
        rates[f"{name}_per_second"] = round(1 / statistics.median(times))
    value = rates["isothermal_per_second"]
    return Result("networks_per_second_per_core", value, "networks a second", detail={"mix": MIX, **rates})


def _time_a_network(prepared: Prepared) -> float:
    """Median time [s] per network and setting, once the kernel is loaded."""
    prepared.solve()
    return median_s(prepared.solve, REPEATS) / len(prepared.speed)


def _difference(peer: np.ndarray, own: np.ndarray) -> float:
    return float(np.abs(peer - own).max() / np.abs(peer).max())


def _compared(own: Sequence[float], peer: Sequence[float], difference: float) -> dict[str, float]:
    mine, theirs = statistics.median(own), statistics.median(peer)
    return {
        "own_us": round(mine * 1e6, 3),
        "peer_us": round(theirs * 1e6, 3),
        "ratio": round(theirs / mine, 2),
        "largest_flow_difference": difference,
    }
