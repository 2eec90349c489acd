"""Small dense linear algebra for many networks side by side, as ``kernel`` needs it.

The last axis of every work array is the lane: one network of the batch. What belongs to one branch, zone or lane are
rows of one array, since the compiler then sees that they do not overlap and works on whole vectors. Everything is done
for the first ``width`` lanes, a multiple of 8.
"""

from __future__ import annotations

import math

from numba import njit

from advisor.engine.balance import BLEND_FLOW

# No value here is ever NaN; saying so lets comparisons run on whole vectors. Sums keep their order.
FINITE = {"nnan", "nsz", "contract"}
VECTORS = {"cache": True, "nogil": True, "error_model": "numpy", "fastmath": FINITE, "forceinline": True}
LANES = 64

# Rows of a branch: pressure left over [Pa], inverse slope of its law [kg/(s Pa)], loss coefficients, flow below which
# they are linear, a fan's pressure and flow factors, heat [W], and room to work.
REST, SLOPE, LINEAR, QUADRATIC, LEAST, THRUST, REACH, HEAT, X, RISING, FALL, MOVED, BRANCH_ROWS = range(13)
# Rows of a zone; the last zone is outside. MADE is the rise that the flows make of the heat, LEFT what RISE lacks of
# it, LIGHT what its air weighs less than the room's, THIN its specific volume.
PRESSURE, CORRECTION, LIGHT, THIN, RISE, MADE, WALL, SOURCE, LEFT, WAS, SHIFT, ZONE_ROWS = range(12)
# Rows of a lane.
(
    ERROR,
    LARGEST,
    STEPS,
    DONE,
    FRESH,
    TYPICAL,
    RELAX,
    ALONG,
    ACROSS,
    CHANGE,
    CAPACITY,
    KELVIN,
    DENSITY,
    WORK,
    KEEP,
    LANE_ROWS,
) = range(16)


@njit(**VECTORS)
def solve_pressures(width, nz, nb, frm, to, flow, branch, zone, a):
    """Assemble the conductance matrix, factor it (L D L^T) and solve for the pressure corrections of all zones."""
    for i in range(nz):
        for lane in range(width):
            zone[i, CORRECTION, lane] = 0.0
        for j in range(i + 1):
            for lane in range(width):
                a[i, j, lane] = 0.0
    for b in range(nb):
        i, j = frm[b], to[b]
        if i < nz:
            for lane in range(width):
                a[i, i, lane] += branch[b, SLOPE, lane]
            for lane in range(width):
                zone[i, CORRECTION, lane] -= flow[b, lane] + branch[b, SLOPE, lane] * branch[b, REST, lane]
        if j < nz:
            for lane in range(width):
                a[j, j, lane] += branch[b, SLOPE, lane]
            for lane in range(width):
                zone[j, CORRECTION, lane] += flow[b, lane] + branch[b, SLOPE, lane] * branch[b, REST, lane]
        if i < nz and j < nz:
            row, column = max(i, j), min(i, j)
            for lane in range(width):
                a[row, column, lane] -= branch[b, SLOPE, lane]
    _factor(width, nz, zone, a)
    for i in range(nz - 1, -1, -1):
        for lane in range(width):
            zone[i, CORRECTION, lane] *= a[i, i, lane]
        for k in range(i + 1, nz):
            for lane in range(width):
                zone[i, CORRECTION, lane] -= a[i, k, lane] * zone[k, CORRECTION, lane]


@njit(**VECTORS)
def _factor(width, nz, zone, a):
    """Factor the lower triangle: L above the diagonal, 1/D on it; the right-hand side is carried along."""
    for j in range(nz):
        for i in range(j):
            for lane in range(width):
                a[i, j, lane] = a[j, i, lane] * a[i, i, lane]
            for k in range(j, nz):
                for lane in range(width):
                    a[k, j, lane] -= a[k, i, lane] * a[i, j, lane]
            for lane in range(width):
                zone[j, CORRECTION, lane] -= a[i, j, lane] * zone[i, CORRECTION, lane]
        for lane in range(width):
            a[j, j, lane] = 1.0 / a[j, j, lane]


@njit(**VECTORS)
def make_rises(width, nz, nb, frm, to, hot, flow, branch, zone, lanes, a):
    """Solve the upwind heat balance of every zone for the rise over ambient [K] that the flows make.

    Heat of a branch [W] goes into the air that passes it and arrives downstream.
    """
    for i in range(nz):
        for j in range(nz):
            for lane in range(width):
                a[i, j, lane] = 0.0
        for lane in range(width):
            a[i, i, lane] = zone[i, WALL, lane]
        for lane in range(width):
            zone[i, MADE, lane] = zone[i, SOURCE, lane]
    for b in range(nb):
        i, j = frm[b], to[b]
        if j < nz:
            for lane in range(width):
                a[j, j, lane] += max(flow[b, lane], 0.0) * lanes[CAPACITY, lane]
        if i < nz:
            for lane in range(width):
                a[i, i, lane] -= min(flow[b, lane], 0.0) * lanes[CAPACITY, lane]
        if i < nz and j < nz:
            for lane in range(width):
                a[j, i, lane] -= max(flow[b, lane], 0.0) * lanes[CAPACITY, lane]
            for lane in range(width):
                a[i, j, lane] += min(flow[b, lane], 0.0) * lanes[CAPACITY, lane]
        if hot[b]:
            _release(width, b, i, j, nz, flow, branch, zone)
    _eliminate(width, nz, zone, a)


@njit(**VECTORS)
def _release(width, b, i, j, nz, flow, branch, zone):
    """Add a branch's heat to the zones it arrives in (see ``balance.forward_share``)."""
    for lane in range(width):
        m = flow[b, lane]
        branch[b, X, lane] = 0.5 * (1.0 + m / math.sqrt(m * m + BLEND_FLOW * BLEND_FLOW))
    if j < nz:
        for lane in range(width):
            zone[j, MADE, lane] += branch[b, X, lane] * branch[b, HEAT, lane]
    if i < nz:
        for lane in range(width):
            zone[i, MADE, lane] += (1.0 - branch[b, X, lane]) * branch[b, HEAT, lane]


@njit(**VECTORS)
def _eliminate(width, nz, zone, a):
    """Gauss elimination in place; columns are diagonally dominant, so no pivoting is needed."""
    for k in range(nz):
        for lane in range(width):
            a[k, k, lane] = 1.0 / a[k, k, lane]
        for i in range(k + 1, nz):
            for lane in range(width):
                a[i, k, lane] *= a[k, k, lane]
            for lane in range(width):
                zone[i, MADE, lane] -= a[i, k, lane] * zone[k, MADE, lane]
            for j in range(k + 1, nz):
                for lane in range(width):
                    a[i, j, lane] -= a[i, k, lane] * a[k, j, lane]
    for i in range(nz - 1, -1, -1):
        for j in range(i + 1, nz):
            for lane in range(width):
                zone[i, MADE, lane] -= a[i, j, lane] * zone[j, MADE, lane]
        for lane in range(width):
            zone[i, MADE, lane] *= a[i, i, lane]
