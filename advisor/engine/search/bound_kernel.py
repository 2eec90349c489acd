"""The compiled part of ``bounds``: a set of fans solved in two scenarios, and what its candidates can reach at most."""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from advisor.engine.airflow.kernel import FAN, PASSIVE, solve_batch
from advisor.engine.airflow.quality import FRESH, HEATED_W, PARTS, SCORE, air_paths, heat_weighted
from advisor.engine.desirability import AIRFLOW_SCORE, HEADROOM_K, NOISE_MARGIN_DB, log_ramp
from advisor.engine.judge.choice import MISS_DB, MISS_K, NEVER, processor_slack
from advisor.engine.judge.slacks import DRIVE, GRAPHICS_HEAT_U, part_temperature
from advisor.engine.search.least_rises import speed_index
from advisor.engine.thermal.parts import DISCREPANCY_VARIANCE, DRIVE_FILM_U_REL, air_moments, air_rise, passing_factor
from advisor.engine.thermal.temperatures import AIR, BASES, CAGE, FIGURES, PASSING, component_air

# Columns of what is known of each row of drive and supply.
HOT, PATH, JOINT, QUIET, OFF_HOT, OFF_LOUD = range(6)
# What a candidate's own heat may add to the airflow score through the flows alone: they differ by a few per cent at
# most.
PATH_ALLOWANCE = 0.02
ROUNDING = 1.0 + 1e-9  # of sound energies that are summed in another order
# A drive that is hotter than its class breathes more, by draught at most as the cube root of its heat, and its own
# rise falls
# with the root of its air's speed.
DRAUGHT_SHARE = 1.0 / 6.0


@njit(cache=True, nogil=True, error_model="numpy")
def settings_of(s, grid, energy, rest, quietest, noisy, target):
    """Steps (n, 2) of a scenario's settings that could be quiet enough."""
    rows = np.empty((grid[0] * grid[1], 2), dtype=np.int64)
    n = 0
    for i in range(grid[0]):
        for e in range(grid[1]):
            if noisy and energy[0, s, i] + energy[1, s, e] + rest + quietest > target:
                continue
            rows[n, 0], rows[n, 1] = i, e
            n += 1
    return rows[:n]


@njit(cache=True, nogil=True, error_model="numpy")
def _flows(s, setting, fans, base, room):
    """Flows (n, nb) of settings of one scenario, with the shared heat."""
    frm, to, z_zone, z_branch, curves, base_curve, base_scale, base_speed, alpha, beta, wall, zone, branch = base
    curve_of, scale, speed, heat = fans
    t_amb, density, mu_ratio, cp = room
    n, nb, nz = setting.shape[0], frm.shape[0], z_zone.shape[0] - 1
    kinds, curve = np.empty(nb, dtype=np.int64), np.empty(nb, dtype=np.int64)
    for b in range(nb):
        curve[b] = curve_of[b] if curve_of[b] >= 0 else base_curve[b]
        kinds[b] = FAN if curve[b] >= 0 else PASSIVE
    w, sc, hb, al, be = np.empty((n, nb)), np.empty((n, nb)), np.empty((n, nb)), np.empty((n, nb)), np.empty((n, nb))
    wl, hz = np.empty((n, nz)), np.empty((n, nz))
    for k in range(n):
        i, e = setting[k]
        wl[k], hz[k], al[k], be[k] = wall, zone[s], alpha[s], beta[s]
        for b in range(nb):
            w[k, b] = base_speed[s, b] + speed[0, i, b] + speed[1, e, b]
            sc[k, b] = scale[b] if curve_of[b] >= 0 else base_scale[b]
            hb[k, b] = branch[s, b] + heat[0, i, b] + heat[1, e, b]
    m, p, rise, residual, one = np.empty((n, nb)), np.empty((n, nz)), np.empty((n, nz)), np.empty(n), np.ones(n)
    solve_batch(
        frm, to, kinds, curve, z_zone, z_branch, curves, al, be, w, sc, wl, hz, hb, t_amb[s] * one, density[s] * one,
        mu_ratio[s] * one, cp[s] * one, True, m, p, rise, residual,
    )  # fmt: skip
    return m


