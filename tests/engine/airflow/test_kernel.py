"""The compiled kernel against the plain network, and what a batch must not change."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.sparse.csgraph import connected_components

from advisor.engine.airflow.solver import Ambient, Flows, solve
from advisor.engine.errors import SolverError
from tests.engine.airflow.plain_network import (
    Branch,
    PlainNetwork,
    heat_rises,
    imbalance,
    rise_error,
    solve_coupled,
    solve_flows,
)
from tests.engine.airflow.side_by_side import figures, layout, random_networks, random_table, solve_all, warmed

SHAPES = range(30)


def same(one: Flows, other: Flows, rows: np.ndarray | slice = slice(None)) -> bool:
    names = ("mass_flow", "pressure", "rise")
    return all(np.array_equal(getattr(one, name), getattr(other, name)[rows]) for name in names)


@pytest.mark.parametrize("seed", SHAPES)
def test_isothermal_flows_are_the_plain_ones(seed):
    nets = random_networks(np.random.default_rng(seed), 3)
    found = solve_all(nets)
    for net, flow, pressure in zip(nets, found.mass_flow, found.pressure, strict=True):
        plain_flow, plain_pressure = solve_flows(net)
        assert flow == pytest.approx(plain_flow, abs=1e-9 * max(np.abs(flow).max(), 1e-5))
        assert pressure == pytest.approx(plain_pressure, abs=1e-8 * max(np.abs(pressure).max(), 1e-3))


@pytest.mark.parametrize("seed", SHAPES)
def test_coupled_flows_are_the_plain_ones_at_the_rises_found(seed):
    nets = random_networks(np.random.default_rng(seed), 3)
    found = solve_all(nets, coupled=True)
    for net, flow, rise in zip(nets, found.mass_flow, found.rise, strict=True):
        plain_flow, _ = solve_flows(warmed(net, rise))
        assert flow == pytest.approx(plain_flow, abs=1e-8 * np.abs(flow).max())


@pytest.mark.parametrize("seed", SHAPES)
def test_rises_are_those_that_the_flows_make(seed):
    nets = random_networks(np.random.default_rng(seed), 5)
    found = solve_all(nets, coupled=True)
    for net, flow, rise in zip(nets, found.mass_flow, found.rise, strict=True):
        assert rise == pytest.approx(heat_rises(net, flow), rel=1e-11, abs=1e-11)


@pytest.mark.parametrize("seed", range(8))
def test_fans_and_heat_together_give_what_a_root_finder_gives(seed):
    (net,) = random_networks(np.random.default_rng(100 + seed), 1, rest_share=0.0)
    flow, _, rise = solve_coupled(net, np.zeros(len(net.z_zone)))
    found = solve_all([net], coupled=True)
    assert np.abs(rise_error(net, rise)).max() < 1e-8
    assert found.rise[0] == pytest.approx(rise, abs=1e-6)
    assert found.mass_flow[0] == pytest.approx(flow, abs=1e-8 * np.abs(flow).max())


@pytest.mark.parametrize("coupled", [False, True])
@pytest.mark.parametrize("seed", SHAPES)
def test_mass_balances_in_every_zone(seed, coupled):
    nets = random_networks(np.random.default_rng(seed), 20)
    for net, flow in zip(nets, solve_all(nets, coupled).mass_flow, strict=True):
        assert np.abs(imbalance(net, flow)).max() < 1e-14 + 1e-13 * np.abs(flow).max()


@pytest.mark.parametrize("seed", SHAPES)
def test_heat_carried_out_equals_heat_put_in(seed):
    nets = random_networks(np.random.default_rng(seed), 20)
    found = solve_all(nets, coupled=True)
    for net, flow, rise in zip(nets, found.mass_flow, found.rise, strict=True):
        put_in = sum(net.heat) + sum(b.heat_w * into_a_zone(b, m) for b, m in zip(net.branches, flow, strict=True))
        out = np.dot(net.wall, rise) + net.heat_capacity * sum(
            max(m, 0.0) * rise[b.frm] * (b.to < 0) if b.frm >= 0 else max(-m, 0.0) * rise[b.to]
            for b, m in zip(net.branches, flow, strict=True)
        )
        assert out == pytest.approx(put_in, rel=1e-9, abs=1e-9)


def into_a_zone(branch: Branch, flow: float) -> float:
    """Share of a branch's heat that does not leave with its air to the outside."""
    forward = 0.5 * (1 + flow / np.hypot(flow, 1e-4))
    return forward * (branch.to >= 0) + (1 - forward) * (branch.frm >= 0)


