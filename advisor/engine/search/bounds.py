"""How good the candidates with a set of fans can be at most, from fewer rows and without their uncertainty's far terms.

Only two scenarios are solved: the hot day, and the last one in which the noise target holds. There every limit's
slack is taken
with the part of its uncertainty that needs no flow response, and with what a candidate's own heat could move the air
by. What is
left is never below the true slack, so a score made from it is never below the true score.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine import assumed
from advisor.engine.airflow.elements import Network
from advisor.engine.airflow.solver import curve_arrays
from advisor.engine.case.case import Case, class_heat
from advisor.engine.case.fans import FanSet, blower_speeds
from advisor.engine.case.heat import DRIVES, GRAPHICS, LOSS, SHARED
from advisor.engine.case.sound import mount_energy
from advisor.engine.curves import FallingCurve, falling_curve
from advisor.engine.judge.arrays import limits_c
from advisor.engine.judge.choice import NEVER
from advisor.engine.pipeline import SharedAir
from advisor.engine.scenarios import SCENARIO_TABLE
from advisor.engine.search.bound_kernel import bound
from advisor.engine.search.group import Bench
from advisor.engine.thermal.temperatures import BASES

HOT_DAY = next(k for k, scenario in enumerate(SCENARIO_TABLE) if scenario.code == "hot_day")


@dataclass(frozen=True)
class FanTable:
    """All sets of fans of a case as arrays: curves, and per set and branch curve, scale, speeds, heat and sound by
    step.

    ``curve_of``, ``scale`` (sets, nb); ``grid`` (sets, 2); ``speed``, ``heat`` (sets, 2, steps, nb); ``energy``
    (sets, 2, 5, steps), without what stalling adds.
    """

    curves: list[FallingCurve]
    curve_of: np.ndarray
    scale: np.ndarray
    grid: np.ndarray
    speed: np.ndarray
    heat: np.ndarray
    energy: np.ndarray

    @property
    def least_energy(self) -> np.ndarray:
        """Sound energy (sets, 5) of all fans with either group at its quietest step."""
        beyond = np.arange(self.energy.shape[3]) >= self.grid[:, :, None, None]
        return np.asarray(np.where(beyond, np.inf, self.energy).min(axis=3).sum(axis=1))


def fan_table(case: Case, fan_sets: tuple[FanSet, ...]) -> FanTable:
    """Lay out all sets of fans of a case; a mount's sound is computed once per model."""
    network = case.plumbing.network
    nb, sets = len(network.frm), len(fan_sets)
    curves: list[FallingCurve] = []
    curve_of, scale = np.full((sets, nb), -1, dtype=np.int64), np.ones((sets, nb))
    steps = [one.steps for one in fan_sets]
    most = max(len(group) for pair in steps for group in pair)
    grid = np.array([[len(group) for group in pair] for pair in steps])
    speed, heat = np.zeros((sets, 2, most, nb)), np.zeros((sets, 2, most, nb))
    energy = np.zeros((sets, 2, 5, most))
    known: dict[tuple, np.ndarray] = {}
    for f, one in enumerate(fan_sets):
        for side, mounts in enumerate((one.intake, one.exhaust)):
            rpm = steps[f][side].rpm
            for k, (opening, fan) in enumerate(mounts):
                (b,) = network.branches_of(opening.code)
                curve = falling_curve(fan.curve)
                if not any(curve is other for other in curves):
                    curves.append(curve)
                curve_of[f, b] = next(index for index, other in enumerate(curves) if other is curve)
                scale[f, b] = opening.fan_count
                speed[f, side, : len(rpm), b] = rpm[:, k] / fan.curve.speed_rpm
                heat[f, side, : len(rpm), b] = opening.fan_count * fan.power_w * (rpm[:, k] / fan.max_rpm) ** 3
                key = (opening.code, fan.code, tuple(rpm[:, k]))
                if key not in known:
                    known[key] = mount_energy(((opening, fan),), rpm[:, k : k + 1], case.paths, case.room.density)[
                        :, :, 0
                    ]
                energy[f, side, :, : len(rpm)] += known[key]
    return FanTable(curves, curve_of, scale, grid, speed, heat, energy)