@njit(cache=True, nogil=True, error_model="numpy")
def _air(s, setting, m, heat, base, paths, room, parts):
    """Air at every component (n, components, FIGURES) with local variances alone, and the airflow score (n,)."""
    frm, to, z_zone, wall = base[0], base[1], base[2], base[10]
    heats, hot, rows_zone, rows_branch, filtered, two_way = paths
    kind, place, branch, kappa, kappa_u, fed, warming, warming_u, draught, limit_of, cross = parts
    n, nb, nz, nc = m.shape[0], m.shape[1], z_zone.shape[0] - 1, kind.shape[0]
    wl, hz, hb = np.empty((n, nz)), np.empty((n, BASES, nz)), np.empty((n, BASES, nb))
    kap, warm, weight = np.empty((n, nc)), np.empty((n, nc)), np.empty((n, nz))
    for k in range(n):
        wl[k], hz[k], hb[k], kap[k], warm[k], weight[k] = (
            wall,
            rows_zone[s],
            rows_branch[s],
            kappa,
            warming,
            rows_zone[s, 0],
        )
        for b in range(nb):
            hb[k, 0, b] += heat[0, setting[k, 0], b] + heat[1, setting[k, 1], b]
    none, one, figures = np.zeros(0, dtype=np.int64), np.ones(n), np.empty((n, nc, FIGURES))
    component_air(
        frm, to, m, wl, room[3][s] * one, room[1][s] * one, hz, hb, np.empty((n, 0, nb)), np.empty((n, 0)), none,
        -1, kind, place,
        branch, kap, kappa_u, fed, warm, warming_u, draught, np.full(nc, -1), none, np.empty((n, BASES, nz)),
        np.empty((n, 2, nc, BASES)), figures,
    )  # fmt: skip
    return figures, _best_paths(frm, to, m, weight, heats[s], two_way, filtered, hot, nz)


@njit(cache=True, nogil=True, error_model="numpy")
def _best_paths(frm, to, m, weight, heats, two_way, filtered, hot, nz):
    """Airflow score (n,) that no candidate's own heat lifts: fresh shares weighted as suits it best, and an
    allowance.
    """
    n, score = m.shape[0], np.empty(m.shape[0])
    quality, fresh, drawn = np.empty((1, 6)), np.empty((1, nz)), np.empty((1, nz))
    # the weighted mean is monotone in each heat, so that its extremes lie at the corners of their ranges
    for k in range(n):
        score[k] = -np.inf
        for corner in range(heats.shape[0]):
            anew = corner == 0
            for z in range(nz):
                heat = weight[k, z] + heats[corner, z]
                anew |= (heat > HEATED_W) != (drawn[0, z] > HEATED_W)
                drawn[0, z] = heat
            if anew:  # else only the weights differ
                air_paths(frm, to, m[k : k + 1], drawn, hot, filtered, two_way, nz, fresh, quality)
            share = heat_weighted(drawn[0], fresh[0])
            score[k] = max(score[k], quality[0, SCORE] + (share - quality[0, FRESH]) / PARTS)
    return score + PATH_ALLOWANCE


@njit(cache=True, nogil=True, error_model="numpy")
def _own_rises(n, s, figures, parts, gpu, cooled, density, at, own, own_var):
    """Own rise and its variance of every component but drives; for drives where their tabulated rise is, in ``at``."""
    kind, limit_of, cross = parts[0], parts[9], parts[10]
    bare, none, sure = np.zeros(FIGURES), np.zeros(3), gpu.copy()
    sure[GRAPHICS_HEAT_U] = 0.0  # its heat moves the air too: that part of the variance is not local
    for k in range(n):
        for c in range(1, kind.shape[0]):
            bare[PASSING] = figures[k, c, PASSING]
            if limit_of[c] != DRIVE:
                own[k, c], own_var[k, c] = part_temperature(
                    bare, c, s, 0.0, 0.0, limit_of, cross, none, sure, cooled, density, 0.0
                )
            else:
                own_var[k, c] = DISCREPANCY_VARIANCE
                if kind[c] == CAGE:
                    at[k, c] = speed_index(bare[PASSING] / cross[c])


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
                air, watts[s], processor[0], processor[1], 0.0, coolers[q, 0],
                coolers[q, 1] * speed_factor[q] * factor, coolers[q, 2], coolers[q, 3], coolers[q, 4], speed_log[q],
                slope,
                decade, room[s], z,
            )  # fmt: skip
            cool[q] = max(cool[q], h)


@njit(cache=True, nogil=True, error_model="numpy")
def _slack(p, k, s, figures, own, own_var, at, limit_of, pairs, t_amb, z):
    """Most slack [K] that row ``k`` leaves the parts but the processor: never below the true one."""
    rises, model_of, drives_w, loss_w, off_d, off_s, limits, _ = pairs
    slack = np.inf
    for c in range(1, limit_of.shape[0]):
        warm = air_rise(figures[k, c], drives_w[p, s], loss_w[p, s])
        rise, var = own[k, c], own_var[k, c]
        if limit_of[c] == DRIVE:
            rise = rises[model_of[p], s, at[k, c]] if at[k, c] >= 0 else 0.0
            var += (DRIVE_FILM_U_REL * rise) ** 2
        var += air_moments(figures[k, c], drives_w[p, s], loss_w[p, s])[0]
        moved = off_d[p, s] * (warm + DRAUGHT_SHARE * rise) + off_s[p, s] * loss_w[p, s] * figures[k, c, AIR + 2]
        slack = min(slack, limits[p, limit_of[c]] - t_amb - warm - rise + moved - z * math.sqrt(max(var, 0.0)))
    return slack


