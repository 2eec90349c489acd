"""Slopes of flows against central differences through the full coupled solve, for whole builds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest

from advisor.engine.airflow.response import flow_responses
from advisor.engine.airflow.solver import Ambient
from advisor.engine.case.fans import movers
from advisor.engine.case.heat import DRIVES, LOSS, SHARED
from advisor.engine.inputs import Enclosure
from advisor.engine.judge.cells import Cells, solve_cells
from advisor.engine.judge.draws import Draws
from advisor.engine.judge.state import row_state
from advisor.engine.pipeline import Build, load_of, shared_air
from tests.engine import builds
from tests.engine.make_parts import make_supply

STEP = 1e-4
# Intake and exhaust step of the fans, and the supply's speed: all at full, slowest with the supply's at rest.
RUNNING = ((8, 8, 1.0), (0, 0, 0.0), (0, 8, 0.6), (8, 0, 0.6))


@dataclass(frozen=True)
class Air:
    """Rows of one build: what solves them anew with parameters moved, their names, flows and slopes (n, np, nb)."""

    build: Build
    rows: np.ndarray
    names: tuple[str, ...]
    flow: np.ndarray
    slopes: np.ndarray

    def moved(self, parameter: int, by: float) -> np.ndarray:
        """Flows (n, nb) [kg/s] once a parameter's logarithm is moved."""
        n, parts = len(self.rows), len(self.build.case.components.names)
        logs = np.zeros((n, len(self.names)))
        logs[:, parameter] = by
        draws = Draws(logs, np.zeros((n, parts)), np.zeros((n, parts)))
        return solved(self.build, self.rows, draws).flows.mass_flow


def solved(build: Build, rows: np.ndarray, draws: Draws | None = None) -> Cells:
    heat = load_of(build.case, build.supply, build.drive).heat
    return solve_cells(
        build.case, build.fans, shared_air(build.case, build.supply, build.drive).supply, heat, rows, draws
    )


def air_of(build: Build, rows: np.ndarray) -> Air:
    """Solve some rows and differentiate them."""
    case, cells = build.case, solved(build, rows)
    supply = shared_air(case, build.supply, build.drive).supply
    gear, s = movers(case, build.fans, supply), cells.scenario
    state, load = row_state(case, build.fans, supply, gear, s, cells.rpm), load_of(case, build.supply, build.drive)
    zone, branch = state.zone.copy(), state.branch.copy()
    for row, watts in ((DRIVES, load.drives_w[s]), (LOSS, load.loss_w[s])):
        zone[:, row] *= watts[:, None]
        branch[:, row] *= watts[:, None]
    heat_zone, heat_branch = (part[:, [SHARED, DRIVES, LOSS]].sum(axis=1) for part in (zone, branch))
    room = case.room
    ambient = Ambient(room.temperature_c[s], room.density[s], room.viscosity_ratio[s], room.heat_capacity[s])
    net, known = case.plumbing.network, gear.parameters
    slopes = np.zeros((len(rows), len(known.names), len(net.frm)))
    flow_responses(
        net.frm, net.to, gear.curves.kind, gear.curves.of, net.z_zone, net.z_branch, gear.curves.arrays, state.own,
        state.filter_alpha, state.filter_beta, state.speed, state.scale, state.wall, heat_zone, heat_branch,
        ambient.temperature_c, ambient.density, ambient.viscosity_ratio, ambient.heat_capacity, cells.flows.mass_flow,
        cells.flows.rise, known.mode, known.target, known.heat_of, zone, branch, slopes,
    )  # fmt: skip
    return Air(build, rows, known.names, cells.flows.mass_flow, slopes)


def worst_difference(air: Air) -> float:
    """Largest difference of slope and central difference, over the largest slope of that parameter or 1 % of all flow.

    Where the steps to either side disagree a law bends within them, and no straight line fits: such rows are left out.
    """
    worst, compared = 0.0, 0
    least = 0.01 * np.abs(air.flow).max(axis=1)
    for q in range(len(air.names)):
        ahead, behind = air.moved(q, STEP) - air.flow, air.flow - air.moved(q, -STEP)
        size = np.maximum(np.abs(air.slopes[:, q]).max(axis=1), least)
        bent = np.abs(ahead - behind).max(axis=1) / STEP > 2e-3 * size
        difference = np.abs((ahead + behind) / (2 * STEP) - air.slopes[:, q]).max(axis=1) / size
        worst, compared = max(worst, float(np.max(difference[~bent], initial=0.0))), compared + int((~bent).sum())
    assert compared > 0.9 * air.slopes.shape[0] * air.slopes.shape[1]
    return worst


def built(make: Callable[[], Enclosure], supply_speed: float, may_stop: bool = False) -> Build:
    box = make()
    drives = min(2, sum(group.count for group in box.bay_groups))
    brief = builds.brief_of(drives, card_count=0, ssd_count=0)
    models = {o.fan_size_m: builds.fan(o.fan_size_m, may_stop=may_stop) for o in box.openings if o.kind == "fan_mount"}
    supply = make_supply(rating_w=900.0, speed_steps=((1.0, supply_speed),))
    return builds.build_of(box, brief, builds.fans_of(box, models, models), supply=supply)


@pytest.mark.parametrize(("intake", "exhaust", "supply_speed"), RUNNING)
@pytest.mark.parametrize("make", builds.ENCLOSURES)
def test_slopes_are_those_of_the_full_solver(make, intake, exhaust, supply_speed):
    build = built(make, supply_speed)
    assert worst_difference(air_of(build, builds.rows_at(build, intake, exhaust))) < 1e-4


@pytest.mark.parametrize("make", builds.ENCLOSURES)
def test_slopes_are_right_with_everything_at_rest(make):
    build = built(make, 0.0, may_stop=True)
    air = air_of(build, builds.rows_at(build, 0, 0))
    assert np.all(solved(build, air.rows).still)
    assert worst_difference(air) < 1e-4
