"""Small dense linear algebra for eight networks side by side (last axis: lane), as ``kernel`` needs it."""

from __future__ import annotations

import math

from numba import njit

from advisor.engine.balance import BLEND_FLOW

# No value here is ever NaN; saying so lets comparisons run on whole vectors. Sums keep their order.
FINITE = {"nnan", "nsz", "contract"}
LANES = 64


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
def relax_rises(nz, rise, new, relax, last, tolerance, open_, flow_tolerance, rise_tolerance):
    """Move open lanes towards their new rises and close those that have settled; return whether any is open."""
    any_open = False
    for lane in range(LANES):
        if not open_[lane]:
            continue
        change = 0.0
        for i in range(nz):
            change = max(change, abs(new[i, lane] - rise[i, lane]))
        if change < rise_tolerance and tolerance[lane] <= flow_tolerance:
            open_[lane] = False
            for i in range(nz):
                rise[i, lane] = new[i, lane]
            continue
        if change > 0.5 * last[lane]:
            relax[lane] = max(0.15, 0.8 * relax[lane])
        last[lane] = change
        tolerance[lane] = flow_tolerance if change < 1e-3 else min(1e-4, 1e-5 * change)
        for i in range(nz):
            rise[i, lane] += relax[lane] * (new[i, lane] - rise[i, lane])
        any_open = True
    return any_open