@njit(cache=True, nogil=True, error_model="numpy")
def _take(first, loud, slack, path, noisy, weights, known):
    """Note what one row allows one pair; ``loud`` is its noise over the target [dB]."""
    off = max(-slack / MISS_K, loud / MISS_DB if noisy else -np.inf)
    column = OFF_HOT if first else OFF_LOUD
    known[column] = min(known[column], off)
    if slack < 0.0 or (noisy and loud > 0.0):
        return
    if first:
        known[HOT] = max(known[HOT], slack)
        known[PATH] = max(known[PATH], path)
    if noisy:
        value = weights[0] * log_ramp(-loud, NOISE_MARGIN_DB[0], NOISE_MARGIN_DB[1])
        value += weights[2] * log_ramp(min(known[PATH], path), AIRFLOW_SCORE[0], AIRFLOW_SCORE[1])
        known[QUIET] = max(known[QUIET], value)
        value += weights[1] * log_ramp(min(known[HOT], slack), HEADROOM_K[0], HEADROOM_K[1])
        known[JOINT] = max(known[JOINT], value)


@njit(cache=True, nogil=True, error_model="numpy")
def _conclude(wanted, judged, known, cool, weights, best, miss):
    """Turn what is known of pairs (pairs, 6) and coolers (coolers,) into bounds of candidates."""
    for p in range(wanted.shape[0]):
        if not wanted[p]:
            continue
        for q in range(cool.shape[0]):
            miss[p, q] = max(known[p, OFF_HOT], -cool[q] / MISS_K)
            if judged:
                miss[p, q] = max(miss[p, q], known[p, OFF_LOUD])
            if cool[q] < 0.0 or known[p, HOT] < 0.0:
                continue
            capped = weights[1] * log_ramp(min(cool[q], known[p, HOT]), HEADROOM_K[0], HEADROOM_K[1])
            path = weights[2] * log_ramp(known[p, PATH], AIRFLOW_SCORE[0], AIRFLOW_SCORE[1])
            best[p, q] = min(known[p, JOINT], known[p, QUIET] + capped) if judged else path + capped


@njit(cache=True, nogil=True, error_model="numpy")
def bound(
    misses, louder, scenarios, wanted, grid, energy, fans, base, paths, room, parts, judge, pairs, cooling, best, miss
):  # fmt: skip
    """Bound one set of fans; arguments as ``bounds.bound_inputs`` groups them. Returns how many networks it solved."""
    gpu, cooled, z, target, noisy, weights = judge
    drives_w, loss_w, off_d, rest = pairs[2], pairs[3], pairs[4], pairs[7]
    count, solved, limit_of = wanted.shape[0], 0, parts[9]
    known = np.full((count, 6), NEVER)
    known[:, OFF_HOT:] = np.inf
    cool = np.full(cooling[0].shape[0], -np.inf)
    edge = 10.0 * math.log10(louder) / MISS_DB + ROUNDING - 1.0
    for turn in range(scenarios.shape[0]):
        # scores are capped by the hot day first, misses are larger in the loud one, of which fewer settings are solved
        which = scenarios.shape[0] - 1 - turn if misses else turn
        s, hot = scenarios[which], which == 0
        least = np.inf
        for p in range(count):
            if wanted[p]:
                least = min(least, rest[p, s])
        setting = settings_of(s, grid, energy, least, cooling[4][s], noisy[s], target * louder * ROUNDING)
        n = setting.shape[0]
        if n == 0:
            return solved
        solved += n
        m = _flows(s, setting, fans, base, room)
        figures, path = _air(s, setting, m, fans[3], base, paths, room, parts)
        at, own, own_var = (
            np.zeros(figures.shape[:2], dtype=np.int64),
            np.zeros(figures.shape[:2]),
            np.zeros(figures.shape[:2]),
        )
        _own_rises(n, s, figures, parts, gpu, cooled, room[1][s], at, own, own_var)
        if hot:
            _processor_best(figures, s, n, wanted, drives_w, loss_w, off_d, room[1][s], cooling, z, cool)
        for p in range(count):
            if not wanted[p]:
                continue
            for k in range(n):
                slack = _slack(p, k, s, figures, own, own_var, at, limit_of, pairs, room[0][s], z)
                level = energy[0, s, setting[k, 0]] + energy[1, s, setting[k, 1]] + rest[p, s] + cooling[4][s]
                loud = 10.0 * math.log10(max(level, 1e-30) / target) if noisy[s] else 0.0
                _take(hot, loud, slack, path[k], noisy[s], weights, known[p])
        if not misses and known[:, HOT].max() < 0.0:
            return solved
        if misses and known[:, OFF_HOT if hot else OFF_LOUD].min() > edge:
            return solved
    _conclude(wanted, scenarios.shape[0] > 1, known, cool, weights, best, miss)
    return solved
