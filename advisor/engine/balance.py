"""The upwind heat balance of zones that exchange air: its matrix, what arrives where, and how it shifts.

Compiled pieces that the airflow and thermal areas share. Branches run from ``frm`` to ``to``; index ``nz`` is outside.
Rises are over ambient, flows positive from -> to.
"""

from __future__ import annotations

import math

from numba import njit

BLEND_FLOW = 1e-4  # kg/s; below this a heated passage shares its heat with both sides


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def forward_share(flow):
    """Share of a heated passage's heat that arrives at its ``to`` side, by its flow [kg/s]."""
    return 0.5 * (1.0 + flow / math.sqrt(flow * flow + BLEND_FLOW * BLEND_FLOW))


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def forward_share_slope(flow):
    """Derivative of ``forward_share`` by flow [s/kg]."""
    size = flow * flow + BLEND_FLOW * BLEND_FLOW
    return 0.5 * BLEND_FLOW * BLEND_FLOW / (size * math.sqrt(size))


@njit(cache=True, nogil=True, error_model="numpy")
def invert(n, a, out):
    """Gauss-Jordan inverse of a small matrix without pivoting (balance matrices are diagonally dominant)."""
    for i in range(n):
        for j in range(n):
            out[i, j] = 1.0 if i == j else 0.0
    for k in range(n):
        inv = 1.0 / a[k, k]
        for j in range(n):
            a[k, j] *= inv
            out[k, j] *= inv
        for i in range(n):
            if i != k and a[i, k] != 0.0:
                s = a[i, k]
                for j in range(n):
                    a[i, j] -= s * a[k, j]
                    out[i, j] -= s * out[k, j]


@njit(cache=True, nogil=True, error_model="numpy")
def solve_pivoting(n, a, x):
    """Solve a small system in place by Gauss elimination with row pivoting; ``x`` turns into the solution."""
    for k in range(n):
        best = k
        for i in range(k + 1, n):
            if abs(a[i, k]) > abs(a[best, k]):
                best = i
        for j in range(n):
            a[k, j], a[best, j] = a[best, j], a[k, j]
        x[k], x[best] = x[best], x[k]
        for i in range(k + 1, n):
            s = a[i, k] / a[k, k]
            for j in range(k, n):
                a[i, j] -= s * a[k, j]
            x[i] -= s * x[k]
    for i in range(n - 1, -1, -1):
        for j in range(i + 1, n):
            x[i] -= a[i, j] * x[j]
        x[i] /= a[i, i]


@njit(cache=True, nogil=True, error_model="numpy")
def heat_inverse(nz, nb, frm, to, m, wall, cp, a, out):
    """Inverse of the upwind heat balance (nz, nz) [K/W]."""
    a[:] = 0.0
    for i in range(nz):
        a[i, i] = wall[i]
    for b in range(nb):
        up, down, c = frm[b], to[b], m[b] * cp
        if c < 0.0:
            up, down, c = down, up, -c
        if down < nz:
            a[down, down] += c
            if up < nz:
                a[down, up] -= c
    invert(nz, a, out)


@njit(cache=True, nogil=True, error_model="numpy")
def add_arriving(nz, nb, frm, to, flow, heat_zone, heat_branch, out):
    """Add to ``out`` (nz) the heat that arrives in every zone."""
    for z in range(nz):
        out[z] += heat_zone[z]
    for b in range(nb):
        if heat_branch[b] != 0.0:
            share = forward_share(flow[b])
            if to[b] < nz:
                out[to[b]] += share * heat_branch[b]
            if frm[b] < nz:
                out[frm[b]] += (1.0 - share) * heat_branch[b]
