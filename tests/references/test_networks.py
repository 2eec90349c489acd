"""The network solver against other solvers and a published network."""

import numpy as np
import pytest

from advisor.engine.curves import straight_curve
from tests.references.epanet import epanet_flows
from tests.references.networks import Sketch, ours, scipy_flows, sketch

SEEDS = range(200)

# Six nodes, ten branches: a filter, a bypass, a drive cage, vents, two fans. Flows [L/s] by scipy on the smooth law and
# by the EPANET 2.2 toolkit on 501-point tables over 0 to 50 L/s (computed once with scipy 1.16 and wntr 1.5).
SIX_NODES = Sketch(
    5,
    (
        (-1, 0, 120.0, 9.0e3), (0, 3, 80.0, 4.0e4), (1, 2, 150.0, 2.5e4), (1, 3, 60.0, 6.0e4), (3, 2, 40.0, 3.0e4),
        (3, -1, 200.0, 8.0e4), (2, 4, 30.0, 8.0e3), (2, -1, 100.0, 5.0e4),
    ),
    ((0, 1, 1.0), (4, -1, 0.8)),
)  # fmt: skip
SIX_NODES_SMOOTH = (
    14.83007469, -8.04611257, 13.33515811, 9.54102916, 3.09689592, -1.60197934, 19.87570491, -3.44365088,
    22.87618726, 19.87570491,
)  # fmt: skip
SIX_NODES_PRESSURE = (-3.75898900, 5.50863310, -0.93730166, -0.52570289, -4.69392197)


def test_six_nodes_as_scipy_solves_them():
    flow, pressure = ours(SIX_NODES)
    assert 1e3 * flow == pytest.approx(SIX_NODES_SMOOTH, abs=2e-8)
    assert pressure == pytest.approx(SIX_NODES_PRESSURE, abs=2e-8)


@pytest.mark.parametrize("seed", SEEDS)
def test_random_networks_agree_with_scipy_on_the_smooth_law(seed):
    net = sketch(np.random.default_rng(seed))
    flow, _ = ours(net)
    peer, _ = scipy_flows(net)
    assert np.abs(flow - peer).max() < 1e-6 * np.abs(flow).max()


def test_some_of_them_have_fans_that_are_blown_backwards():
    back = sum(ours(net)[0][len(net.branches) :].min() < 0 for net in (sketch(np.random.default_rng(s)) for s in SEEDS))
    assert back >= 5


@pytest.mark.parametrize("seed", SEEDS)
def test_mass_balances_in_every_zone(seed):
    net = sketch(np.random.default_rng(seed))
    flow, _ = ours(net)
    total = np.zeros(net.zones + 1)
    for (i, j), q in zip(net.ends, flow, strict=True):
        total[i] -= q
        total[j] += q
    inflow = sum(abs(q) for (i, j), q in zip(net.ends, flow, strict=True) if -1 in (i, j)) / 2
    # a few networks have one way out, so that nothing passes through them but what circulates inside
    assert np.abs(total).max() < 1e-9 * max(inflow, 1e-6 * np.abs(flow).max())


@pytest.mark.parametrize("seed", SEEDS)
def test_random_networks_agree_with_epanet_on_the_same_tables(seed, tmp_path):
    """EPANET has no fan that is blown backwards, shows idle links as 1e-6 cfs, and stops some nanolitres off.

    Networks with such fans or links, or with little flow beside that floor, are drawn anew.
    """
    rng = np.random.default_rng(1000 + seed)
    for _ in range(50):
        net = sketch(rng)
        flow, pressure = ours(net, points=501)
        if flow[len(net.branches) :].min() > 1e-4 and np.abs(flow).min() > 1e-6 and np.abs(flow).max() > 0.01:
            break
    else:
        pytest.fail("no network without idle links in 50 draws")
    peer, head = epanet_flows(net, 501, tmp_path)
    assert np.abs(flow - peer).max() < 1e-6 * np.abs(flow).max()
    assert np.abs(pressure - head).max() < 1e-5 * max(1.0, np.abs(pressure).max())


@pytest.mark.parametrize("seed", range(50))
def test_swapping_the_ends_of_passive_branches_swaps_their_signs_alone(seed):
    net = sketch(np.random.default_rng(seed))
    swapped = Sketch(net.zones, tuple((j, i, a, b) for i, j, a, b in net.branches), net.fans)
    flow, pressure = ours(net)
    other, same = ours(swapped)
    passive = len(net.branches)
    scale = np.abs(flow).max()
    assert other[:passive] == pytest.approx(-flow[:passive], abs=1e-9 * scale)
    assert other[passive:] == pytest.approx(flow[passive:], abs=1e-9 * scale)
    assert same == pytest.approx(pressure, abs=1e-7)


def test_hardy_cross_network_converges_to_the_published_loops():
    """Pipes h = K Q^2, K = 200, 2500, 500, 800, 300; 0.5 m3/s in at C and out at B.

    Reference manual of the R package `hydraulics` (Maurer), `hardycross` example; converged values by scipy, a Hardy
    Cross loop and EPANET. A fan drives some flow; losses are quadratic, so that all flows scale with what comes in.
    """
    fan = straight_curve(((0.0, 500.0), (0.5, 0.0)), 1.0, 1.2)
    a, b, c, d = range(4)
    pipes = ((c, a, 0.0, 200.0), (a, d, 0.0, 2500.0), (d, c, 0.0, 500.0), (a, b, 0.0, 800.0), (b, d, 0.0, 300.0))
    flow, _ = ours(Sketch(4, (*pipes, (b, -1, 0.0, 1.0)), ((-1, c, 1.0),)), fan=fan)
    published = (0.27466906, 0.06418224, -0.22533094, 0.21048682, -0.28951318)
    assert 0.5 / flow[-1] * flow[:5] == pytest.approx(published, abs=1e-7)
