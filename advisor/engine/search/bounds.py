"""How good the candidates with a set of fans can be at most, from fewer rows and without their uncertainty's far terms.

Only two scenarios are solved: the hot day, and the loudest one in which the noise target holds. There every limit's slack is taken
with the part of its uncertainty that needs no flow response, and with what a candidate's own heat could move the air by. What is
left is never below the true slack, so a score made from it is never below the true score.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numba import njit

from advisor.engine import assumed
from advisor.engine.airflow.kernel import FAN, PASSIVE, solve_batch
from advisor.engine.airflow.quality import air_paths
from advisor.engine.airflow.solver import curve_arrays
from advisor.engine.case.case import Case, class_heat
from advisor.engine.case.fans import FanSet, blower_speeds
from advisor.engine.case.heat import DRIVES, GRAPHICS, LOSS, SHARED
from advisor.engine.case.sound import mount_energy
from advisor.engine.curves import FallingCurve, falling_curve
from advisor.engine.desirability import AIRFLOW_SCORE, HEADROOM_K, NOISE_MARGIN_DB, log_ramp
from advisor.engine.inputs import Drive
from advisor.engine.judge.arrays import CaseArrays, drive_arrays, limits_c
from advisor.engine.judge.choice import MISS_DB, MISS_K, NEVER, processor_slack
from advisor.engine.judge.slacks import DRIVE, DRIVE_EMISSIVITY, DRIVE_VIEW, DRIVE_WARMER_K, part_temperature
from advisor.engine.pipeline import SharedAir
from advisor.engine.scenarios import SCENARIO_TABLE
from advisor.engine.search.group import Bench
from advisor.engine.thermal.convection import drive_rise_and_slopes, radiation_film
from advisor.engine.thermal.parts import DISCREPANCY_VARIANCE, DRIVE_FILM_U_REL, air_moments, air_rise, passing_factor
from advisor.engine.thermal.temperatures import AIR, BASES, CAGE, FIGURES, PASSING, component_air

# Gap speeds at which drives' rises are tabulated [m/s], each 2.5 % above the last, from 1 cm/s to beyond 5 m/s.
LEAST_SPEED, SPEED_RATIO, SPEEDS = 0.01, 1.025, 256
HOT_DAY = next(k for k, scenario in enumerate(SCENARIO_TABLE) if scenario.code == "hot_day")


@dataclass(frozen=True)
class FanTable:
    """All sets of fans of a case as arrays: curves, and per set and branch curve, scale, speeds, heat and sound by step.

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


def fan_table(case: Case, fan_sets: tuple[FanSet, ...]) -> FanTable:
    """Lay out all sets of fans of a case; a mount's sound is computed once per model."""
    network = case.plumbing.network
    nb, sets = len(network.frm), len(fan_sets)
    curves: list[FallingCurve] = []
    curve_of, scale = np.full((sets, nb), -1, dtype=np.int64), np.ones((sets, nb))
    steps = [one.steps() for one in fan_sets]
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
                    known[key] = mount_energy(((opening, fan),), rpm[:, k : k + 1], case.paths, case.room.density)[:, :, 0]
                energy[f, side, :, : len(rpm)] += known[key]
    return FanTable(curves, curve_of, scale, grid, speed, heat, energy)


