"""Small dense linear algebra for ``LANES`` networks side by side (last axis: lane), as ``kernel`` needs it."""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from advisor.engine.balance import BLEND_FLOW

# No value here is ever NaN; saying so lets comparisons run on whole vectors. Sums keep their order.
FINITE = {"nnan", "nsz", "contract"}
LANES = 64
# Rounds of zone temperatures come in cycles: some that go a share of the way, then secant steps.
CYCLE_ROUNDS, SHARE_ROUNDS = 40, 20
LEAST_SHARE, BOLD_SHARE, FINER = 0.15, 0.05, 0.2
SECANT_START = 0.1
LONGEST_STEP_K = 20.0


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def factor_and_solve(nz, nb, frm, to, m, f, g, a, x):
    """Assemble the conductance matrix, factor it (L D L^T) and solve for the pressure corrections ``x``.

    ``f`` is the pressure left over on each branch and ``g`` the inverse slope of its law.
    """
    for i in range(nz):
        for lane in range(LANES):
            x[i, lane] = 0.0
        for j in range(i + 1):
            for lane in range(LANES):
                a[i, j, lane] = 0.0
    for b in range(nb):
        i, j = frm[b], to[b]
        if i < nz:
            for lane in range(LANES):
                a[i, i, lane] += g[b, lane]
                x[i, lane] -= m[b, lane] + g[b, lane] * f[b, lane]
        if j < nz:
            for lane in range(LANES):
                a[j, j, lane] += g[b, lane]
                x[j, lane] += m[b, lane] + g[b, lane] * f[b, lane]
        if i < nz and j < nz:
            row, column = max(i, j), min(i, j)
            for lane in range(LANES):
                a[row, column, lane] -= g[b, lane]
    for j in range(nz):
        for i in range(j):
            for lane in range(LANES):
                a[j, j, lane] -= a[j, i, lane] * a[j, i, lane] * a[i, i, lane]
            for k in range(j + 1, nz):
                for lane in range(LANES):
                    a[k, j, lane] -= a[k, i, lane] * a[j, i, lane] * a[i, i, lane]
        for lane in range(LANES):
            a[j, j, lane] = 1.0 / a[j, j, lane]
    for i in range(nz):
        for k in range(i):
            for lane in range(LANES):
                x[i, lane] -= a[i, k, lane] * x[k, lane]
        for lane in range(LANES):
            x[i, lane] *= a[i, i, lane]
    for i in range(nz - 1, -1, -1):
        for k in range(i + 1, nz):
            for lane in range(LANES):
                x[i, lane] -= a[k, i, lane] * x[k, lane] * a[i, i, lane]


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def heat_rises(nz, nb, frm, to, m, wall, cp, heat_zone, heat_branch, a, rise):
    """Solve the upwind heat balance of every zone for its rise over ambient [K].

    ``heat_branch`` [W] is released into the air that passes a branch and arrives downstream.
    """
    for i in range(nz):
        for j in range(nz):
            for lane in range(LANES):
                a[i, j, lane] = 0.0
        for lane in range(LANES):
            a[i, i, lane] = wall[i, lane]
            rise[i, lane] = heat_zone[i, lane]
    for b in range(nb):
        i, j = frm[b], to[b]
        for lane in range(LANES):
            flow = m[b, lane]
            forward, backward = max(flow, 0.0) * cp[lane], max(-flow, 0.0) * cp[lane]
            share = 0.5 * (1.0 + flow / math.sqrt(flow * flow + BLEND_FLOW * BLEND_FLOW))
            if j < nz:
                a[j, j, lane] += forward
                rise[j, lane] += share * heat_branch[b, lane]
            if i < nz:
                a[i, i, lane] += backward
                rise[i, lane] += (1.0 - share) * heat_branch[b, lane]
            if i < nz and j < nz:
                a[j, i, lane] -= forward
                a[i, j, lane] -= backward
    _eliminate(nz, a, rise)


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _eliminate(nz, a, x):
    """Gauss elimination in place; rows are diagonally dominant, so no pivoting is needed."""
    for k in range(nz):
        for lane in range(LANES):
            a[k, k, lane] = 1.0 / a[k, k, lane]
        for i in range(k + 1, nz):
            for lane in range(LANES):
                a[i, k, lane] *= a[k, k, lane]
                x[i, lane] -= a[i, k, lane] * x[k, lane]
            for j in range(k + 1, nz):
                for lane in range(LANES):
                    a[i, j, lane] -= a[i, k, lane] * a[k, j, lane]
    for i in range(nz - 1, -1, -1):
        for j in range(i + 1, nz):
            for lane in range(LANES):
                x[i, lane] -= a[i, j, lane] * x[j, lane]
        for lane in range(LANES):
            x[i, lane] *= a[i, i, lane]


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def relax_rises(nz, turn, rise, new, relax, last, off, step, secant, tolerance, open_, flow_tolerance, rise_tolerance):
    """Move open lanes towards their new rises and close those that have settled; return whether any is open.

    Rounds that go a share of the way alternate with secant steps (Broyden's good method): where hot air turns the flow
    that carries the heat, no one share settles. ``relax``, ``off`` and ``step`` (nz) are a lane's shares, last distance
    and last step [K]; ``secant`` (nz, nz) maps distance to step.
    """
    any_open = False
    cycle, phase = turn // CYCLE_ROUNDS, turn % CYCLE_ROUNDS
    row, turned = np.empty(nz), np.empty(nz)
    for lane in range(LANES):
        if not open_[lane]:
            continue
        change = 0.0
        for i in range(nz):
            change = max(change, abs(new[i, lane] - rise[i, lane]))
        if change < rise_tolerance and tolerance[lane] <= flow_tolerance:
            open_[lane] = False
            continue
        any_open = True
        tolerance[lane] = flow_tolerance
        if phase < SHARE_ROUNDS:
            fresh, slow = phase == 0 and cycle > 0, change > 0.5 * last[lane]
            _share_step(nz, lane, cycle, fresh, slow, rise, new, relax, off, step)
            if change >= 1e-3:
                tolerance[lane] = min(1e-4, 1e-5 * change)
        else:
            _secant_step(nz, lane, phase == SHARE_ROUNDS, rise, new, relax, off, step, secant, row, turned)
        last[lane] = change
        for i in range(nz):
            off[i, lane] = new[i, lane] - rise[i, lane]
            rise[i, lane] += step[i, lane]
    return any_open


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _share_step(nz, lane, cycle, fresh, slow, rise, new, relax, off, step):
    """Put one lane's step, a share of every zone's distance, into ``step``.

    A share falls where the distance turned back and grows where it did not. Every other cycle may go further than the
    distance: near a fold, where two ways of the air nearly meet, rises creep.
    """
    bold = cycle % 2 == 1
    least = BOLD_SHARE if bold else LEAST_SHARE * FINER ** (cycle // 2)
    for i in range(nz):
        ahead = new[i, lane] - rise[i, lane]
        if fresh:
            relax[i, lane] = least
        elif slow:
            relax[i, lane] = max(relax[i, lane] * (0.6 if ahead * off[i, lane] < 0.0 else 1.5), least)
            if not bold:
                relax[i, lane] = min(relax[i, lane], 1.0)
        step[i, lane] = min(max(relax[i, lane] * ahead, -LONGEST_STEP_K), LONGEST_STEP_K)


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _secant_step(nz, lane, fresh, rise, new, relax, off, step, secant, row, turned):
    """Update one lane's secant matrix by what its last step did, and put the next step into ``step``."""
    scale, size = 0.0, 0.0
    for i in range(nz):
        size += step[i, lane] * step[i, lane]
        row[i], turned[i] = 0.0, step[i, lane]
        for j in range(nz):
            if fresh:
                secant[i, j, lane] = min(relax[i, lane], SECANT_START) if i == j else 0.0
    if not fresh:
        for i in range(nz):
            for j in range(nz):
                turned[i] += secant[i, j, lane] * (new[j, lane] - rise[j, lane] - off[j, lane])
                row[j] += step[i, lane] * secant[i, j, lane]
        for j in range(nz):
            scale += row[j] * (new[j, lane] - rise[j, lane] - off[j, lane])
        if abs(scale) > 1e-6 * size:
            for i in range(nz):
                for j in range(nz):
                    secant[i, j, lane] -= turned[i] * row[j] / scale
    largest = 0.0
    for i in range(nz):
        step[i, lane] = 0.0
        for j in range(nz):
            step[i, lane] += secant[i, j, lane] * (new[j, lane] - rise[j, lane])
        largest = max(largest, abs(step[i, lane]))
    if largest > LONGEST_STEP_K:
        for i in range(nz):
            step[i, lane] *= LONGEST_STEP_K / largest
