"""The best setting of every candidate on its grid, and why a candidate has none.

A candidate is a pair (drive model, supply) with a cooler. Rows are settings of the case fans, ordered by scenario,
intake
step and exhaust step; the cooler's steps come on top. All levels are energies at the seat: 10 log10 of them is dBA.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from advisor.engine.desirability import AIRFLOW_SCORE, HEADROOM_K, NOISE_MARGIN_DB, log_ramp
from advisor.engine.judge.slacks import LIMIT_COUNT, PROCESSOR
from advisor.engine.thermal.parts import DISCREPANCY_VARIANCE, passing_factor, with_own

TIE = 1e-11  # scores closer than this are equal; the quieter setting wins
SCENARIO_COUNT = 5
# Misses are compared as shares of what a person would call a clear step.
MISS_DB, MISS_K = 3.0, 5.0
NEVER = -1e30


@njit(cache=True, nogil=True, error_model="numpy")
def cooler_rows(passing, exponents, density, scenario, factor, slope, decade):
    """Passing-flow factor, its logarithm's slope and ln(Q/Q_ref) for each cooler and row (coolers, n)."""
    for k in range(passing.shape[0]):
        for q in range(exponents.shape[0]):
            factor[q, k], slope[q, k], decade[q, k] = passing_factor(passing[k], exponents[q], density[scenario[k]])


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def processor_slack(air, watts, inner, inner_u, heat_u, solid, r_air, r_u, n_u, m_u, speed_log, slope, decade, room, z):
    """Slack [K] of the processor for one setting; ``room`` is its limit less the ambient.

    ``r_air`` is R_air at this speed and flow; ``air`` a row of ``slacks.part_slacks``.
    """
    own = watts * (inner + solid + r_air)
    heated = watts * r_air
    a, b = watts * inner * inner_u, (own - watts * inner) * r_u
    c, d = heated * decade * n_u, heated * speed_log * m_u
    variance = with_own(air[1], air[2], air[3], air[4], air[5], heated * slope, own, heat_u)
    variance += a * a + b * b + c * c + d * d + DISCREPANCY_VARIANCE
    return room - air[0] - own - z * math.sqrt(max(variance, 0.0))


@njit(cache=True, nogil=True, error_model="numpy")
def processor_slacks(
    air, scenario, watts, processor, cooler, speed_log, speed_factor, factor, slope, decade, room, z, out
):  # fmt: skip
    """Slack of the processor for every row and cooler step into ``out`` (n, steps)."""
    for k in range(out.shape[0]):
        s = scenario[k]
        for c in range(out.shape[1]):
            out[k, c] = processor_slack(
                air[k], watts[s], processor[0], processor[1], processor[2], cooler[0],
                cooler[1] * speed_factor[c] * factor[k], cooler[2], cooler[3], cooler[4],
                speed_log[c], slope[k], decade[k], room[s], z,
            )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def row_bounds(at, slack, row_energy, rest, target, airflow, noisy, weights, least, bound):
    """Per pair and setting: least slack of the parts but the processor, and the best score any cooler could reach.

    Settings that cannot be met get ``NEVER``. ``noisy`` (5,) says in which scenarios the noise target holds.
    """
    for p in range(at.shape[0]):
        _row_bounds(at[p], slack[p], row_energy, rest[p], target, airflow, noisy, weights, least[p], bound[p])


@njit(cache=True, nogil=True, error_model="numpy")
def _row_bounds(at, slack, row_energy, rest, target, airflow, noisy, weights, least, bound):
    per = at.shape[0] // SCENARIO_COUNT
    for setting in range(at.shape[0]):
        s, k = setting // per, at[setting]
        if k < 0:
            least[setting], bound[setting] = -np.inf, NEVER
            continue
        h = np.inf
        for limit in range(LIMIT_COUNT):
            h = min(h, slack[k, limit])
        least[setting] = h
        score = 0.0
        if h < 0.0:
            score = NEVER
        elif noisy[s]:
            energy = row_energy[k] + rest[s]
            if energy > target:
                score = NEVER
            else:
                margin = 10.0 * math.log10(target / max(energy, 1e-30))
                score = weights[0] * log_ramp(margin, NOISE_MARGIN_DB[0], NOISE_MARGIN_DB[1])
        if score > NEVER:
            score += weights[1] * log_ramp(h, HEADROOM_K[0], HEADROOM_K[1])
            score += weights[2] * log_ramp(airflow[k], AIRFLOW_SCORE[0], AIRFLOW_SCORE[1])
        bound[setting] = score


