"""Propagated standard uncertainties against finite differences and against Monte Carlo through the full solver."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from advisor.engine.judge import cells as cells_module
from advisor.engine.judge.cells import Cells, solve_cells
from advisor.engine.judge.draws import Draws
from advisor.engine.judge.reversals import reversal_warnings
from advisor.engine.pipeline import Build, load_of, shared_air
from advisor.engine.sampling import sample
from advisor.engine.scenarios import SCENARIO_TABLE
from advisor.engine.thermal.parts import air_moments, air_rise
from advisor.engine.thermal.temperatures import FLOW_VARIANCE, OWN_FLOW, PASSING
from tests.engine import builds
from tests.engine.builds import brief_of, build_of, fan, fans_of, make_supply, rows_at

STEP = 4  # of the cooler
SLOW, MIDDLE, FULL = 0, 4, -1
ONE_SIGMA = (0.1586552539, 0.8413447461)


def typical(make: str, drives: int = 3) -> Build:
    """An enclosure with typical fans, its drives and a graphics board."""
    box = getattr(builds, make)()
    return build_of(box, brief_of(min(drives, sum(group.count for group in box.bay_groups))))


def at_rest() -> Build:
    """A desk box in which nothing runs but the cooler."""
    box = builds.resting_desk()
    quiet = brief_of(2, processor_watts=45.0, graphics_count=0, graphics_watts=0.0, card_count=0)
    resting = fans_of(box, {}, {0.14: fan(0.14, may_stop=True)})
    return build_of(box, quiet, resting, supply=make_supply(speed_steps=((1.0, 0.0),)))


STEADY = [
    *[(make.__name__, FULL) for make in builds.ENCLOSURES],
    *[(make.__name__, MIDDLE) for make in builds.ENCLOSURES if make is not builds.chimney],
    ("drive_cube", SLOW),
    ("side_intake", SLOW),
    ("fan_wall", SLOW),
    ("resting_desk", SLOW),
]


def spread_over_u(build: Build, step: int, count: int = 5000) -> np.ndarray:
    """Half the central 68 % of the drawn temperatures over the propagated standard uncertainty (5, components).

    Half-width and not standard deviation: multipliers are log-normal, whose long upper tail makes the deviation of the
    drawn temperatures 3 to 17 % larger than that of a normal distribution with the same middle.
    """
    rows = rows_at(build, step, step)
    _, u, _ = builds.temperatures(build, rows, STEP)
    drawn = sample(build, rows, np.full(5, STEP), count, seed=5).temperature_c
    low, high = np.quantile(drawn, ONE_SIGMA, axis=0)
    return (high - low) / 2 / u


@pytest.mark.parametrize(("make", "step"), STEADY)
def test_propagated_uncertainty_agrees_with_monte_carlo(make, step):
    ratio = spread_over_u(typical(make), step)
    assert np.abs(ratio - 1).max() < 0.1, ratio.round(3)


def test_propagated_uncertainty_agrees_with_everything_at_rest():
    build = at_rest()
    _, _, cells = builds.temperatures(build, rows_at(build, 0, 0), STEP)
    assert cells.still[rows_at(build, 0, 0)].all()
    ratio = spread_over_u(build, 0)
    assert np.abs(ratio - 1).max() < 0.1, ratio.round(3)


@pytest.mark.parametrize(
    ("make", "step", "scenario", "turning"),
    [("chimney", SLOW, 3, "deck"), ("mesh_tower", SLOW, 0, "supply")],
)
def test_near_a_flow_reversal_a_warning_says_that_the_interval_fails(make, step, scenario, turning):
    build = typical(make)
    rows = rows_at(build, step, step)
    ratio = spread_over_u(build, step)[scenario]
    assert np.abs(ratio - 1).max() > 0.1
    _, _, cells = builds.temperatures(build, rows, STEP)
    warnings = reversal_warnings(build.case, cells, int(rows[scenario]))
    assert any(f"'{turning}'" in text and "linear interval not reliable" in text for text in warnings), warnings


def test_far_from_reversals_there_is_no_warning():
    build = typical("fan_wall")
    rows = rows_at(build, FULL, FULL)
    _, _, cells = builds.temperatures(build, rows, STEP)
    assert [reversal_warnings(build.case, cells, int(row)) for row in rows] == [()] * len(SCENARIO_TABLE)


# Finite differences: every parameter's effect on the air at every part, term by term.

H = 1e-4


def moved(build: Build, rows: np.ndarray, parameter: int, by: float, count: int) -> Cells:
    """Solve rows with the logarithm of one parameter moved."""
    logs = np.zeros((len(rows), count))
    logs[:, parameter] = by
    none = np.zeros((len(rows), len(build.case.components.names)))
    shared = shared_air(build.case, build.supply, build.drive)
    load = load_of(build.case, build.supply, build.drive)
    return solve_cells(build.case, build.fans, shared.supply, load.heat, rows, Draws(logs, none, none))


def air_and_flow(build: Build, cells: Cells, parameter: str, by: float) -> tuple[np.ndarray, np.ndarray]:
    """Rise of the air and ln(passing flow) at every part (rows, components); own heats move with their parameter."""
    load = load_of(build.case, build.supply, build.drive)
    drives = load.drives_w * (np.exp(by) if parameter == "drives/heat" else 1.0)
    loss = load.loss_w * (np.exp(by) if parameter == "supply/loss" else 1.0)
    air = [[air_rise(f, drives[s], loss[s]) for f in row] for row, s in zip(cells.figures, cells.scenario, strict=True)]
    return np.array(air), np.log(cells.figures[:, :, PASSING])


def central(build: Build, rows: np.ndarray, parameter: str, number: int, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Central differences of air and ln(flow) by the logarithm of a parameter."""
    up, down = (
        air_and_flow(build, moved(build, rows, number, sign * H, count), parameter, sign * H) for sign in (1, -1)
    )
    return tuple((high - low) / (2 * H) for high, low in zip(up, down, strict=True))