@dataclass(frozen=True)
class BoundInputs:
    """Everything ``_bound`` reads of a case with one shared air, in its order of arguments.

    ``stands_for`` (pairs,) is the row that stands for each pair: its own, or its drive model's with the least loss
    and noise.
    """

    arguments: tuple
    scenarios: tuple[int, ...]
    stands_for: np.ndarray


def bound_inputs(bench: Bench, shared: SharedAir, table: FanTable, pairs: np.ndarray, merge: bool) -> BoundInputs:
    """Collect what bounding needs of a case, one shared air and the pairs of drive and supply that have it.

    With ``merge`` all pairs of a drive model are bounded together.
    """
    case, arrays = bench.case, bench.arrays
    network, parts, room = case.plumbing.network, case.components, case.room
    heat = class_heat(case, shared.drives)
    (supply_branch,) = network.branches_of(case.enclosure.supply_opening)
    curves = [*table.curves, falling_curve(shared.supply.curve)]
    base_curve = np.full(len(network.frm), -1, dtype=np.int64)
    base_curve[supply_branch] = len(curves) - 1
    base_speed, base_scale = np.zeros((5, len(network.frm))), np.ones(len(network.frm))
    base_speed[:, supply_branch] = shared.supply.speeds
    for b in network.branches_of("graphics_blower"):
        blower = case.named.graphics
        curves.append(falling_curve((blower and blower.curve) or assumed.BLOWER_CURVE))
        base_curve[b], base_scale[b] = len(curves) - 1, case.brief.graphics_count
        base_speed[:, b] = blower_speeds()
    own = case.own.copy()
    own[:, supply_branch] += shared.supply.path_beta
    d, s = heat.drives[:, None], heat.loss[:, None]
    base_zone = case.heat.zone[:, SHARED] + d * case.heat.zone[:, DRIVES] + s * case.heat.zone[:, LOSS]
    base_branch = case.heat.branch[:, SHARED] + d * case.heat.branch[:, DRIVES] + s * case.heat.branch[:, LOSS]
    openings = [network.openings[k] for k in network.opening]
    models, model_of = np.unique(bench.model_of[pairs], return_inverse=True)
    loads = [bench.loads[p] for p in pairs]
    drives_w, loss_w, rest = (
        np.array([getattr(one, name) for one in loads]) for name in ("drives_w", "loss_w", "rest_energy")
    )
    off_d = np.where(heat.drives > 0, np.abs(drives_w / np.where(heat.drives > 0, heat.drives, 1.0) - 1.0), 0.0)
    off_s = np.abs(loss_w / heat.loss - 1.0)
    stands_for = model_of if merge else np.arange(len(pairs))
    if merge:
        drives_w, off_d = drives_w[_firsts(model_of)], off_d[_firsts(model_of)]
        loss_w, rest = _by_model(np.minimum, loss_w, model_of), _by_model(np.minimum, rest, model_of)
        off_s, model_of = _by_model(np.maximum, off_s, model_of), np.arange(len(models))
    noisy = np.flatnonzero(arrays.noisy)
    scenarios = (HOT_DAY, int(noisy[-1])) if len(noisy) else (HOT_DAY,)
    c = bench.coolers
    full = np.arange(len(c.count)), c.count - 1
    base = (
        network.frm, network.to, network.z_zone, network.z_branch, curve_arrays(curves), base_curve, base_scale,
        base_speed,
        case.filter_alpha, own + case.filter_beta, network.wall_w_k, base_zone, base_branch,
    )  # fmt: skip
    paths = (
        _heat_corners(case, drives_w, loss_w), case.heated_branches, case.heat.zone[:, :BASES].copy(),
        case.heat.branch[:, :BASES].copy(),
        np.array([o.filter is not None for o in openings]), np.array([o.two_way or o.kind == "leak" for o in openings]),
    )  # fmt: skip
    placed = (
        parts.kind, parts.zone, parts.branch, parts.kappa, parts.kappa_u, parts.fed, parts.warming, parts.warming_u,
        parts.draught, parts.limit, parts.cross_m2,
    )  # fmt: skip
    judge = (arrays.graphics, arrays.cooled, arrays.z, arrays.target, arrays.noisy, bench.weights)
    standing = (
        bench.least_rises[models], model_of, drives_w, loss_w, off_d, off_s,
        np.array([limits_c(case, bench.drives[models[m]]) for m in model_of]), rest,
    )  # fmt: skip
    cooling = (
        c.figures, c.flow_exponent, c.speed_log[full], c.speed_factor[full], c.quietest.min(axis=0),
        arrays.processor_watts,
        arrays.processor, arrays.processor_room,
    )  # fmt: skip
    air = (room.temperature_c, room.density, room.viscosity_ratio, room.heat_capacity)
    arguments = (base, paths, air, placed, judge, standing, cooling)
    return BoundInputs(arguments, scenarios, stands_for)


