"""How flows answer to small changes of parameters: the implicit Jacobian of a solved network.

``flow_responses`` differentiates the converged equations, the feedback of zone temperatures through buoyancy included.
METHODS.md, 'Uncertainty', derives it.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from advisor.engine.airflow.kernel import FAN, curve_at
from advisor.engine.balance import add_arriving, forward_share, forward_share_slope, heat_inverse, invert
from advisor.engine.constants import GRAVITY_M_S2, LINEAR_BELOW_PA, REFERENCE_DENSITY, ZERO_CELSIUS_K

AREA, FILTER, FAN_FLOW = 0, 1, 2  # what a parameter's logarithm multiplies on a branch
_FROM, _TO = 3, 4  # and the densities at its ends


@njit(cache=True, nogil=True, error_model="numpy")
def _branch(m, rho_from, rho_to, mu_ratio, own, fa, fb, kind, w, s, c, curves, parts):
    """Inverse slope of one branch's law; ``parts`` gets the derivatives of its drop.

    By ln parameter for area, filter and fan flow, by density [Pa m3/kg] for the air at its two ends.
    """
    c_first, c_last, c_starts, c_pieces, c_end, c_tail, c_density = curves
    rho = rho_from if m >= 0.0 else rho_to
    thin = 1.0 / (REFERENCE_DENSITY * rho)
    rest = 0.0
    if kind == FAN and w <= 0.0:
        rest = c_tail[c] / (c_density[c] * rho * s * s)
    am, bm = fa * mu_ratio / rho, (own + fb) * thin + rest
    size = abs(m)
    m_lin = 0.0
    if bm > 0.0:
        m_lin = 2.0 * LINEAR_BELOW_PA / (am + math.sqrt(am * am + 4.0 * bm * LINEAR_BELOW_PA))
    slope, reach, soft = am + 2.0 * bm * size, size, 1.0
    if size < m_lin:  # the drop is LINEAR_BELOW_PA * m / m_lin, and m_lin moves too
        slope, reach = am + bm * m_lin, m_lin
        soft = slope / (am + 2.0 * bm * m_lin)
    parts[AREA] = -2.0 * soft * own * thin * reach * m
    parts[FILTER] = soft * (am + fb * thin * reach) * m
    parts[FAN_FLOW] = -2.0 * soft * rest * reach * m
    by_density = -soft * (am + bm * reach) * m / rho
    parts[_FROM], parts[_TO] = (by_density, 0.0) if m >= 0.0 else (0.0, by_density)
    if kind == FAN and w > 0.0:
        ahead, change = forward_share(m), rho_from - rho_to
        d = rho_to + ahead * change
        x = m / (d * w * s)
        p, dp, k = curve_at(x, c_first[c], c_last[c], c_starts, c_pieces, c_end[c], c_tail[c], c_first[c])
        by_density = w * w / c_density[c] * (p - x * dp)
        slope -= w * dp / (c_density[c] * s) + forward_share_slope(m) * change * by_density
        parts[FAN_FLOW] = w * w * d / c_density[c] * dp * x
        parts[_FROM] -= ahead * by_density
        parts[_TO] -= (1.0 - ahead) * by_density
    return 1.0 / slope


@njit(cache=True, nogil=True, error_model="numpy")
def _zone_matrix(nz, nb, frm, to, g, a):
    a[:] = 0.0
    for b in range(nb):
        i, j = frm[b], to[b]
        if i < nz:
            a[i, i] += g[b]
        if j < nz:
            a[j, j] += g[b]
        if i < nz and j < nz:
            a[i, j] -= g[b]
            a[j, i] -= g[b]


@njit(cache=True, nogil=True, error_model="numpy")
def _flow_matrix(nz, nb, frm, to, g, kinv, out):
    """Flows (column: branch) that answer to one pascal along each branch (row), zone temperatures held."""
    for b in range(nb):
        i, j = frm[b], to[b]
        for c in range(nb):
            u, v = frm[c], to[c]
            s = 0.0
            if i < nz:
                s += (kinv[u, i] if u < nz else 0.0) - (kinv[v, i] if v < nz else 0.0)
            if j < nz:
                s -= (kinv[u, j] if u < nz else 0.0) - (kinv[v, j] if v < nz else 0.0)
            out[b, c] = g[c] * ((1.0 if b == c else 0.0) - g[b] * s)


@njit(cache=True, nogil=True, error_model="numpy")
def _unbalance(nz, nb, frm, to, m, cp, rise, heat_branch, flows, row, out):
    """Heat [W] by which flows ``flows[row]`` unbalance every zone at unchanged rises, into ``out[row]``."""
    for z in range(nz):
        out[row, z] = 0.0
    for b in range(nb):
        i, j = frm[b], to[b]
        step = cp * flows[row, b] * ((rise[i] if i < nz else 0.0) - (rise[j] if j < nz else 0.0))
        moved = heat_branch[b] * forward_share_slope(m[b]) * flows[row, b] if heat_branch[b] != 0.0 else 0.0
        if j < nz:
            out[row, j] += moved + (step if m[b] >= 0.0 else 0.0)
        if i < nz:
            out[row, i] += (step if m[b] < 0.0 else 0.0) - moved


@njit(cache=True, nogil=True, error_model="numpy")
def _feedback(
    nz, nb, frm, to, m, cp, rise, heat_branch, z_zone, z_branch, lighter, parts, matrix, minv, lift, spare, a, closed
):  # fmt: skip
    """Flows that answer to one kelvin in each zone (``lift``), and ``closed``: rises that settle per kelvin pushed."""
    for z in range(nz):
        for c in range(nb):
            lift[z, c] = 0.0
        for b in range(nb):
            if frm[b] == z or to[b] == z:
                column, sign = (_FROM, 1.0) if frm[b] == z else (_TO, -1.0)
                push = lighter[z] * (GRAVITY_M_S2 * (z_branch[b] - z_zone[z]) * sign + parts[b, column])
                for c in range(nb):
                    lift[z, c] += push * matrix[b, c]
        _unbalance(nz, nb, frm, to, m, cp, rise, heat_branch, lift, z, spare)
        for y in range(nz):
            s = 0.0
            for v in range(nz):
                s += minv[y, v] * spare[z, v]
            a[y, z] = (1.0 if y == z else 0.0) - s
    invert(nz, a, closed)


@njit(cache=True, nogil=True, error_model="numpy")
def flow_responses(
    frm, to, kind, curve_of, z_zone, z_branch, curves, own, filter_alpha, filter_beta, speed, scale,
    wall, heat_zone, heat_branch, t_amb, rho_amb, mu_ratio, cp, flow, rise,
    mode, target, heat_of, part_zone, part_branch, out,
):  # fmt: skip
    """Write d(mass flow)/d(ln parameter) of every branch into ``out`` (n, np, nb).

    Parameters ``k`` act on branches: entry ``e`` says that parameter ``target[e, 0]`` multiplies, by ``mode[e]``
    (AREA, FILTER, FAN_FLOW), branch ``target[e, 1]``. ``heat_of`` (np,) names the row of ``part_zone`` (n, nh, nz), ``part_branch`` (n, nh, nb)
    [W] whose heat a parameter multiplies, -2 for all wall conductances, -1 for neither. ``heat_zone``, ``heat_branch`` are all heat.
    """
    n, nb = flow.shape
    nz, count = rise.shape[1], heat_of.shape[0]
    g, rho, parts, lighter = np.empty(nb), np.empty(nz + 1), np.empty((nb, 5)), np.empty(nz)
    a, kinv, minv, closed = np.empty((nz, nz)), np.empty((nz, nz)), np.empty((nz, nz)), np.empty((nz, nz))
    matrix, lift, spare = np.empty((nb, nb)), np.empty((nz, nb)), np.empty((nz, nz))
    heat, settled = np.empty((count, nz)), np.empty(nz)
    for k in range(n):
        t0, m, answer = t_amb[k] + ZERO_CELSIUS_K, flow[k], out[k]
        rho[nz] = rho_amb[k]
        for z in range(nz):
            rho[z] = rho_amb[k] * t0 / (t0 + rise[k, z])
            lighter[z] = rho[z] / (t0 + rise[k, z])
        for b in range(nb):
            g[b] = _branch(
                m[b], rho[frm[b]], rho[to[b]], mu_ratio[k], own[k, b], filter_alpha[k, b], filter_beta[k, b],
                kind[b], speed[k, b], scale[k, b], curve_of[b], curves, parts[b],
            )  # fmt: skip
        _zone_matrix(nz, nb, frm, to, g, a)
        invert(nz, a, kinv)
        heat_inverse(nz, nb, frm, to, m, wall[k], cp[k], a, minv)
        _flow_matrix(nz, nb, frm, to, g, kinv, matrix)
        _feedback(
            nz, nb, frm, to, m, cp[k], rise[k], heat_branch[k], z_zone, z_branch, lighter, parts, matrix, minv, lift,
            spare, a, closed,
        )  # fmt: skip
        answer[:] = 0.0
        for e in range(target.shape[0]):
            push = -parts[target[e, 1], mode[e]]
            for c in range(nb):
                answer[target[e, 0], c] += push * matrix[target[e, 1], c]
        for q in range(count):
            _unbalance(nz, nb, frm, to, m, cp[k], rise[k], heat_branch[k], answer, q, heat)
            if heat_of[q] >= 0:
                add_arriving(nz, nb, frm, to, m, part_zone[k, heat_of[q]], part_branch[k, heat_of[q]], heat[q])
            for z in range(nz):
                if heat_of[q] == -2:
                    heat[q, z] -= wall[k, z] * rise[k, z]
            for z in range(nz):
                settled[z] = 0.0
                for v in range(nz):
                    settled[z] += minv[z, v] * heat[q, v]
            for z in range(nz):
                t = 0.0
                for v in range(nz):
                    t += closed[z, v] * settled[v]
                for c in range(nb):
                    answer[q, c] += t * lift[z, c]