def propagated(build: Build, rows: np.ndarray, number: int, count: int, patch: pytest.MonkeyPatch) -> Cells:
    """Solve rows with one parameter of unit uncertainty and no other."""

    def unit(_gear, stalled):
        sigma = np.zeros((len(stalled), count))
        sigma[:, number] = 1.0
        return sigma

    patch.setattr(cells_module, "row_sigma", unit)
    shared = shared_air(build.case, build.supply, build.drive)
    load = load_of(build.case, build.supply, build.drive)
    return solve_cells(build.case, build.fans, shared.supply, load.heat, rows)


@pytest.mark.parametrize("make", [make.__name__ for make in builds.ENCLOSURES])
def test_every_parameter_acts_as_a_perturbed_solution_says(make, monkeypatch):
    whole = typical(make)
    parts = whole.case.components
    sure = replace(parts, kappa_u=0 * parts.kappa_u, warming_u=0 * parts.warming_u)
    build = replace(whole, case=replace(whole.case, components=sure))
    rows = np.concatenate([rows_at(build, step, step) for step in (1, 5)])
    load = load_of(build.case, build.supply, build.drive)
    shared = shared_air(build.case, build.supply, build.drive)
    parameters = solve_cells(build.case, build.fans, shared.supply, load.heat, rows).movers.parameters
    for number, name in enumerate(parameters.names):
        air, flow = central(build, rows, name, number, len(parameters.names))
        cells = propagated(build, rows, number, len(parameters.names), monkeypatch)
        figures, s = cells.figures, cells.scenario
        found = np.array([
            [air_moments(figures[k, c], load.drives_w[s[k]], load.loss_w[s[k]]) for c in range(figures.shape[1])]
            for k in range(len(rows))
        ])  # fmt: skip
        scale, flow_scale = np.abs(air).max() + 1e-3, np.abs(flow).max() + 1e-3
        np.testing.assert_allclose(found[..., 0], air**2, atol=1e-3 * scale**2, rtol=1e-3, err_msg=name)
        np.testing.assert_allclose(found[..., 1], air * flow, atol=1e-3 * scale * flow_scale, rtol=1e-3, err_msg=name)
        np.testing.assert_allclose(
            figures[..., FLOW_VARIANCE], flow**2, atol=1e-3 * flow_scale**2, rtol=1e-3, err_msg=name
        )
        own = parts.own_heat == number
        np.testing.assert_allclose(found[:, own, 2], air[:, own], atol=1e-3 * scale, rtol=1e-3, err_msg=name)
        np.testing.assert_allclose(
            figures[:, own, OWN_FLOW], flow[:, own], atol=1e-3 * flow_scale, rtol=1e-3, err_msg=name
        )
