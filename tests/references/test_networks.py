"""The airflow solver against published networks, EPANET 2.2 and scipy."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from advisor.engine.airflow.elements import Network
from advisor.engine.airflow.kernel import FAN, PASSIVE, TABLE
from advisor.engine.airflow.solver import Ambient, CurveTable, curve_arrays, solve
from advisor.engine.constants import LINEAR_BELOW_PA, REFERENCE_DENSITY
from advisor.engine.curves import FallingCurve, FanCurve, falling_curve, straight_curve
from tests.references.network_peers import TABLE_END_M3S, Peer, epanet_flows, random_peer, scipy_flows

# Six nodes, ten branches (from, to, Pa s/m3, Pa s2/m6; 5 is outside), a fan at full speed and one at 0.8 of it, and the
# flows [l/s] of scipy's root on the smooth laws and of EPANET 2.2 (toolkit, double precision) on 501-point tables, both
# computed with programs of their own.
SIX_NODES = (
    (5, 0, 120.0, 9.0e3, 14.83007469, 14.83013403),
    (0, 3, 80.0, 4.0e4, -8.04611257, -8.04599120),
    (1, 2, 150.0, 2.5e4, 13.33515811, 13.33517715),
    (1, 3, 60.0, 6.0e4, 9.54102916, 9.54094809),
    (3, 2, 40.0, 3.0e4, 3.09689592, 3.09696826),
    (3, 5, 200.0, 8.0e4, -1.60197934, -1.60201138),
    (2, 4, 30.0, 8.0e3, 19.87570491, 19.87564474),
    (2, 5, 100.0, 5.0e4, -3.44365088, -3.44349933),
    (0, 1, 0.0, 0.0, 22.87618726, 22.87612524),
    (4, 5, 0.0, 0.0, 19.87570491, 19.87564474),
)
SIX_NODES_PRESSURE_PA = (-3.75898900, 5.50863310, -0.93730166, -0.52570289, -4.69392197)
SIX_NODES_FAN = (np.arange(9) * 0.004, np.array([24.0, 20.5, 18.6, 17.5, 15.4, 12.0, 8.2, 4.1, 0.0]))
SIX_NODES_TABLE_END_M3S = 0.05

# Hardy Cross, as the reference manual of the R package 'hydraulics' works it: pipes C-A, A-D, D-C, A-B, B-D with
# h = K Q |Q|, 0.5 m3/s put in at C and taken out at B; loops and flows to start from as there.
PIPES_K = np.array([200.0, 2500.0, 500.0, 800.0, 300.0])
FIRST_FLOWS = np.array([0.3, 0.1, -0.2, 0.2, -0.3])
LOOPS = (((0, 1.0), (1, 1.0), (2, 1.0)), ((3, 1.0), (1, -1.0), (4, 1.0)))
AFTER_ONE_ROUND = (0.27195122, 0.05195122, -0.22804878, 0.22, -0.28)

COUNT = 200
POINTS = 101


def volume_flows(
    ends: np.ndarray,
    zones: int,
    alpha: np.ndarray,
    beta: np.ndarray,
    curves: dict[int, tuple[int, FallingCurve]],
    speed: np.ndarray,
) -> tuple[np.ndarray, np.ndarray]:
    """Flows [m3/s] and pressures [Pa] of one level, isothermal network; ``curves`` maps branches to (kind, curve)."""
    nb = len(ends)
    of, kind = np.full(nb, -1), np.full(nb, PASSIVE)
    for k, (b, (what, _)) in enumerate(curves.items()):
        of[b], kind[b] = k, what
    known = [curve for _, curve in curves.values()]
    network = Network(
        tuple(map(str, range(zones))), (), ends[:, 0].copy(), ends[:, 1].copy(), kind, np.zeros(nb, np.int64),
        np.ones(nb), np.zeros(zones + 1), np.zeros(nb), np.zeros(zones), 0.3,
    )  # fmt: skip
    one, rows, columns = np.ones(1), np.zeros((1, zones)), np.zeros((1, nb))
    room = Ambient(20.0 * one, REFERENCE_DENSITY * one, one, 1006.0 * one)
    found = solve(
        network, CurveTable(of, kind, curve_arrays(known), tuple(known)), alpha[None, :], beta[None, :], speed[None, :],
        columns + 1.0, room, rows, rows, columns, coupled=False,
    )  # fmt: skip
    return found.mass_flow[0] / REFERENCE_DENSITY, found.pressure[0]


def straight(points: tuple[np.ndarray, np.ndarray]) -> FallingCurve:
    return straight_curve(tuple(zip(*points, strict=True)), 1.0, REFERENCE_DENSITY)


def smooth(points: tuple[np.ndarray, np.ndarray]) -> FallingCurve:
    pairs = tuple((float(q), float(p)) for q, p in zip(*points, strict=True))
    return falling_curve(FanCurve(pairs, 1.0, REFERENCE_DENSITY))


def own_flows(peer: Peer, points: int = 0) -> np.ndarray:
    """Flows of a random network [m3/s]: with straight curves and tabulated losses, or with smooth laws."""
    make = straight if points else smooth
    curves = {peer.passive + k: (FAN, make(fan)) for k, fan in enumerate(peer.fans)}
    loss = np.zeros((2, len(peer.ends)))
    if points:
        curves |= {b: (TABLE, straight(peer.table(b, points))) for b in range(peer.passive)}
    else:
        loss[:, : peer.passive] = peer.alpha[: peer.passive], peer.beta[: peer.passive]
    speed = np.concatenate([np.zeros(peer.passive), peer.speeds])
    return volume_flows(peer.ends, peer.zones, *loss, curves, speed)[0]


def six_nodes(points: int = 0) -> tuple[np.ndarray, np.ndarray]:
    ends, loss = np.array([row[:2] for row in SIX_NODES]), np.array([row[2:4] for row in SIX_NODES]).T
    curves = {8: (FAN, straight(SIX_NODES_FAN)), 9: (FAN, straight(SIX_NODES_FAN))}
    if points:
        q = np.linspace(0.0, SIX_NODES_TABLE_END_M3S, points)
        curves |= {b: (TABLE, straight((q, loss[0, b] * q + loss[1, b] * q**2))) for b in range(8)}
        loss = np.zeros((2, 10))
    return volume_flows(ends, 5, *loss, curves, np.array([0.0] * 8 + [1.0, 0.8]))


def test_six_nodes_have_the_flows_of_scipy_on_the_smooth_laws():
    flow, pressure = six_nodes()
    assert flow * 1e3 == pytest.approx([row[4] for row in SIX_NODES], abs=5.1e-9)
    assert pressure == pytest.approx(SIX_NODES_PRESSURE_PA, abs=5.1e-9)


def test_six_nodes_have_the_flows_of_epanet_on_its_tables():
    assert six_nodes(points=501)[0] * 1e3 == pytest.approx([row[5] for row in SIX_NODES], abs=5.1e-9)


def hardy_cross_round(flows: np.ndarray) -> np.ndarray:
    """Correct each loop by its error over the sum of 2 K |Q|, all from the same flows."""
    corrected = flows.copy()
    for loop in LOOPS:
        error = sum(sign * PIPES_K[k] * flows[k] * abs(flows[k]) for k, sign in loop)
        slope = sum(2 * PIPES_K[k] * abs(flows[k]) for k, _ in loop)
        for k, sign in loop:
            corrected[k] -= sign * error / slope
    return corrected


# R package 'hydraulics' (Maurer), reference manual, example of hardycross.
def test_hardy_cross_of_the_test_is_that_of_the_manual():
    assert hardy_cross_round(FIRST_FLOWS) == pytest.approx(AFTER_ONE_ROUND, abs=5.1e-9)


def test_pipe_network_has_the_flows_that_hardy_cross_ends_with():
    flows = FIRST_FLOWS
    for _ in range(80):
        flows = hardy_cross_round(flows)
    # 0.5 m3/s enter at C, by a fan too steep to give anything else, and leave at B (outside)
    steep = straight((np.array([0.5 - 1e-6, 0.5 + 1e-6]), np.array([1e6, -1e6])))
    names = {"C": 0, "A": 1, "D": 2, "B": 3}
    ends = np.array([(names[i], names[j]) for i, j in ("CA", "AD", "DC", "AB", "BD", "BC")])
    loss = np.append(PIPES_K, 0.0)
    speed = np.array([0.0] * 5 + [1.0])
    found, _ = volume_flows(ends, 3, np.zeros(6), loss, {5: (FAN, steep)}, speed)
    assert found == pytest.approx([*flows, 0.5], abs=1e-9)


# The same network solved by scipy's root and by EPANET's general-purpose valves, to the digits that they share.
def test_pipe_network_has_the_converged_flows():
    flows = FIRST_FLOWS
    for _ in range(80):
        flows = hardy_cross_round(flows)
    assert flows == pytest.approx((0.27466906, 0.06418224, -0.22533094, 0.21048682, -0.28951318), abs=1e-8)


def within_reach_of_epanet(peer: Peer, flows: np.ndarray) -> bool:
    """Whether all fans blow forward, within their points, and all losses are within their tables."""
    own = flows[peer.passive :] / peer.speeds
    ends = np.array([flow[-1] for flow, _ in peer.fans])
    return bool(np.all((own > 0.02 * ends) & (own < 0.98 * ends)) and np.abs(flows).max() < TABLE_END_M3S)


def test_random_networks_have_the_flows_of_epanet_on_the_same_tables(tmp_path):
    rng, differences, tried = np.random.default_rng(1), [], 0
    while len(differences) < COUNT:
        peer = random_peer(rng)
        flows = own_flows(peer, POINTS)
        if within_reach_of_epanet(peer, flows):
            theirs, tried = epanet_flows(peer, POINTS, tmp_path), tried + 1
            if theirs is not None:
                differences.append(np.abs(theirs - flows).max() / np.abs(flows).max())
    assert max(differences) < 1e-6
    # about a quarter has fans in each other's way, on which EPANET itself warns that it did not converge
    assert tried < 1.5 * COUNT


@cache
def smooth_peers() -> tuple[tuple[Peer, np.ndarray], ...]:
    """Random networks whose every loss is beyond the pressure below which the engine's laws are straight."""
    rng, found = np.random.default_rng(2), []
    while len(found) < COUNT:
        peer = random_peer(rng)
        flows = own_flows(peer)
        loss = np.abs(flows) * (peer.alpha + peer.beta * np.abs(flows))
        if loss[: peer.passive].min() > LINEAR_BELOW_PA:
            found.append((peer, flows))
    return tuple(found)