@njit(cache=True, nogil=True, error_model="numpy")
def _best_in_scenario(
    s, per, exhaust_steps, fixed_i, fixed_e, fixed_c, at, order, bound, least, row_energy, rest, target, airflow, noisy,
    weights, air, watts, processor, cooler, steps, speed_log, speed_factor, cooler_energy, factor, slope, decade,
    room, z, best,
):  # fmt: skip
    """Best (score, row, cooler step, energy, headroom) of one scenario into ``best``; score NEVER where none is met."""
    best[0], best[1], best[2], best[3], best[4] = NEVER, -1.0, -1.0, np.inf, 0.0
    for position in range(per):
        k = order[position]
        if bound[k] <= NEVER or bound[k] < best[0] - TIE:
            return
        if fixed_i >= 0 and (k - s * per) // exhaust_steps != fixed_i:
            continue
        if fixed_e >= 0 and (k - s * per) % exhaust_steps != fixed_e:
            continue
        r = at[k]
        flow_score = weights[2] * log_ramp(airflow[r], AIRFLOW_SCORE[0], AIRFLOW_SCORE[1])
        quieter, cooler_by = np.inf, -1.0  # energy and headroom of a step of this row that can be met
        for c in range(steps):
            if fixed_c >= 0 and c != fixed_c:
                continue
            energy = row_energy[r] + rest[s] + cooler_energy[s, c]
            if (noisy[s] and energy > target) or (energy >= quieter and cooler_by >= least[k]):
                continue
            h = processor_slack(
                air[r], watts[s], processor[0], processor[1], processor[2], cooler[0],
                cooler[1] * speed_factor[c] * factor[r], cooler[2], cooler[3], cooler[4],
                speed_log[c], slope[r], decade[r], room[s], z,
            )  # fmt: skip
            h = min(h, least[k])
            if h < 0.0 or (energy >= quieter and cooler_by >= h):
                continue  # louder and no cooler is never better
            quieter, cooler_by = energy, h
            score = flow_score + weights[1] * log_ramp(h, HEADROOM_K[0], HEADROOM_K[1])
            if noisy[s]:
                margin = 10.0 * math.log10(target / max(energy, 1e-30))
                score += weights[0] * log_ramp(margin, NOISE_MARGIN_DB[0], NOISE_MARGIN_DB[1])
            if score > best[0] + TIE or (score >= best[0] - TIE and energy < best[3]):
                best[0], best[1], best[2], best[3], best[4] = score, k, c, energy, h


@njit(cache=True, nogil=True, error_model="numpy")
def choose(
    wanted, grid, manual, at, order, bound, least, row_energy, rest, target, airflow, noisy, weights, air, watts,
    processor, coolers, cooler_steps, cooler_manual, speed_log, speed_factor, cooler_energy, factor, slope, decade,
    room, z, rows, steps, figures,
):  # fmt: skip
    """Choose the setting of every wanted candidate in every scenario.

    Parameters
    ----------
    wanted
        (pairs, coolers) flags.
    grid, manual
        Intake and exhaust steps; which of the two groups keep one step in all scenarios.
    at
        (pairs, 5 * per): which row each pair's setting is, -1 where it cannot be chosen; ``row_energy``, ``airflow``,
        ``air``, ``factor``, ``slope`` and ``decade`` go by rows.
    order, bound, least
        Per pair from ``row_bounds``: settings of each scenario by falling bound (pairs, 5, per), ...
    coolers
        (coolers, 5): R_solid, R_air, relative uncertainty, uncertainties of both exponents.
    rows, steps, figures
        Out, (pairs, coolers, 5): chosen setting and cooler step, -1 where none is met; (pairs, coolers, 3): least noise
        margin [dB], headroom [K] and airflow score over the scenarios they are judged in.
    """
    per = grid[0] * grid[1]
    best, found = np.empty(5), np.empty((SCENARIO_COUNT, 5))
    for p in range(wanted.shape[0]):
        for q in range(wanted.shape[1]):
            rows[p, q, :] = -1
            if not wanted[p, q]:
                continue
            top, top_energy = NEVER, np.inf
            for i in range(grid[0] if manual[0] else 1):
                for e in range(grid[1] if manual[1] else 1):
                    for c in range(cooler_steps[q] if cooler_manual[q] else 1):
                        margin, headroom, path, total = np.inf, np.inf, np.inf, 0.0
                        met = True
                        for s in range(SCENARIO_COUNT):
                            _best_in_scenario(
                                s, per, grid[1], i if manual[0] else -1, e if manual[1] else -1,
                                c if cooler_manual[q] else -1, at[p], order[p, s], bound[p], least[p], row_energy,
                                rest[p], target, airflow, noisy, weights, air[p], watts, processor, coolers[q],
                                cooler_steps[q], speed_log[q], speed_factor[q], cooler_energy[q], factor[q], slope[q],
                                decade[q], room, z, best,
                            )  # fmt: skip
                            if best[0] <= NEVER:
                                met = False
                                break
                            found[s] = best
                            headroom = min(headroom, best[4])
                            path = min(path, airflow[at[p, int(best[1])]])
                            if noisy[s]:
                                margin = min(margin, 10.0 * math.log10(target / max(best[3], 1e-30)))
                                total += best[3]
                        if not met:
                            continue
                        score = weights[1] * log_ramp(headroom, HEADROOM_K[0], HEADROOM_K[1])
                        score += weights[0] * log_ramp(margin, NOISE_MARGIN_DB[0], NOISE_MARGIN_DB[1])
                        score += weights[2] * log_ramp(path, AIRFLOW_SCORE[0], AIRFLOW_SCORE[1])
                        if score > top + TIE or (score >= top - TIE and total < top_energy):
                            top, top_energy = score, total
                            for s in range(SCENARIO_COUNT):
                                rows[p, q, s], steps[p, q, s] = int(found[s, 1]), int(found[s, 2])
                            figures[p, q, 0], figures[p, q, 1], figures[p, q, 2] = margin, headroom, path


