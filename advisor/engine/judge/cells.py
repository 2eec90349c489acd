"""The air of every setting: flows, the path of the air, air at every component, all shared by candidates.

What candidates with the same fans have in common is computed once here. Rows run over scenario, intake step and exhaust
step. Flows take density and buoyancy from a reference heat: the brief's parts, drives of a power class, a nominal
loss of the
supply and the fans. Rows on which a candidate's own heat would move the answer, and rows on which everything rests,
are solved
again with that heat (``swayed`` and ``patched``).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from advisor.engine.airflow.quality import air_paths
from advisor.engine.airflow.response import FAN_FLOW, flow_responses
from advisor.engine.airflow.solver import Ambient, Flows, solve
from advisor.engine.case.case import Case, VariableHeat
from advisor.engine.case.fans import STALL_PENALTY_DB, STALL_WIDENING, FanSet, Movers, SupplyAir, movers
from advisor.engine.case.heat import DRIVES, GRAPHICS, HEAT_ROWS, LOSS, SHARED
from advisor.engine.case.network import WALLS
from advisor.engine.case.settings import Steps
from advisor.engine.case.sound import mount_energy
from advisor.engine.judge.draws import Draws, drawn_state
from advisor.engine.judge.flow_spread import flow_spreads
from advisor.engine.judge.state import State, row_state
from advisor.engine.judge.sway import mark_swayed
from advisor.engine.noise.levels import energy
from advisor.engine.thermal.temperatures import BASES, FIGURES, component_air

_SWAYING = HEAT_ROWS.index(DRIVES), HEAT_ROWS.index(LOSS)  # parameters that differ between candidates


@dataclass(frozen=True)
class Cells:
    """Rows of settings, all with leading axis n = 5 * intake steps * exhaust steps unless some were picked.

    ``figures`` (n, components, FIGURES) and ``rises`` (n, 3, nz) are those of ``thermal.temperatures``; ``quality``
    (n, 6) and
    ``fresh`` (n, nz) those of ``airflow.quality``; ``mount_energy`` (n,
    mounts) sound energy at the seat; ``flow_u`` (n, nb)
    standard uncertainty of each flow [kg/s], ``turn_u`` (n, nb) without what an opening's own size and filter bring,
    which
    never turn its flow; ``still`` (n,) says that nothing runs. ``sway`` (n, 2, components, 3) and
    ``flow_sway`` (n, 2): what the logarithms of the drives' heat and of the supply's loss do to the air at every
    component
    [K] per basis, through the flows alone, and to the throughflow (relative). ``flow_shift`` (n, 2, nb): what they
    do to
    every flow [kg/s].
    """

    scenario: np.ndarray
    grid: tuple[int, int]
    steps: tuple[Steps, Steps]
    rpm: np.ndarray
    movers: Movers
    flows: Flows
    figures: np.ndarray
    rises: np.ndarray
    quality: np.ndarray
    fresh: np.ndarray
    mount_energy: np.ndarray
    stalled: np.ndarray
    still: np.ndarray
    flow_u: np.ndarray
    turn_u: np.ndarray
    sway: np.ndarray
    flow_sway: np.ndarray
    flow_shift: np.ndarray


def solve_cells(
    case: Case,
    fans: FanSet,
    supply: SupplyAir,
    heat: VariableHeat,
    rows: np.ndarray | None = None,
    draws: Draws | None = None,
    whose: np.ndarray | None = None,
) -> Cells:
    """Solve the air of a case's fan settings: all of them, or those that ``rows`` name.

    ``heat`` is that of drives and supply which shapes the flows; with ``whose`` it is that of several candidates
    (candidates, 5), and ``whose`` says whose each row is solved with.
    ``draws`` (one per row) moves parameters off their best estimates, for draws through the full solver.
    """
    steps = fans.steps
    grid = len(steps[0]), len(steps[1])
    index = np.arange(5 * grid[0] * grid[1]) if rows is None else rows
    scenario = index // (grid[0] * grid[1])
    at = index // grid[1] % grid[0], index % grid[1]
    rpm = np.hstack([steps[0].rpm[at[0]], steps[1].rpm[at[1]]])
    gear = movers(case, fans, supply)
    state = row_state(case, fans, supply, gear, scenario, rpm)
    still = ~np.any(state.speed > 0, axis=1)
    own = scenario if whose is None else (whose, scenario)
    drives, loss = heat.drives[own], heat.loss[own]
    if draws is not None:
        state, drives, loss = drawn_state(state, drives, loss, gear.parameters, draws)
    return _cells(case, fans, gear, steps, at, scenario, rpm, state, drives, loss, still, draws)


def _cells(
    case: Case, fans: FanSet, gear: Movers, steps: tuple[Steps, Steps], at: tuple[np.ndarray, np.ndarray],
    scenario: np.ndarray, rpm: np.ndarray, state: State, drives: np.ndarray, loss: np.ndarray, still: np.ndarray,
    draws: Draws | None,
) -> Cells:  # fmt: skip
    room = case.room
    ambient = Ambient(
        room.temperature_c[scenario],
        room.density[scenario],
        room.viscosity_ratio[scenario],
        room.heat_capacity[scenario],
    )
    d, s = drives[:, None], loss[:, None]
    heat_zone = state.zone[:, SHARED] + d * state.zone[:, DRIVES] + s * state.zone[:, LOSS]
    heat_branch = state.branch[:, SHARED] + d * state.branch[:, DRIVES] + s * state.branch[:, LOSS]
    flows = solve(
        case.plumbing.network, gear.curves, state.filter_alpha, state.own + state.filter_beta, state.speed, state.scale,
        ambient, state.wall, heat_zone, heat_branch,
    )  # fmt: skip
    stalled = _stalled(gear, flows, state, ambient)
    # a draw has nothing left to propagate
    sigma = row_sigma(gear, stalled) if draws is None else np.zeros((len(scenario), 0))
    responses = np.zeros((len(scenario), sigma.shape[1], flows.mass_flow.shape[1]))
    if draws is None:
        _respond(case, gear, state, ambient, drives, loss, heat_zone, heat_branch, flows, responses)
    figures, rises, sway = _components(case, state, gear, ambient, flows, responses, sigma, draws)
    passing = d * state.branch[:, DRIVES] + s * state.branch[:, LOSS] + state.branch[:, GRAPHICS]
    quality, fresh = _paths(case, flows, heat_zone, passing)
    return Cells(
        scenario, (len(steps[0]), len(steps[1])), steps, rpm, gear, flows, figures, rises, quality, fresh,
        _sound(case, fans, steps, at, scenario, stalled), stalled, still,
        *_flow_uncertainties(gear, responses, sigma), sway, _flow_sway(case, flows, responses, quality[:, 0]),
        responses[:, list(_SWAYING[: responses.shape[1]])],
    )  # fmt: skip


def row_sigma(gear: Movers, stalled: np.ndarray) -> np.ndarray:
    """Standard uncertainty (n, np) of every parameter's logarithm; a fan that stalls is less certain."""
    sigma = np.tile(gear.parameters.sigma, (len(stalled), 1))
    for k, (_, _, parameter) in enumerate(gear.by_mount):
        sigma[stalled[:, k], parameter] = STALL_WIDENING * gear.parameters.sigma[parameter]
    return sigma


