"""Under which requirement a candidate without a setting is counted: the first of the fixed order that none can meet."""

from __future__ import annotations

import numpy as np
from numba import njit

from advisor.engine.judge.choice import SCENARIO_COUNT, processor_slack
from advisor.engine.judge.slacks import LIMIT_COUNT, PROCESSOR

NOISE, NO_COMMON_SETTING = 0, LIMIT_COUNT + 1  # between them each limit, one up


@njit(cache=True, nogil=True, error_model="numpy")
def _quiet_enough(i, e, per, exhaust_steps, at, row_energy, rest, target, noisy, quietest_cooler):
    """Whether the fans at fixed steps (-1 free) meet the noise target in every scenario it holds in."""
    for s in range(SCENARIO_COUNT):
        if not noisy[s]:
            continue
        found = False
        for k in range(s * per, (s + 1) * per):
            r = k - s * per
            if (i >= 0 and r // exhaust_steps != i) or (e >= 0 and r % exhaust_steps != e):
                continue
            if at[k] >= 0 and row_energy[at[k]] + rest[s] + quietest_cooler[s] <= target:
                found = True
                break
        if not found:
            return False
    return True


@njit(cache=True, nogil=True, error_model="numpy")
def _limit_met(i, e, per, exhaust_steps, at, slack, limit):
    """Whether a part but the processor stays below its limit in every scenario at some rows."""
    for s in range(SCENARIO_COUNT):
        found = False
        for k in range((s + 1) * per - 1, s * per - 1, -1):
            r = k - s * per
            if (i >= 0 and r // exhaust_steps != i) or (e >= 0 and r % exhaust_steps != e):
                continue
            if at[k] >= 0 and slack[at[k], limit] >= 0.0:
                found = True
                break
        if not found:
            return False
    return True


@njit(cache=True, nogil=True, error_model="numpy")
def _processor_met(
    i, e, fixed_c, per, exhaust_steps, at, air, watts, processor, cooler, steps, speed_log, speed_factor, factor, slope,
    decade, room, z,
):  # fmt: skip
    """Whether the processor stays below its limit in every scenario; searched from full speed downwards."""
    for s in range(SCENARIO_COUNT):
        found = False
        for k in range((s + 1) * per - 1, s * per - 1, -1):
            r = k - s * per
            if (i >= 0 and r // exhaust_steps != i) or (e >= 0 and r % exhaust_steps != e):
                continue
            row = at[k]
            if row < 0:
                continue
            for c in range(steps - 1, -1, -1):
                if fixed_c >= 0 and c != fixed_c:
                    continue
                h = processor_slack(
                    air[row], watts[s], processor[0], processor[1], processor[2], cooler[0],
                    cooler[1] * speed_factor[c] * factor[row], cooler[2], cooler[3], cooler[4],
                    speed_log[c], slope[row], decade[row], room[s], z,
                )  # fmt: skip
                if h >= 0.0:
                    found = True
                    break
            if found:
                break
        if not found:
            return False
    return True


@njit(cache=True, nogil=True, error_model="numpy")
def first_failures(
    wanted, grid, manual, at, slack, row_energy, rest, target, noisy, air, watts, processor, coolers, cooler_steps,
    cooler_manual, speed_log, speed_factor, cooler_energy, factor, slope, decade, room, z, reason,
):  # fmt: skip
    """Fill ``reason`` (pairs, coolers) for wanted candidates: NOISE, 1 + limit, or NO_COMMON_SETTING.

    Each requirement is asked alone, at the settings that ``at`` has rows for: is there a consistent choice of settings
    that meets it in all scenarios? Groups on a manual switch keep one step in all. Arguments as in ``choice.choose``.
    """
    per = grid[0] * grid[1]
    free_i, free_e = (grid[0] if manual[0] else 1), (grid[1] if manual[1] else 1)
    quietest = np.empty(SCENARIO_COUNT)
    for p in range(wanted.shape[0]):
        others = np.zeros(LIMIT_COUNT, dtype=np.bool_)
        for limit in range(LIMIT_COUNT):
            if limit == PROCESSOR:
                continue
            for combination in range(free_i * free_e):
                i = combination // free_e if manual[0] else -1
                e = combination % free_e if manual[1] else -1
                if _limit_met(i, e, per, grid[1], at[p], slack[p], limit):
                    others[limit] = True
                    break
        for q in range(wanted.shape[1]):
            if not wanted[p, q]:
                continue
            quiet, cool = False, False
            for combination in range(free_i * free_e * (cooler_steps[q] if cooler_manual[q] else 1)):
                c = combination // (free_i * free_e) if cooler_manual[q] else -1
                left = combination % (free_i * free_e)
                i = left // free_e if manual[0] else -1
                e = left % free_e if manual[1] else -1
                if not quiet:
                    for s in range(SCENARIO_COUNT):
                        quietest[s] = cooler_energy[q, s, c] if c >= 0 else cooler_energy[q, s, : cooler_steps[q]].min()
                    quiet = _quiet_enough(i, e, per, grid[1], at[p], row_energy, rest[p], target, noisy, quietest)
                if not cool:
                    cool = _processor_met(
                        i, e, c, per, grid[1], at[p], air[p], watts, processor, coolers[q], cooler_steps[q],
                        speed_log[q], speed_factor[q], factor[q], slope[q], decade[q], room, z,
                    )  # fmt: skip
                if quiet and cool:
                    break
            reason[p, q] = NO_COMMON_SETTING
            for limit in range(LIMIT_COUNT - 1, -1, -1):
                if not (cool if limit == PROCESSOR else others[limit]):
                    reason[p, q] = 1 + limit
            if not quiet:
                reason[p, q] = NOISE
