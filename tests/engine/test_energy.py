"""Heat is neither lost nor made, no air is colder than what it comes from, shared air is near each build's own."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.engine.case.heat import DRIVES, LOSS, SHARED
from advisor.engine.judge.cells import Cells, solve_cells
from advisor.engine.judge.reversals import unsure_branches
from advisor.engine.pipeline import Build, Load, load_of, own_air, shared_air, solve_air
from advisor.engine.thermal.temperatures import AIR, CAGE
from tests.engine import builds
from tests.engine.builds import brief_of, build_of, make_drive, make_supply, rows_at, temperatures

BLEND_KG_S = 1e-4  # METHODS.md: a heated passage shares its heat with both sides where its flow is about to turn
BOXES = [make.__name__ for make in builds.ENCLOSURES]


def typical(make: str, blower: bool = False, **parts) -> Build:
    box = getattr(builds, make)()
    places = sum(group.count for group in box.bay_groups)
    board = {"graphics_airflow": "blower"} if blower else {}
    return build_of(box, brief_of(min(3, places), **board), **parts)


def all_settings(build: Build) -> tuple[Cells, Load]:
    shared = shared_air(build.case, build.supply, build.drive)
    load = load_of(build.case, build.supply, build.drive)
    return own_air(build.case, build.fans, shared, solve_air(build.case, build.fans, shared), load), load


def fan_watts(build: Build, cells: Cells) -> np.ndarray:
    """Power of the case fans on every branch (n, nb) [W], by the fan laws."""
    network = build.case.plumbing.network
    found = np.zeros(cells.flows.mass_flow.shape)
    for k, (mount, fan) in enumerate(build.fans.mounts):
        (branch,) = network.branches_of(mount.code)
        found[:, branch] = mount.fan_count * fan.power_w * (cells.rpm[:, k] / fan.max_rpm) ** 3
    return found


def carried_out(build: Build, cells: Cells, load: Load) -> np.ndarray:
    """Heat (n,) [W] that leaves with the air and through the walls, and what passages release outside."""
    network, s = build.case.plumbing.network, cells.scenario
    drives, loss = load.drives_w[s][:, None], load.loss_w[s][:, None]
    zones = cells.rises[:, 0] + drives * cells.rises[:, 1] + loss * cells.rises[:, 2]
    heats = build.case.heat.branch[s]
    passing = heats[:, SHARED] + drives * heats[:, DRIVES] + loss * heats[:, LOSS] + fan_watts(build, cells)
    out = zones @ network.wall_w_k
    outside = len(network.zones)
    for b, (start, end) in enumerate(zip(network.frm, network.to, strict=True)):
        flow = cells.flows.mass_flow[:, b]
        ahead = 0.5 * (1 + flow / np.hypot(flow, BLEND_KG_S))
        cp = build.case.room.heat_capacity[s]
        if end == outside:
            out += cp * np.maximum(flow, 0) * zones[:, start] + ahead * passing[:, b]
        if start == outside:
            out += cp * np.maximum(-flow, 0) * zones[:, end] + (1 - ahead) * passing[:, b]
    return out


@pytest.mark.parametrize("make", BOXES)
@pytest.mark.parametrize("blower", [False, True])
def test_heat_carried_out_equals_heat_put_in(make, blower):
    build = typical(make, blower)
    cells, load = all_settings(build)
    put_in = build.case.heat.steady_w[cells.scenario] + (load.drives_w + load.loss_w)[cells.scenario]
    put_in = put_in + fan_watts(build, cells).sum(axis=1)
    np.testing.assert_allclose(carried_out(build, cells, load), put_in, rtol=1e-9)


@pytest.mark.parametrize("make", BOXES)
def test_flows_balance_in_every_zone(make):
    build = typical(make)
    cells, _ = all_settings(build)
    network, flow = build.case.plumbing.network, cells.flows.mass_flow
    for z in range(len(network.zones)):
        left = flow[:, network.to == z].sum(axis=1) - flow[:, network.frm == z].sum(axis=1)
        assert np.all(np.abs(left) < 1e-9 * cells.quality[:, 0])


def coldest_arriving(build: Build, cells: Cells, load: Load) -> np.ndarray:
    """Rise (n, components) [K] of the coldest air that reaches each component."""
    network, parts, s = build.case.plumbing.network, build.case.components, cells.scenario
    drives, loss = load.drives_w[s][:, None], load.loss_w[s][:, None]
    zones = cells.rises[:, 0] + drives * cells.rises[:, 1] + loss * cells.rises[:, 2]
    rises = np.hstack([zones, np.zeros((len(s), 1))])
    flow = cells.flows.mass_flow
    up = np.where(flow >= 0, network.frm, network.to)
    down = np.where(flow >= 0, network.to, network.frm)
    arriving = np.take_along_axis(rises, up, axis=1)
    found = np.empty((len(s), len(parts.names)))
    for c in range(len(parts.names)):
        if parts.kind[c] == CAGE:
            ends = rises[:, [network.frm[parts.branch[c]], network.to[parts.branch[c]]]]
            found[:, c] = ends.min(axis=1)
        else:
            found[:, c] = np.where(down == parts.zone[c], arriving, np.inf).min(axis=1)
            found[:, c] = np.minimum(found[:, c], zones[:, parts.zone[c]])
    return found


@pytest.mark.parametrize("make", BOXES)
def test_no_local_air_is_colder_than_the_coldest_that_reaches_it(make):
    build = typical(make)
    cells, load = all_settings(build)
    s = cells.scenario
    drives, loss = load.drives_w[s][:, None], load.loss_w[s][:, None]
    air = cells.figures[..., AIR] + drives * cells.figures[..., AIR + 1] + loss * cells.figures[..., AIR + 2]
    assert np.all(air >= coldest_arriving(build, cells, load) - 1e-9)
    assert np.all(air >= -1e-9)


@pytest.mark.parametrize("make", BOXES)
def test_no_component_is_colder_than_its_local_air(make):
    build = typical(make)
    cells, load = all_settings(build)
    for step in (0, 3, -1):
        rows = rows_at(build, step, step)
        hot, _, _ = temperatures(build, rows)
        drives, loss = load.drives_w[:, None], load.loss_w[:, None]
        figures = cells.figures[rows]
        air = figures[..., AIR] + drives * figures[..., AIR + 1] + loss * figures[..., AIR + 2]
        assert np.all(hot > build.case.room.temperature_c[:, None] + air)


PARTS = [
    (
        make_drive(code="cool", idle_w=2.6, seek_w=4.4),
        make_supply(code="good", efficiency=((0.1, 0.93), (0.5, 0.95), (1.0, 0.93))),
    ),
    (
        make_drive(code="hot", idle_w=6.9, seek_w=10.9),
        make_supply(code="bad", efficiency=((0.1, 0.72), (0.5, 0.82), (1.0, 0.78))),
    ),
]


@pytest.mark.parametrize("make", BOXES)
@pytest.mark.parametrize(("drive", "supply"), PARTS, ids=["cool", "hot"])
def test_shared_air_is_within_its_bound_of_the_fully_coupled_one(make, drive, supply):
    """0.2 K and 0.5 % of the flow, for parts far from nominal; where a flow may turn round, a warning says so."""
    build = typical(make, drive=drive, supply=supply)
    cells, load = all_settings(build)
    shared = shared_air(build.case, build.supply, build.drive)
    whole = solve_cells(build.case, build.fans, shared.supply, load.heat)
    s = cells.scenario
    drives, loss = load.drives_w[s][:, None], load.loss_w[s][:, None]
    air, exact = (
        one.figures[..., AIR] + drives * one.figures[..., AIR + 1] + loss * one.figures[..., AIR + 2]
        for one in (cells, whole)
    )
    sure = ~unsure_branches(cells).any(axis=1)
    assert np.abs(air - exact)[sure].max() < 0.2
    assert np.abs(cells.quality[:, 0] / whole.quality[:, 0] - 1)[sure].max() < 0.005
    assert (np.abs(air - exact).max(axis=1) < 0.2).mean() > 0.999


def test_rows_that_a_builds_own_heat_sways_are_solved_with_it():
    build = typical("chimney", drive=PARTS[1][0], supply=PARTS[1][1])
    case, shared = build.case, shared_air(build.case, build.supply, build.drive)
    load = load_of(case, build.supply, build.drive)
    common = solve_air(case, build.fans, shared)
    own = own_air(case, build.fans, shared, common, load)
    whole = solve_cells(case, build.fans, shared.supply, load.heat)
    changed = np.any(own.flows.mass_flow != common.flows.mass_flow, axis=1)
    assert 0 < changed.sum() < len(changed)
    np.testing.assert_allclose(own.flows.mass_flow[changed], whole.flows.mass_flow[changed], rtol=1e-9, atol=1e-12)