def _flow_uncertainties(gear: Movers, responses: np.ndarray, sigma: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Standard uncertainty of each flow (n, nb) [kg/s], with and without the opening's own size and filter."""
    foreign = np.ones(responses.shape[1:])
    for mode, (parameter, branch) in zip(gear.parameters.mode, gear.parameters.target, strict=True):
        if mode != FAN_FLOW and len(foreign):
            foreign[parameter, branch] = 0.0
    n, _, nb = responses.shape
    flow_u, turn_u = np.empty((n, nb)), np.empty((n, nb))
    flow_spreads(responses, sigma, foreign, flow_u, turn_u)
    return flow_u, turn_u


def _flow_sway(case: Case, flows: Flows, responses: np.ndarray, throughflow: np.ndarray) -> np.ndarray:
    """Relative change of the inflow (n, 2) with the logarithms of the drives' heat and of the supply's loss.

    Without responses, as in draws, there is none to tell.
    """
    network = case.plumbing.network
    outside = len(network.zones)
    inward = np.where(network.frm == outside, flows.mass_flow > 0, (network.to == outside) & (flows.mass_flow < 0))
    picked = responses[:, list(_SWAYING[: responses.shape[1]])]
    return np.sum(np.abs(picked) * inward[:, None, :], axis=2) / throughflow[:, None]


def swayed(cells: Cells, shared: VariableHeat, own: VariableHeat) -> np.ndarray:
    """Rows on which a candidate's own heat moves its answer by more than the shared air may be off by."""
    return np.flatnonzero(swayed_by_each(cells, shared, VariableHeat(own.drives[None, :], own.loss[None, :]))[0])


def swayed_by_each(cells: Cells, shared: VariableHeat, own: VariableHeat) -> np.ndarray:
    """Which rows (candidates, n) the own heat (candidates, 5) of each of several candidates sways."""
    found = np.empty((len(own.drives), len(cells.scenario)), dtype=np.bool_)
    mark_swayed(
        cells.scenario, cells.still, cells.sway, cells.flow_sway, cells.flow_shift, cells.flows.mass_flow,
        np.stack([shared.drives, shared.loss]), np.stack([own.drives, own.loss], axis=1), found,
    )  # fmt: skip
    return found


_ROW_ARRAYS = ("figures", "rises", "quality", "fresh", "mount_energy", "stalled", "flow_u", "turn_u", "sway",
"flow_sway",
               "flow_shift")  # fmt: skip


def patched(cells: Cells, rows: np.ndarray, own: Cells) -> Cells:
    """Return the cells with ``rows`` replaced by those of ``own``, which was solved for these rows alone."""
    changed = {}
    for name in _ROW_ARRAYS:
        changed[name] = getattr(cells, name).copy()
        changed[name][rows] = getattr(own, name)
    flows = {}
    for name in ("mass_flow", "pressure", "rise"):
        flows[name] = getattr(cells.flows, name).copy()
        flows[name][rows] = getattr(own.flows, name)
    return replace(cells, flows=replace(cells.flows, **flows), **changed)


def _stalled(gear: Movers, flows: Flows, state: State, ambient: Ambient) -> np.ndarray:
    """Which running fans (n, mounts) work left of their stall dip."""
    found = np.zeros((len(state.speed), len(gear.by_mount)), dtype=bool)
    for k, (b, curve, _) in enumerate(gear.by_mount):
        if curve.stall_flow_m3s > 0:
            running = state.speed[:, b] > 0
            own = flows.mass_flow[:, b] / (
                ambient.density * state.scale[:, b] * np.where(running, state.speed[:, b], 1.0)
            )
            found[:, k] = running & (own < curve.stall_flow_m3s)
    return found


def _respond(
    case: Case, gear: Movers, state: State, ambient: Ambient, drives: np.ndarray, loss: np.ndarray,
    heat_zone: np.ndarray, heat_branch: np.ndarray, flows: Flows, out: np.ndarray,
) -> None:  # fmt: skip
    network = case.plumbing.network
    zone, branch = state.zone.copy(), state.branch.copy()
    for row, watts in ((DRIVES, drives), (LOSS, loss)):
        zone[:, row] *= watts[:, None]
        branch[:, row] *= watts[:, None]
    parameters = gear.parameters
    flow_responses(
        network.frm, network.to, gear.curves.kind, gear.curves.of, network.z_zone, network.z_branch, gear.curves.arrays,
        state.own, state.filter_alpha, state.filter_beta, state.speed, state.scale, state.wall, heat_zone, heat_branch,
        ambient.temperature_c, ambient.density, ambient.viscosity_ratio, ambient.heat_capacity,
        flows.mass_flow, flows.rise, parameters.mode, parameters.target, parameters.heat_of, zone, branch, out,
    )  # fmt: skip


def _components(
    case: Case, state: State, gear: Movers, ambient: Ambient, flows: Flows, responses: np.ndarray, sigma: np.ndarray,
    draws: Draws | None,
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:  # fmt: skip
    parts, network = case.components, case.plumbing.network
    n = len(sigma)
    kappa, warming = np.tile(parts.kappa, (n, 1)), np.tile(parts.warming, (n, 1))
    if draws is not None:
        kappa = kappa * np.exp(draws.kappa)
        warming = warming * np.exp(draws.warming)
    figures = np.zeros((n, len(parts.names), FIGURES))
    rises = np.zeros((n, BASES, len(network.zones)))
    sway = np.zeros((n, 2, len(parts.names), BASES))
    known = sigma.shape[1] > 0  # draws come without parameters
    own_heat = parts.own_heat if known else np.full(len(parts.names), -1)
    swaying = np.array(_SWAYING if known else (), dtype=np.int64)
    component_air(
        network.frm, network.to, flows.mass_flow, state.wall, ambient.heat_capacity, ambient.density, state.zone,
        state.branch,
        responses, sigma, gear.parameters.heat_of[: sigma.shape[1]], WALLS, parts.kind, parts.zone, parts.branch,
        kappa, parts.kappa_u,
        parts.fed, warming, parts.warming_u, parts.draught, own_heat, swaying, rises, sway, figures,
    )  # fmt: skip
    return figures, rises, sway


def _paths(case: Case, flows: Flows, heat_zone: np.ndarray, heat_branch: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The path of the air; heat that passing air takes up, fans' own apart, counts where that air should arrive."""
    network = case.plumbing.network
    openings = [network.openings[k] for k in network.opening]
    nz = len(network.zones)
    weight = heat_zone.copy()
    for b in range(len(openings)):
        if network.to[b] < nz:
            weight[:, network.to[b]] += heat_branch[:, b]
    filtered = np.array([o.filter is not None for o in openings])
    two_way = np.array([o.two_way or o.kind == "leak" for o in openings])
    hot = case.heated_branches
    quality, fresh = np.zeros((len(weight), 6)), np.zeros((len(weight), nz))
    air_paths(network.frm, network.to, flows.mass_flow, weight, hot, filtered, two_way, nz, fresh, quality)
    return quality, fresh


def _sound(
    case: Case, fans: FanSet, steps: tuple[Steps, Steps], at: tuple[np.ndarray, np.ndarray], scenario: np.ndarray,
    stalled: np.ndarray,
) -> np.ndarray:  # fmt: skip
    """Sound energy at the seat (n, mounts), louder where a fan stalls; ``at`` are rows' steps of either group."""
    groups = zip((fans.intake, fans.exhaust), steps, at, strict=True)
    by_side = [mount_energy(m, one.rpm, case.paths, case.room.density)[scenario, k] for m, one, k in groups]
    return np.hstack(by_side) * np.where(stalled, energy(STALL_PENALTY_DB), 1.0)