@pytest.mark.parametrize("coupled", [False, True])
@pytest.mark.parametrize("seed", range(6))
def test_order_and_company_in_a_batch_change_nothing(seed, coupled):
    rng = np.random.default_rng(seed)
    nets = random_networks(rng, 150)
    whole = solve_all(nets, coupled)
    order = rng.permutation(len(nets))
    assert same(solve_all([nets[k] for k in order], coupled), whole, order)
    alone = order[:5]
    assert all(same(solve_all([nets[k]], coupled), whole, np.array([k])) for k in alone)


@pytest.mark.parametrize("coupled", [False, True])
def test_size_of_a_batch_changes_nothing(coupled):
    """However many vectors of lanes it takes, full or not."""
    nets = random_networks(np.random.default_rng(3), 150)
    whole = solve_all(nets, coupled)
    for size in (1, 2, 7, 8, 9, 31, 40, 63, 64, 65, 100, 129, 149):
        assert same(solve_all(nets[:size], coupled), whole, np.arange(size))


@pytest.mark.parametrize("seed", range(6))
def test_numbering_of_branches_changes_rounding_alone(seed):
    rng = np.random.default_rng(seed)
    nets = random_networks(rng, 4)
    order = rng.permutation(len(nets[0].branches))
    mixed = [replace(net, branches=tuple(net.branches[b] for b in order)) for net in nets]
    for coupled in (False, True):
        one, other = solve_all(nets, coupled), solve_all(mixed, coupled)
        assert other.mass_flow == pytest.approx(one.mass_flow[:, order], abs=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_numbering_of_zones_changes_rounding_alone(seed):
    rng = np.random.default_rng(seed)
    nets = random_networks(rng, 4)
    order = rng.permutation(len(nets[0].z_zone))
    one, other = solve_all(nets), solve_all([renumbered(net, order) for net in nets])
    assert other.mass_flow == pytest.approx(one.mass_flow, abs=1e-10)
    assert other.pressure == pytest.approx(one.pressure[:, order], rel=1e-8, abs=1e-8)


def renumbered(net: PlainNetwork, order: np.ndarray) -> PlainNetwork:
    """The same network with zone ``order[k]`` as its k-th."""
    place = {int(zone): k for k, zone in enumerate(order)} | {-1: -1}
    columns = {name: tuple(getattr(net, name)[z] for z in order) for name in ("z_zone", "wall", "heat")}
    return replace(net, branches=tuple(replace(b, frm=place[b.frm], to=place[b.to]) for b in net.branches), **columns)


@pytest.mark.parametrize("seed", range(10))
def test_pressure_along_a_table_is_the_tables(seed):
    rng = np.random.default_rng(seed)
    (net,) = random_networks(rng, 1, rest_share=0.0)
    passive = [b for b, branch in enumerate(net.branches) if branch.curve is None]
    tables = {b: random_table(rng) for b in passive if rng.random() < 0.6}
    bare = replace(
        net, branches=tuple(replace(b, alpha=0.0, beta=0.0) if k in tables else b for k, b in enumerate(net.branches))
    )
    found = solve_all([bare], tables=tables)
    for b, table in tables.items():
        m, branch = found.mass_flow[0, b], bare.branches[b]
        q, (up, down) = abs(m) / bare.density, (branch.frm, branch.to) if m >= 0 else (branch.to, branch.frm)
        p = np.append(found.pressure[0], 0.0)
        assert p[up] - p[down] == pytest.approx(table.pressure(q), rel=1e-8, abs=1e-8)
    assert np.abs(imbalance(bare, found.mass_flow[0])).max() < 1e-15


def test_a_zone_without_a_way_out_is_refused():
    sealed = PlainNetwork((Branch(-1, 0, beta=1e4),), (0.0, 0.0), (1.0, 1.0), (5.0, 5.0))
    with pytest.raises(SolverError, match="did not settle: network 0 of 1 .* check that every zone has a way out"):
        solve_all([sealed], coupled=True)


def test_no_networks_give_no_flows():
    nets = random_networks(np.random.default_rng(0), 1)
    network, curves = layout(nets[0], {})
    alpha, beta, speed, scale, _, *heat = figures(nets)
    nobody = Ambient(*(np.zeros(0) for _ in range(4)))
    none = solve(network, curves, alpha[:0], beta[:0], speed[:0], scale[:0], nobody, *(column[:0] for column in heat))
    assert none.mass_flow.shape == (0, len(nets[0].branches))


def test_random_shapes_reach_every_zone():
    for seed in SHAPES:
        (net,) = random_networks(np.random.default_rng(seed), 1)
        nz = len(net.z_zone)
        graph = np.zeros((nz + 1, nz + 1))
        for b in net.branches:
            graph[b.frm, b.to] = 1
        assert connected_components(graph, directed=False)[0] == 1