def test_random_networks_have_the_flows_of_scipy_on_the_smooth_laws():
    worst = [np.abs(scipy_flows(peer) - flows).max() / np.abs(flows).max() for peer, flows in smooth_peers()]
    assert len(worst) == COUNT
    assert max(worst) < 1e-6


def test_some_of_them_have_fans_that_are_pushed_back():
    pushed = [peer for peer, flows in smooth_peers() if flows[peer.passive :].min() < -1e-4]
    assert len(pushed) >= 10


def test_mass_balances_within_a_billionth_of_the_throughflow():
    """Where air only goes round inside, what comes in and out is nothing at all."""
    for peer, flows in smooth_peers():
        left = np.zeros(peer.zones + 1)
        np.subtract.at(left, peer.ends[:, 0], flows)
        np.add.at(left, peer.ends[:, 1], flows)
        throughflow = np.abs(flows[(peer.ends == peer.zones).any(axis=1)]).sum() / 2
        assert np.abs(left).max() < 1e-9 * throughflow or throughflow < 1e-15


def test_turning_the_passive_branches_around_turns_their_flows():
    for peer, flows in smooth_peers()[:60]:
        ends = peer.ends.copy()
        ends[: peer.passive] = ends[: peer.passive, ::-1]
        turned = own_flows(Peer(peer.zones, ends, peer.alpha, peer.beta, peer.fans, peer.speeds))
        sign = np.where(np.arange(len(ends)) < peer.passive, -1.0, 1.0)
        assert turned == pytest.approx(sign * flows, abs=1e-12)