def _heat_corners(case: Case, drives_w: np.ndarray, loss_w: np.ndarray) -> np.ndarray:
    """Heat (5, 4, nz) [W] of drives, supply and graphics blower where it weighs fresh shares, least and most."""
    network = case.plumbing.network
    corners = []
    for d in (drives_w.min(axis=0), drives_w.max(axis=0)):
        for s in (loss_w.min(axis=0), loss_w.max(axis=0)):
            zone = d[:, None] * case.heat.zone[:, DRIVES] + s[:, None] * case.heat.zone[:, LOSS]
            passing = d[:, None] * case.heat.branch[:, DRIVES] + s[:, None] * case.heat.branch[:, LOSS]
            corners.append(_weights(network, zone, passing + case.heat.branch[:, GRAPHICS]))
    return np.stack(corners, axis=1)


def _weights(network: Network, zone: np.ndarray, passing: np.ndarray) -> np.ndarray:
    """Add to zones (5, nz) the heat of branches (5, nb) that is meant to arrive there."""
    found = zone.copy()
    for b, z in enumerate(network.to):
        if z < found.shape[1]:
            found[:, z] += passing[:, b]
    return found


def _firsts(model_of: np.ndarray) -> np.ndarray:
    return np.unique(model_of, return_index=True)[1]


def _by_model(how: np.ufunc, values: np.ndarray, model_of: np.ndarray) -> np.ndarray:
    """Reduce rows of pairs to one a model."""
    return np.array([how.reduce(values[model_of == m]) for m in range(model_of.max() + 1)])


@dataclass(frozen=True)
class Bound:
    """Bounds of one set of fans (pairs, coolers): the best weighted logarithm of noise, headroom and airflow, the
    least miss.

    ``solved`` counts the networks it took.
    """

    best: np.ndarray
    miss: np.ndarray
    solved: int


def bound_fan_set(
    inputs: BoundInputs, table: FanTable, f: int, wanted: np.ndarray, misses: bool, louder: float
) -> Bound:
    """Bound what set ``f`` of a case allows the ``wanted`` (pairs,); the others get ``NEVER``.

    Only settings of at most ``louder`` times the target's energy are solved: 1 for scores, more for the least
    ``misses``.
    """
    coolers, rows = inputs.arguments[-1][0].shape[0], len(inputs.arguments[-2][1])
    best, miss = np.full((rows, coolers), NEVER), np.full((rows, coolers), np.inf)
    chosen = np.zeros(rows, dtype=bool)
    chosen[inputs.stands_for[wanted]] = True
    fans = (table.curve_of[f], table.scale[f], table.speed[f], table.heat[f])
    solved = bound(
        misses,
        louder,
        np.array(inputs.scenarios),
        chosen,
        table.grid[f],
        table.energy[f],
        fans,
        *inputs.arguments,
        best,
        miss,
    )
    return Bound(best[inputs.stands_for], miss[inputs.stands_for], int(solved))
