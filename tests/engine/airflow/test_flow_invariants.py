"""What must hold of flows in any network, sought by hypothesis over random ones with air at one temperature."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.constants import LINEAR_BELOW_PA
from tests.engine.airflow.plain_network import PlainNetwork
from tests.engine.airflow.side_by_side import random_networks, solve_all

seeds = st.integers(0, 2**32 - 1)


def network(seed: int) -> tuple[PlainNetwork, np.random.Generator]:
    rng = np.random.default_rng(seed)
    return random_networks(rng, 1)[0], rng


def changed(net: PlainNetwork, which: list[int], **factors: float) -> PlainNetwork:
    """The network with figures of some branches multiplied."""
    branches = list(net.branches)
    for b in which:
        branches[b] = replace(branches[b], **{name: getattr(branches[b], name) * f for name, f in factors.items()})
    return replace(net, branches=tuple(branches))


def flow(net: PlainNetwork) -> np.ndarray:
    return solve_all([net]).mass_flow[0]


def slack(flows: np.ndarray) -> float:
    """Rounding that a comparison of flows allows."""
    return 1e-9 * np.abs(flows).max() + 1e-15


@given(seeds, st.floats(1.01, 100.0))
def test_more_loss_in_a_branch_never_raises_its_flow(seed, more):
    net, rng = network(seed)
    b = int(rng.integers(len(net.branches)))
    before, after = flow(net), flow(changed(net, [b], alpha=more, beta=more))
    assert abs(after[b]) <= abs(before[b]) + slack(before)


@given(seeds, st.floats(1.01, 3.0))
def test_a_faster_fan_never_blows_less(seed, faster):
    net, rng = network(seed)
    running = [b for b, branch in enumerate(net.branches) if branch.speed > 0]
    if running:
        b = int(rng.choice(running))
        before, after = flow(net), flow(changed(net, [b], speed=faster))
        assert after[b] >= before[b] - slack(before)


def smooth(net: PlainNetwork, flows: np.ndarray) -> bool:
    """Whether every loss is well beyond those at which laws turn straight."""
    pairs = zip(net.branches, np.abs(flows), strict=True)
    return min(m * (b.alpha + b.beta * m / net.density) / net.density for b, m in pairs) > 10 * LINEAR_BELOW_PA


def quadratic(seed: int) -> PlainNetwork | None:
    """A random network whose losses are all quadratic and all beyond the straight stretch, if this seed has one."""
    net, _ = network(seed)
    net = changed(net, list(range(len(net.branches))), alpha=0.0)
    return net if smooth(net, flow(net)) else None


# Affinity laws (AMCA 201): flow with speed, pressure with speed squared.
@given(seeds, st.floats(0.7, 1.6))
def test_flows_go_with_speed_where_every_loss_is_quadratic(seed, faster):
    net = quadratic(seed)
    if net is not None:
        one, other = solve_all([net]), solve_all([changed(net, list(range(len(net.branches))), speed=faster)])
        if smooth(net, other.mass_flow[0]):
            assert other.mass_flow == pytest.approx(faster * one.mass_flow, rel=1e-9, abs=1e-12)
            assert other.pressure == pytest.approx(faster**2 * one.pressure, rel=1e-9, abs=1e-9)


# Fan laws: pressure with density, volume flow unchanged by it.
@given(seeds, st.floats(0.6, 1.1))
def test_volume_flows_do_not_depend_on_density_where_every_loss_is_quadratic(seed, thinner):
    net = quadratic(seed)
    if net is not None:
        thin = replace(net, density=thinner * net.density)
        one, other = solve_all([net]), solve_all([thin])
        if smooth(thin, other.mass_flow[0]):
            assert other.mass_flow == pytest.approx(thinner * one.mass_flow, rel=1e-9, abs=1e-12)
            assert other.pressure == pytest.approx(thinner * one.pressure, rel=1e-9, abs=1e-9)


@given(seeds, st.floats(0.5, 2.0))
def test_twice_the_fans_in_twice_as_wide_a_network_have_twice_the_flow(seed, wider):
    net, _ = network(seed)
    every = list(range(len(net.branches)))
    wide = changed(changed(net, every, alpha=1 / wider, beta=1 / wider**2), every, scale=wider)
    one, other = solve_all([net]), solve_all([wide])
    assert other.mass_flow == pytest.approx(wider * one.mass_flow, rel=1e-7, abs=1e-10)
    assert other.pressure == pytest.approx(one.pressure, rel=1e-7, abs=1e-9)


@given(seeds)
def test_nothing_moves_where_nothing_drives(seed):
    net, _ = network(seed)
    still = changed(net, list(range(len(net.branches))), speed=0.0)
    assert np.abs(flow(still)).max() < 1e-14
