"""How flows answer to small changes of parameters: the implicit Jacobian of a solved network.

``flow_responses`` differentiates the converged equations, the feedback of zone temperatures through buoyancy and
density included; ``rise_slopes`` says how the rises that the flows make move with the rises taken. METHODS.md,
'Uncertainty', derives both.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from advisor.engine.airflow.laws import FAN, TABLE, curve_at, table_at
from advisor.engine.balance import add_arriving, forward_share_slope, heat_inverse, invert
from advisor.engine.constants import GRAVITY_M_S2, LINEAR_BELOW_PA, REFERENCE_DENSITY, ZERO_CELSIUS_K

AREA, FILTER, FAN_FLOW = 0, 1, 2  # what a parameter's logarithm multiplies on a branch
_WALLS = -2  # in ``heat_of``


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _loss(m, thin, thin_room, alpha, own, filtered, rest, parts):
    """Drop [Pa] and slope of a loss; ``parts`` gets d(drop)/d(ln parameter), the linear stretch included."""
    quadratic = own + filtered + rest
    size, least = abs(m), 0.0
    if quadratic > 0.0:
        square = thin_room * thin_room * alpha * alpha + 4.0 * LINEAR_BELOW_PA * thin_room * quadratic
        least = 2.0 * LINEAR_BELOW_PA / (thin_room * alpha + math.sqrt(square))
    straight = size < least
    reach = max(size, least)
    # where the law is straight, its end moves along with the parameter
    moved = quadratic * reach / (alpha + 2.0 * quadratic * least) if straight else 0.0
    parts[AREA] = -2.0 * own * reach * (1.0 - moved) * thin * m
    parts[FILTER] = (alpha + filtered * reach) * (1.0 - moved) * thin * m
    parts[FAN_FLOW] = -2.0 * rest * reach * (1.0 - moved) * thin * m
    drop = thin * (alpha + quadratic * reach) * m
    return drop, thin * (alpha + quadratic * (least if straight else 2.0 * size))


@njit(cache=True, nogil=True, error_model="numpy")
def _linearise(nb, frm, to, kind, curve_of, curves, m, room, rise, alpha, own, filtered, speed, scale, g, parts, warm):
    """Inverse slopes of all branches' laws, and what they lose by more of each parameter.

    ``warm`` (nb, 2) gets the pressure [Pa/K] that warmer air at a branch's ends adds along it, buoyancy apart. ``room``
    is temperature [K], density and viscosity ratio; ``rise`` (nz + 1) ends with the outside.
    """
    kelvin, density, thicker = room
    for b in range(nb):
        i, c = frm[b], curve_of[b]
        side = 0 if m[b] >= 0.0 else 1
        up = i if side == 0 else to[b]
        rest = 0.0
        if kind[b] == FAN and speed[b] <= 0.0:
            rest = curves.tail[c] / (curves.density[c] * scale[b] * scale[b])
        drop, slope = _loss(
            m[b], (kelvin + rise[up]) / (density * kelvin), 1.0 / density, alpha[b] * thicker,
            own[b] / REFERENCE_DENSITY, filtered[b] / REFERENCE_DENSITY, rest, parts[b],
        )  # fmt: skip
        warm[b, 0] = warm[b, 1] = 0.0
        warm[b, side] = -drop / (kelvin + rise[up])
        if kind[b] == FAN and speed[b] > 0.0:
            drawn = density * kelvin / (kelvin + rise[i])
            reach = 1.0 / (drawn * speed[b] * scale[b])
            thrust = speed[b] * speed[b] / curves.density[c] * drawn
            p, fall = curve_at(m[b] * reach, c, curves)
            slope -= thrust * fall * reach
            parts[b, FAN_FLOW] = thrust * fall * m[b] * reach
            warm[b, 0] += thrust * (fall * m[b] * reach - p) / (kelvin + rise[i])
        elif kind[b] == TABLE:
            thin, sign = (kelvin + rise[up]) / (density * kelvin), 1.0 - 2.0 * side
            _, fall = table_at(abs(m[b]) * thin, c, curves)
            slope += fall * thin
            warm[b, side] -= sign * fall * abs(m[b]) * thin / (kelvin + rise[up])
        g[b] = 1.0 / slope


@njit(cache=True, nogil=True, error_model="numpy")
def _flow_matrix(nz, nb, frm, to, g, a, kinv, out):
    """Flows (column: branch) that answer to one pascal along each branch (row), zone temperatures held."""
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
    invert(nz, a, kinv)
    pressure = np.zeros(nz + 1)  # that one pascal along a branch makes, over its conductance
    for b in range(nb):
        i, j = frm[b], to[b]
        for z in range(nz):
            pressure[z] = (kinv[z, i] if i < nz else 0.0) - (kinv[z, j] if j < nz else 0.0)
        for c in range(nb):
            out[b, c] = -g[c] * g[b] * (pressure[frm[c]] - pressure[to[c]])
        out[b, b] += g[b]


@njit(cache=True, nogil=True, error_model="numpy")
def _carry(nb, frm, to, m, cp, rise, heat_branch, out):
    """Heat [W s/kg] that more flow along each branch brings the zones at its two ends, into ``out`` (nb, 2)."""
    for b in range(nb):
        step = cp * (rise[frm[b]] - rise[to[b]])
        moved = heat_branch[b] * forward_share_slope(m[b]) if heat_branch[b] != 0.0 else 0.0
        out[b, 0] = (step if m[b] < 0.0 else 0.0) - moved
        out[b, 1] = (step if m[b] >= 0.0 else 0.0) + moved


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _unbalance(nz, nb, frm, to, carried, flows, out):
    """Heat [W] by which ``flows`` (nb,) unbalance every zone at unchanged rises, into ``out`` (nz + 1,)."""
    for z in range(nz + 1):
        out[z] = 0.0
    for b in range(nb):
        out[frm[b]] += flows[b] * carried[b, 0]
        out[to[b]] += flows[b] * carried[b, 1]


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _settle(nz, nb, settled, lift, heat, flows):
    """Add to ``flows`` (nb,) what follows once the zones' rises have settled on unbalanced ``heat`` [W].

    ``settled`` (nz, nz) are the rises that one watt in each zone ends in [K/W].
    """
    for z in range(nz):
        t = 0.0
        for v in range(nz):
            t += settled[z, v] * heat[v]
        for c in range(nb):
            flows[c] += t * lift[z, c]


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _lift(nz, nb, frm, to, up, down, room, rise, warm, matrix, lift):
    """Flows that answer to one kelvin in each zone, through buoyancy and density."""
    kelvin, density, _ = room
    for z in range(nz):
        lighter = density * kelvin / (kelvin + rise[z]) ** 2
        for c in range(nb):
            lift[z, c] = 0.0
        for b in range(nb):
            if frm[b] == z or to[b] == z:
                push = up[b] * lighter + warm[b, 0] if frm[b] == z else warm[b, 1] - down[b] * lighter
                for c in range(nb):
                    lift[z, c] += push * matrix[b, c]


@njit(cache=True, nogil=True, error_model="numpy")
def _closing(nz, nb, frm, to, carried, lift, minv, heat, out):
    """One less the slope of the rises that flows make by the rises taken, into ``out`` (nz, nz)."""
    for z in range(nz):
        _unbalance(nz, nb, frm, to, carried, lift[z], heat)
        for y in range(nz):
            s = 0.0
            for v in range(nz):
                s += minv[y, v] * heat[v]
            out[y, z] = (1.0 if y == z else 0.0) - s


@njit(cache=True, nogil=True, error_model="numpy")
def heights(nz, frm, to, z_zone, z_branch):
    """Gravity times the height of every branch over its two zones, zero towards the outside."""
    up, down = np.zeros(len(frm)), np.zeros(len(frm))
    for b in range(len(frm)):
        if frm[b] < nz:
            up[b] = GRAVITY_M_S2 * (z_branch[b] - z_zone[frm[b]])
        if to[b] < nz:
            down[b] = GRAVITY_M_S2 * (z_branch[b] - z_zone[to[b]])
    return up, down


@njit(cache=True, nogil=True, error_model="numpy")
def rise_slopes(k, shape, given, m, taken, made, out):
    """Write the identity less d(rises that the flows make)/d(rises taken) of network ``k`` into ``out`` (nz, nz).

    ``shape`` and ``given`` are as ``kernel`` packs them; ``m`` (nb,) are the flows at the rises ``taken`` (nz,)
    and ``made`` (nz,) the rises that they make.
    """
    frm, to, kind, curve_of, up, down, curves = shape
    alpha, beta, speed, scale, wall, heat_branch, t_amb, rho_amb, mu_ratio, cp = given
    nb, nz = len(m), len(taken)
    g, parts, warm, none = np.empty(nb), np.empty((nb, 3)), np.empty((nb, 2)), np.zeros(nb)
    a, kinv, minv = np.empty((nz, nz)), np.empty((nz, nz)), np.empty((nz, nz))
    carried, heat = np.empty((nb, 2)), np.empty(nz + 1)
    matrix, lift, rise, heated = np.empty((nb, nb)), np.empty((nz, nb)), np.zeros(nz + 1), np.zeros(nz + 1)
    room = (t_amb[k] + ZERO_CELSIUS_K, rho_amb[k], mu_ratio[k])
    rise[:nz], heated[:nz] = taken, made
    _linearise(
        nb, frm, to, kind, curve_of, curves, m, room, rise, alpha[k], beta[k], none, speed[k], scale[k], g, parts, warm
    )
    heat_inverse(nz, nb, frm, to, m, wall[k], cp[k], a, minv)
    _flow_matrix(nz, nb, frm, to, g, a, kinv, matrix)
    _lift(nz, nb, frm, to, up, down, room, rise, warm, matrix, lift)
    _carry(nb, frm, to, m, cp[k], heated, heat_branch[k], carried)
    _closing(nz, nb, frm, to, carried, lift, minv, heat, out)


@njit(cache=True, nogil=True, error_model="numpy")
def flow_responses(
    frm, to, kind, curve_of, z_zone, z_branch, curves, own, filter_alpha, filter_beta, speed, scale,
    wall, heat_zone, heat_branch, t_amb, rho_amb, mu_ratio, cp, flow, rise,
    mode, target, heat_of, part_zone, part_branch, out,
):  # fmt: skip
    """Write d(mass flow)/d(ln parameter) of every branch into ``out`` (n, np, nb).

    Parameters act on branches: entry ``e`` says that parameter ``target[e, 0]`` multiplies, by ``mode[e]`` (AREA,
    FILTER, FAN_FLOW), branch ``target[e, 1]``. ``heat_of`` (np,) names the row of ``part_zone`` (n, nh, nz) and
    ``part_branch`` (n, nh, nb) [W] whose heat a parameter multiplies, -2 for all wall conductances, -1 for neither.
    ``heat_zone``, ``heat_branch`` are all heat.
    """
    n, nb = flow.shape
    nz, count = rise.shape[1], heat_of.shape[0]
    g, parts, warm, taken = np.empty(nb), np.empty((nb, 3)), np.empty((nb, 2)), np.zeros(nz + 1)
    a, kinv, minv, closed = np.empty((nz, nz)), np.empty((nz, nz)), np.empty((nz, nz)), np.empty((nz, nz))
    matrix, lift, carried = np.empty((nb, nb)), np.empty((nz, nb)), np.empty((nb, 2))
    heat, settled = np.empty(nz + 1), np.empty((nz, nz))
    up, down = heights(nz, frm, to, z_zone, z_branch)
    for k in range(n):
        room, m, answer = (t_amb[k] + ZERO_CELSIUS_K, rho_amb[k], mu_ratio[k]), flow[k], out[k]
        taken[:nz] = rise[k]
        _linearise(
            nb, frm, to, kind, curve_of, curves, m, room, taken, filter_alpha[k], own[k], filter_beta[k],
            speed[k], scale[k], g, parts, warm,
        )  # fmt: skip
        heat_inverse(nz, nb, frm, to, m, wall[k], cp[k], a, minv)
        _flow_matrix(nz, nb, frm, to, g, a, kinv, matrix)
        _lift(nz, nb, frm, to, up, down, room, taken, warm, matrix, lift)
        _carry(nb, frm, to, m, cp[k], taken, heat_branch[k], carried)
        _closing(nz, nb, frm, to, carried, lift, minv, heat, a)
        invert(nz, a, closed)
        for z in range(nz):
            for y in range(nz):
                settled[z, y] = 0.0
                for v in range(nz):
                    settled[z, y] += closed[z, v] * minv[v, y]
        for b in range(nb):  # from here on rises are not held
            _unbalance(nz, nb, frm, to, carried, matrix[b], heat)
            _settle(nz, nb, settled, lift, heat, matrix[b])
        answer[:] = 0.0
        for e in range(target.shape[0]):
            push = -parts[target[e, 1], mode[e]]
            for c in range(nb):
                answer[target[e, 0], c] += push * matrix[target[e, 1], c]
        for q in range(count):
            if heat_of[q] >= 0:
                heat[:] = 0.0
                add_arriving(nz, nb, frm, to, m, part_zone[k, heat_of[q]], part_branch[k, heat_of[q]], heat)
                _settle(nz, nb, settled, lift, heat, answer[q])
            elif heat_of[q] == _WALLS:
                for z in range(nz):
                    heat[z] = -wall[k, z] * taken[z]
                _settle(nz, nb, settled, lift, heat, answer[q])