@dataclass(frozen=True)
class BoundInputs:
    """Everything ``_bound`` reads of a case with one shared air, in its order of arguments.

    ``stands_for`` (pairs,) is the row that stands for each pair: its own, or its drive model's with the least loss and noise.
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
    passing = d * case.heat.branch[:, DRIVES] + s * case.heat.branch[:, LOSS] + case.heat.branch[:, GRAPHICS]
    base_branch = case.heat.branch[:, SHARED] + d * case.heat.branch[:, DRIVES] + s * case.heat.branch[:, LOSS]
    openings = [network.openings[k] for k in network.opening]
    models, model_of = np.unique(bench.model_of[pairs], return_inverse=True)
    drives = tuple(bench.drives[m] for m in models)
    loads = [bench.loads[p] for p in pairs]
    drives_w, loss_w, rest = (np.array([getattr(one, name) for one in loads]) for name in ("drives_w", "loss_w", "rest_energy"))
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
    arguments = (
        network.frm, network.to, network.z_zone, network.z_branch, curve_arrays(curves), base_curve, base_scale, base_speed,
        own, case.filter_alpha, own + case.filter_beta, network.wall_w_k, base_zone, base_branch, passing,
        case.heat.zone[:, :BASES].copy(), case.heat.branch[:, :BASES].copy(),
        room.temperature_c, room.density, room.viscosity_ratio, room.heat_capacity,
        np.array([o.filter is not None for o in openings]), np.array([o.two_way or o.kind == "leak" for o in openings]),
        (parts.kind, parts.zone, parts.branch, parts.kappa, parts.kappa_u, parts.fed, parts.warming, parts.warming_u,
         parts.draught, parts.limit, parts.cross_m2),
        (arrays.graphics, arrays.cooled, arrays.film, arrays.heat_u, arrays.z, arrays.target, arrays.noisy, bench.weights),
        (least_rises(arrays, drives), model_of, drives_w, loss_w, off_d, off_s,
         np.array([limits_c(case, drives[m]) for m in model_of]), rest),
        (c.figures, c.flow_exponent, c.speed_log[full], c.speed_factor[full], c.quietest.min(axis=0), arrays.processor_watts,
         arrays.processor, arrays.processor_room),
    )  # fmt: skip
    return BoundInputs(arguments, scenarios, stands_for)


def _firsts(model_of: np.ndarray) -> np.ndarray:
    return np.unique(model_of, return_index=True)[1]


def _by_model(how: np.ufunc, values: np.ndarray, model_of: np.ndarray) -> np.ndarray:
    """Reduce rows of pairs to one a model."""
    return np.array([how.reduce(values[model_of == m]) for m in range(model_of.max() + 1)])


def least_rises(arrays: CaseArrays, drives: tuple[Drive | None, ...]) -> np.ndarray:
    """Own rises (models, 5, SPEEDS) of drives at rising gap speeds; between two, a drive rises at least as at the faster."""
    shapes = drive_arrays(drives)
    found = np.empty((len(drives), 5, SPEEDS))
    _tabulate_rises(shapes.watts, shapes.surface, shapes.length, shapes.height, arrays.film, found)
    return found


@njit(cache=True, nogil=True, error_model="numpy")
def _tabulate_rises(watts, surface, length, height, film, out):
    for v in range(out.shape[0]):
        for s in range(5):
            t, rho, mu, lam, pr = film[s, 0], film[s, 1], film[s, 2], film[s, 3], film[s, 4]
            h = radiation_film(t + DRIVE_WARMER_K, DRIVE_EMISSIVITY, DRIVE_VIEW)
            for k in range(SPEEDS):
                speed = LEAST_SPEED * SPEED_RATIO**k
                out[v, s, k] = drive_rise_and_slopes(
                    watts[v, s], surface[v], speed, length[v], height[v], t, rho, mu, lam, pr, h
                )[0]


@njit(cache=True, nogil=True, error_model="numpy")
def _speed_index(speed):
    """Index of the next faster tabulated speed, -1 beyond the fastest."""
    if speed <= LEAST_SPEED:
        return 0
    k = int(math.ceil(math.log(speed / LEAST_SPEED) / math.log(SPEED_RATIO)))
    return k if k < SPEEDS else -1


@dataclass(frozen=True)
class Bound:
    """Bounds of one set of fans (pairs, coolers): the best weighted logarithm of noise, headroom and airflow, the least miss.

    ``solved`` counts the networks it took.
    """

    best: np.ndarray
    miss: np.ndarray
    solved: int


def bound_fan_set(inputs: BoundInputs, table: FanTable, f: int, wanted: np.ndarray, misses: bool = False) -> Bound:
    """Bound what set ``f`` of a case allows the ``wanted`` (pairs,); the others get ``NEVER``.

    With ``misses`` settings that are too loud are solved too, as the least miss needs.
    """
    coolers, rows = inputs.arguments[-1][0].shape[0], len(inputs.arguments[-2][1])
    best, miss = np.full((rows, coolers), NEVER), np.full((rows, coolers), np.inf)
    chosen = np.zeros(rows, dtype=bool)
    chosen[inputs.stands_for[wanted]] = True
    solved = _bound(
        misses, np.array(inputs.scenarios), chosen, table.curve_of[f], table.scale[f], table.grid[f], table.speed[f],
        table.heat[f], table.energy[f], *inputs.arguments, best, miss,
    )  # fmt: skip
    return Bound(best[inputs.stands_for], miss[inputs.stands_for], int(solved))


@njit(cache=True, nogil=True, error_model="numpy")
def _rows(s, grid, energy, rest, quietest, noisy, target, rows):
    """Settings of a scenario that could be quiet enough; returns how many."""
    n = 0
    for i in range(grid[0]):
        for e in range(grid[1]):
            if noisy and energy[0, s, i] + energy[1, s, e] + rest + quietest > target:
                continue
            rows[n, 0], rows[n, 1] = i, e
            n += 1
    return n


@njit(cache=True, nogil=True, error_model="numpy")
def _bound(
    misses, scenarios, wanted, curve_of, scale, grid, speed, heat, energy,
    frm, to, z_zone, z_branch, curves, base_curve, base_scale, base_speed, own, alpha, beta, wall, base_zone, base_branch,
    passing, rows_zone, rows_branch, t_amb, density, mu_ratio, cp, filtered, two_way, parts, judge, pairs, cooling, out, out_miss,
):  # fmt: skip
    kind, zone, branch, kappa, kappa_u, fed, warming, warming_u, draught, limit_of, cross = parts
    gpu, cooled, film, heat_u, z, target, noisy, weights = judge
    rises, model_of, drives_w, loss_w, off_d, off_s, limits, rest = pairs
    count, coolers = wanted.shape[0], cooling[0].shape[0]
    nb, nz, nc = frm.shape[0], z_zone.shape[0] - 1, kind.shape[0]
    kinds, curve = np.empty(nb, dtype=np.int64), np.empty(nb, dtype=np.int64)
    for b in range(nb):
        curve[b] = curve_of[b] if curve_of[b] >= 0 else base_curve[b]
        kinds[b] = FAN if curve[b] >= 0 else PASSIVE
    least_rest = np.empty(5)
    for s in range(5):
        least_rest[s] = np.inf
        for p in range(count):
            if wanted[p]:
                least_rest[s] = min(least_rest[s], rest[p, s])
    hot, best_path = np.full(count, -np.inf), np.full(count, -np.inf)
    cool = np.full(coolers, -np.inf)
    joint, quiet = np.full(count, NEVER), np.full(count, NEVER)
    off_hot, off_loud = np.full(count, np.inf), np.full(count, np.inf)
    solved = 0
    for turn in range(scenarios.shape[0]):
        s = scenarios[turn]
        setting = np.empty((grid[0] * grid[1], 2), dtype=np.int64)
        n = _rows(s, grid, energy, least_rest[s], cooling[4][s], noisy[s] and not misses, target, setting)
        if n == 0:
            return solved
        solved += n
        m, p_, rise, residual = np.empty((n, nb)), np.empty((n, nz)), np.empty((n, nz)), np.empty(n)
        w, sc, hb = np.empty((n, nb)), np.empty((n, nb)), np.empty((n, nb))
        for k in range(n):
            i, e = setting[k]
            for b in range(nb):
                w[k, b] = base_speed[s, b] + speed[0, i, b] + speed[1, e, b]
                sc[k, b] = scale[b] if curve_of[b] >= 0 else base_scale[b]
                hb[k, b] = base_branch[s, b] + heat[0, i, b] + heat[1, e, b]
        one = np.ones(n)
        wl = np.empty((n, nz))
        al, be, hz = np.empty((n, nb)), np.empty((n, nb)), np.empty((n, nz))
        for k in range(n):
            wl[k], al[k], be[k], hz[k] = wall, alpha[s], beta[s], base_zone[s]
        solve_batch(
            frm, to, kinds, curve, z_zone, z_branch, curves, al, be, w, sc, wl, hz, hb, t_amb[s] * one, density[s] * one,
            mu_ratio[s] * one, cp[s] * one, True, m, p_, rise, residual,
        )  # fmt: skip
        figures = np.empty((n, nc, FIGURES))
        _local_air(n, s, frm, to, m, wl, cp[s] * one, density[s] * one, rows_zone[s], rows_branch[s], heat, setting, parts, figures)
        quality, fresh = np.empty((n, 6)), np.empty((n, nz))
        weight = hz.copy()
        hot_branch = np.zeros(nb, dtype=np.bool_)
        for b in range(nb):
            hot_branch[b] = passing[s, b] > 1.0
            if to[b] < nz:
                weight[:, to[b]] += passing[s, b]
        air_paths(frm, to, m, weight, hot_branch, filtered, two_way, nz, fresh, quality)
        at = np.zeros((n, nc), dtype=np.int64)
        own, own_var = np.zeros((n, nc)), np.zeros((n, nc))
        _own_rises(n, s, figures, parts, gpu, cooled, density[s], heat_u, at, own, own_var)
        if turn == 0:
            _processor_best(figures, s, n, wanted, drives_w, loss_w, off_d, density[s], cooling, z, cool)
        for p in range(count):
            if not wanted[p]:
                continue
            for k in range(n):
                slack = np.inf
                for c in range(1, nc):
                    warm = air_rise(figures[k, c], drives_w[p, s], loss_w[p, s])
                    rise, var = own[k, c], own_var[k, c]
                    if limit_of[c] == DRIVE:
                        rise = rises[model_of[p], s, at[k, c]] if at[k, c] >= 0 else 0.0
                        var += (DRIVE_FILM_U_REL * rise) ** 2
                    var += air_moments(figures[k, c], drives_w[p, s], loss_w[p, s])[0]
                    moved = off_d[p, s] * warm + off_s[p, s] * loss_w[p, s] * figures[k, c, AIR + 2]
                    slack = min(slack, limits[p, limit_of[c]] - t_amb[s] - warm - rise + moved - z * math.sqrt(max(var, 0.0)))
                level = energy[0, s, setting[k, 0]] + energy[1, s, setting[k, 1]] + rest[p, s] + cooling[4][s]
                loud = 10.0 * math.log10(max(level, 1e-30) / target) if noisy[s] else -np.inf
                off = max(-slack / MISS_K, loud / MISS_DB)
                if turn == 0:
                    off_hot[p] = min(off_hot[p], off)
                else:
                    off_loud[p] = min(off_loud[p], off)
                if slack < 0.0:
                    continue
                if turn == 0:
                    hot[p] = max(hot[p], slack)
                    best_path[p] = max(best_path[p], quality[k, 5])
                if noisy[s]:
                    if level > target:
                        continue
                    value = weights[0] * log_ramp(-loud, NOISE_MARGIN_DB[0], NOISE_MARGIN_DB[1])
                    value += weights[2] * log_ramp(min(best_path[p], quality[k, 5]), AIRFLOW_SCORE[0], AIRFLOW_SCORE[1])
                    quiet[p] = max(quiet[p], value)
                    value += weights[1] * log_ramp(min(hot[p], slack), HEADROOM_K[0], HEADROOM_K[1])
                    joint[p] = max(joint[p], value)
        if not misses and hot.max() < 0.0:
            return solved
    judged = scenarios.shape[0] > 1
    for p in range(count):
        if not wanted[p]:
            continue
        for q in range(coolers):
            out_miss[p, q] = max(off_hot[p], -cool[q] / MISS_K)
            if judged:
                out_miss[p, q] = max(out_miss[p, q], off_loud[p])
            if cool[q] < 0.0 or hot[p] < 0.0:
                continue
            capped = weights[1] * log_ramp(min(cool[q], hot[p]), HEADROOM_K[0], HEADROOM_K[1])
            path = weights[2] * log_ramp(best_path[p], AIRFLOW_SCORE[0], AIRFLOW_SCORE[1])
            out[p, q] = min(joint[p], quiet[p] + capped) if judged else path + capped
    return solved


@njit(cache=True, nogil=True, error_model="numpy")
def _own_rises(n, s, figures, parts, gpu, cooled, density, heat_u, at, own, own_var):
    """Own rise and its variance of every component but drives; for drives where their tabulated rise is, in ``at``."""
    kind, limit_of, cross = parts[0], parts[9], parts[10]
    bare, none = np.zeros(FIGURES), np.zeros(3)
    for k in range(n):
        for c in range(1, kind.shape[0]):
            bare[PASSING] = figures[k, c, PASSING]
            if limit_of[c] != DRIVE:
                own[k, c], own_var[k, c] = part_temperature(
                    bare, c, s, 0.0, 0.0, limit_of, cross, none, gpu, cooled, density, heat_u
                )
            else:
                own_var[k, c] = DISCREPANCY_VARIANCE
                if kind[c] == CAGE:
                    at[k, c] = _speed_index(bare[PASSING] / cross[c])


@njit(cache=True, nogil=True, error_model="numpy")
def _local_air(n, s, frm, to, m, wall, cp, density, rows_zone, rows_branch, heat, setting, parts, figures):
    """Air at every component with the variance of preheat and warming alone."""
    kind, zone, branch, kappa, kappa_u, fed, warming, warming_u, draught, limit_of, cross = parts
    nb, nz, nc = frm.shape[0], wall.shape[1], kind.shape[0]
    hz, hb = np.empty((n, BASES, nz)), np.empty((n, BASES, nb))
    kap, warm = np.empty((n, nc)), np.empty((n, nc))
    for k in range(n):
        hz[k], hb[k] = rows_zone, rows_branch
        kap[k], warm[k] = kappa, warming
        for b in range(nb):
            hb[k, 0, b] += heat[0, setting[k, 0], b] + heat[1, setting[k, 1], b]
    none = np.zeros(0, dtype=np.int64)
    component_air(
        frm, to, m, wall, cp, density, hz, hb, np.empty((n, 0, nb)), np.empty((n, 0)), none, -1, kind, zone, branch, kap, kappa_u,
        fed, warm, warming_u, draught, np.full(nc, -1), none, np.empty((n, BASES, nz)), np.empty((n, 2, nc, BASES)), figures,
    )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def _processor_best(figures, s, n, wanted, drives_w, loss_w, off_d, density, cooling, z, cool):
    """The most slack of the processor under each cooler at full speed, with the least heat of any wanted pair."""
    coolers, exponents, speed_log, speed_factor, _, watts, processor, room = cooling
    d, loss, off = np.inf, np.inf, 0.0
    for p in range(wanted.shape[0]):
        if wanted[p]:
            d, loss, off = min(d, drives_w[p, s]), min(loss, loss_w[p, s]), max(off, off_d[p, s])
    air = np.zeros(6)
    for k in range(n):
        fig = figures[k, 0]
        rise = air_rise(fig, d, loss)
        air[0] = rise * (1.0 - min(off, 1.0)) if rise > 0.0 else rise
        for q in range(coolers.shape[0]):
            factor, slope, decade = passing_factor(fig[PASSING], exponents[q], density)
            h = processor_slack(
                air, watts[s], processor[0], processor[1], processor[2], coolers[q, 0],
                coolers[q, 1] * speed_factor[q] * factor, coolers[q, 2], coolers[q, 3], coolers[q, 4], speed_log[q], slope,
                decade, room[s], z,
            )  # fmt: skip
            cool[q] = max(cool[q], h)