@njit(cache=True, nogil=True, error_model="numpy")
def _offence(s, k, c, slack, row_energy, rest, target, noisy, air, watts, processor, cooler, speed_log,
speed_factor, cooler_energy, factor, slope, decade, room, z):  # fmt: skip
    """How far one setting is off: the worst of noise excess / 3 dB and missing slack / 5 K, 0 or less where all is
    met.
    """
    off = -np.inf
    if noisy[s]:
        energy = row_energy[k] + rest[s] + cooler_energy[s, c]
        off = 10.0 * math.log10(max(energy, 1e-30) / target) / MISS_DB
    h = processor_slack(
        air[k], watts[s], processor[0], processor[1], processor[2], cooler[0],
        cooler[1] * speed_factor[c] * factor[k], cooler[2], cooler[3], cooler[4],
        speed_log[c], slope[k], decade[k], room[s], z,
    )  # fmt: skip
    for limit in range(LIMIT_COUNT):
        if limit != PROCESSOR:
            h = min(h, slack[k, limit])
    return max(off, -h / MISS_K)


@njit(cache=True, nogil=True, error_model="numpy")
def misses(
    wanted, grid, manual, at, slack, row_energy, rest, target, noisy, air, watts, processor, coolers, cooler_steps,
    cooler_manual, speed_log, speed_factor, cooler_energy, factor, slope, decade, room, z, miss, rows, steps,
):  # fmt: skip
    """Least miss (pairs, coolers) of every wanted candidate, and the rows and cooler steps (pairs, coolers, 5) it is
    reached at.

    The least, over consistent settings that ``at`` has rows for, of the worst scenario's ``_offence``. Arguments as in
    ``choose``.
    """
    per = grid[0] * grid[1]
    free_i, free_e = (grid[0] if manual[0] else 1), (grid[1] if manual[1] else 1)
    spot = np.empty((SCENARIO_COUNT, 2), dtype=np.int64)
    for p in range(wanted.shape[0]):
        for q in range(wanted.shape[1]):
            if not wanted[p, q]:
                continue
            miss[p, q] = np.inf
            for combination in range(free_i * free_e * (cooler_steps[q] if cooler_manual[q] else 1)):
                fixed_c = combination // (free_i * free_e) if cooler_manual[q] else -1
                left = combination % (free_i * free_e)
                i, e = (left // free_e if manual[0] else -1), (left % free_e if manual[1] else -1)
                worst = -np.inf
                for s in range(SCENARIO_COUNT):
                    nearest = np.inf
                    for k in range(s * per, (s + 1) * per):
                        r = k - s * per
                        if (i >= 0 and r // grid[1] != i) or (e >= 0 and r % grid[1] != e):
                            continue
                        if at[p, k] < 0:
                            continue
                        for c in range(cooler_steps[q]):
                            if fixed_c >= 0 and c != fixed_c:
                                continue
                            off = _offence(
                                s, at[p, k], c, slack[p], row_energy, rest[p], target, noisy, air[p], watts, processor,
                                coolers[q],
                                speed_log[q], speed_factor[q], cooler_energy[q], factor[q], slope[q], decade[q],
                                room, z,
                            )  # fmt: skip
                            if off < nearest:
                                nearest = off
                                spot[s, 0], spot[s, 1] = k, c
                    worst = max(worst, nearest)
                    if worst >= miss[p, q]:
                        break
                if worst < miss[p, q]:
                    miss[p, q] = worst
                    for s in range(SCENARIO_COUNT):
                        rows[p, q, s], steps[p, q, s] = spot[s, 0], spot[s, 1]
