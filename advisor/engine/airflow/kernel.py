"""The compiled network kernel: Newton on branch flows and zone pressures, many networks of one shape at a time.

Method: global gradient algorithm (Todini & Pilati 1988). ``solver.py`` is the way in; METHODS.md has the equations.
Branches run from ``frm`` to ``to``; index ``nz`` is outside. The last axis of every work array is the lane; a lane whose
network has converged is frozen, so that no result depends on the networks beside it.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from advisor.engine.airflow.lanes import FINITE, LANES, factor_and_solve, heat_rises, relax_rises
from advisor.engine.balance import forward_share, forward_share_slope
from advisor.engine.constants import GRAVITY_M_S2, LINEAR_BELOW_PA, REFERENCE_DENSITY, ZERO_CELSIUS_K

PASSIVE, FAN, TABLE = 0, 1, 2  # a table is piecewise linear in |flow|
_MAX_STEPS = 120
_MAX_ROUNDS = 400
_FLOW_TOLERANCE = 1e-12
_RISE_TOLERANCE = 1e-9


@njit(cache=True, nogil=True)
def curve_at(x, first, last, starts, pieces, end, tail, hint):
    """Return pressure, slope and the piece index of one tabulated curve at flow ``x``."""
    if x < starts[first]:
        d = x - starts[first]
        c1 = pieces[first, 1]
        return pieces[first, 0] + d * (c1 + tail * d), c1 + 2.0 * tail * d, first
    k = hint
    while k > first and x < starts[k]:
        k -= 1
    while k < last - 1 and x >= starts[k + 1]:
        k += 1
    over = x - end
    d = (end if over > 0.0 else x) - starts[k]
    c1, c2, c3 = pieces[k, 1], pieces[k, 2], pieces[k, 3]
    p = pieces[k, 0] + d * (c1 + d * (c2 + d * c3))
    s = c1 + d * (2.0 * c2 + 3.0 * d * c3)
    if over > 0.0:
        p += over * (s - tail * over)
        s -= 2.0 * tail * over
    return p, s, k


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _state(nz, nb, frm, to, m, rise, t_amb, rho_amb, z_zone, z_branch, light, rho, rho_from, rho_to, buoy):
    """Density [kg/m3] upstream and at both ends of branches, and the stack pressure [Pa] that drives each from -> to."""
    for i in range(nz):
        for lane in range(LANES):
            light[i, lane] = rho_amb[lane] * rise[i, lane] / (t_amb[lane] + ZERO_CELSIUS_K + rise[i, lane])
    for b in range(nb):
        i, j = frm[b], to[b]
        up = GRAVITY_M_S2 * (z_branch[b] - z_zone[i])
        down = GRAVITY_M_S2 * (z_branch[b] - z_zone[j])
        for lane in range(LANES):
            light_i, light_j = light[i, lane], light[j, lane]
            rho[b, lane] = rho_amb[lane] - (light_i if m[b, lane] >= 0.0 else light_j)
            rho_from[b, lane], rho_to[b, lane] = rho_amb[lane] - light_i, rho_amb[lane] - light_j
            buoy[b, lane] = up * light_i - down * light_j


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _laws(nb, kind, rho, mu_ratio, alpha, beta, speed, scale, curve_of, curves, am, bm, m_lin):
    """Turn volume-flow losses at the reference state into mass-flow losses at each branch's density."""
    c_tail, c_density = curves[5], curves[6]
    for b in range(nb):
        for lane in range(LANES):
            r = 1.0 / rho[b, lane]
            am[b, lane] = alpha[b, lane] * mu_ratio[lane] * r
            bm[b, lane] = beta[b, lane] * r * (1.0 / REFERENCE_DENSITY)
        if kind[b] == FAN:
            c = curve_of[b]
            for lane in range(LANES):
                if speed[b, lane] <= 0.0:
                    bm[b, lane] += c_tail[c] / (c_density[c] * rho[b, lane] * scale[b, lane] * scale[b, lane])
        for lane in range(LANES):
            a = am[b, lane]
            root = a + math.sqrt(a * a + 4.0 * LINEAR_BELOW_PA * bm[b, lane])
            m_lin[b, lane] = 2.0 * LINEAR_BELOW_PA / root if bm[b, lane] > 0.0 else 0.0


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _passive(b, i, j, m, p, buoy, am, bm, m_lin, f, g, worst, largest):
    """Pressure left over ``f`` [Pa] on a branch without fan or table, inverse slope ``g`` and largest correction."""
    for lane in range(LANES):
        flow = m[b, lane]
        size = abs(flow)
        linear = size < m_lin[b, lane]
        low = bm[b, lane] * m_lin[b, lane]
        high = bm[b, lane] * size
        slope = 1.0 / (am[b, lane] + (low if linear else 2.0 * high))
        rest = buoy[b, lane] + p[i, lane] - p[j, lane] - (am[b, lane] + (low if linear else high)) * flow
        f[b, lane], g[b, lane] = rest, slope
        worst[lane] = max(worst[lane], abs(rest) * slope)
        largest[lane] = max(largest[lane], size)


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _add_curve(b, kind, c, m, rho, rho_from, rho_to, speed, scale, curves, f, g, hint):
    """Take a fan's pressure rise from ``f``, or add a tabulated loss, with its part of the slope.

    A fan's pressure goes with the density of the air it gets, which turns from one side's to the other's as its flow
    turns: without the blend a fan held at its shut-off pressure between warm and cold air has no flow that fits.
    """
    c_first, c_last, c_starts, c_pieces, c_end, c_tail, c_density = curves
    first, last = c_first[c], c_last[c]
    if kind == FAN:
        for lane in range(LANES):
            w, s = speed[b, lane], scale[b, lane]
            if w > 0.0:
                change = rho_from[b, lane] - rho_to[b, lane]
                d = rho_to[b, lane] + forward_share(m[b, lane]) * change
                x = m[b, lane] / (d * w * s)
                p, dp, hint[b, lane] = curve_at(x, first, last, c_starts, c_pieces, c_end[c], c_tail[c], hint[b, lane])
                r = w / c_density[c]
                f[b, lane] -= w * r * d * p
                g[b, lane] -= r * (dp / s + w * forward_share_slope(m[b, lane]) * change * (p - x * dp))
        return
    pieces_a_flow = (last - first) / (c_end[c] - c_starts[first])
    for lane in range(LANES):
        thin = 1.0 / rho[b, lane]
        x = abs(m[b, lane]) * thin
        k = min(first + int((x - c_starts[first]) * pieces_a_flow), last - 1)
        while k > first and x < c_starts[k]:
            k -= 1
        while k < last - 1 and x >= c_starts[k + 1]:
            k += 1
        slope = c_pieces[k, 1]
        p = c_pieces[k, 0] + slope * (x - c_starts[k])
        f[b, lane] += p if m[b, lane] >= 0.0 else -p
        g[b, lane] += slope * thin


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _unbalanced(
    nb, frm, to, kind, curve_of, curves, m, p, rho, rho_from, rho_to, buoy, laws, speed, scale, f, g, hint, error
):  # fmt: skip
    """Pressure left over ``f`` [Pa] and inverse slope ``g`` [kg/(s Pa)] of every branch, and each lane's error."""
    am, bm, m_lin = laws
    worst, largest = np.zeros(LANES), np.full(LANES, 1e-300)
    for b in range(nb):
        i, j = frm[b], to[b]
        if kind[b] == PASSIVE:
            _passive(b, i, j, m, p, buoy, am, bm, m_lin, f, g, worst, largest)
            continue
        for lane in range(LANES):
            size = abs(m[b, lane])
            linear = size < m_lin[b, lane]
            low, high = bm[b, lane] * m_lin[b, lane], bm[b, lane] * size
            f[b, lane] = (am[b, lane] + (low if linear else high)) * m[b, lane]
            g[b, lane] = am[b, lane] + (low if linear else 2.0 * high)
        _add_curve(b, kind[b], curve_of[b], m, rho, rho_from, rho_to, speed, scale, curves, f, g, hint)
        for lane in range(LANES):
            rest = buoy[b, lane] + p[i, lane] - p[j, lane] - f[b, lane]
            slope = 1.0 / g[b, lane]
            f[b, lane], g[b, lane] = rest, slope
            worst[lane] = max(worst[lane], abs(rest) * slope)
            largest[lane] = max(largest[lane], abs(m[b, lane]))
    for lane in range(LANES):
        error[lane] = worst[lane] / largest[lane]


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _step(nz, nb, frm, to, m, p, f, g, a, x, live, damp):
    """One Newton step of every live lane: pressures from the balance of all zones, then flows."""
    factor_and_solve(nz, nb, frm, to, m, f, g, a, x)
    for b in range(nb):
        i, j = frm[b], to[b]
        for lane in range(LANES):
            m[b, lane] += live[lane] * damp * g[b, lane] * (f[b, lane] + x[i, lane] - x[j, lane])
    for i in range(nz):
        for lane in range(LANES):
            p[i, lane] += live[lane] * damp * x[i, lane]


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def _newton(
    nz, nb, frm, to, kind, curve_of, curves, m, p, rho, rho_from, rho_to, buoy, laws, speed, scale, work, hint,
    tolerance, open_, error,
):  # fmt: skip
    """Newton until every open lane's flow correction is below its ``tolerance`` of its largest flow."""
    f, g, a, x, live = work
    steps = 0
    while True:
        _unbalanced(
            nb, frm, to, kind, curve_of, curves, m, p, rho, rho_from, rho_to, buoy, laws, speed, scale, f, g, hint, error
        )  # fmt: skip
        any_live = False
        for lane in range(LANES):
            unfinished = open_[lane] and (steps == 0 or (live[lane] > 0.0 and error[lane] > tolerance[lane]))
            live[lane] = 1.0 if unfinished else 0.0
            any_live = any_live or unfinished
        if not any_live or steps >= _MAX_STEPS:
            return steps
        damp = 1.0 if steps < 25 else (0.6 if steps < 60 else 0.3)
        _step(nz, nb, frm, to, m, p, f, g, a, x, live, damp)
        steps += 1


@njit(cache=True, nogil=True)
def _load(source, first, n, target):
    """Copy networks ``first`` to ``first + LANES`` (the last one repeated) into lanes."""
    width = source.shape[1]
    for lane in range(LANES):
        k = min(first + lane, n - 1)
        for b in range(width):
            target[b, lane] = source[k, b]


@njit(cache=True, nogil=True)
def _start(nb, kind, speed, scale, curve_of, curves, rho_amb, m, hint, running):
    """First guess: running fans at half their range, everything else at their mean."""
    c_first, c_end = curves[0], curves[4]
    for lane in range(LANES):
        mean, count = 0.0, 0
        for b in range(nb):
            hint[b, lane] = c_first[curve_of[b]] if curve_of[b] >= 0 else 0
            if kind[b] == FAN and speed[b, lane] > 0.0:
                m[b, lane] = 0.5 * c_end[curve_of[b]] * speed[b, lane] * scale[b, lane] * rho_amb[lane]
                mean += m[b, lane]
                count += 1
        mean = mean / count if count else 1e-3
        running[lane] = count
        for b in range(nb):
            if kind[b] != FAN or speed[b, lane] <= 0.0:
                m[b, lane] = mean


@njit(cache=True, nogil=True, error_model="numpy", fastmath=FINITE)
def solve_batch(
    frm, to, kind, curve_of, z_zone, z_branch, curves, alpha, beta, speed, scale,
    wall, heat_zone, heat_branch, t_amb, rho_amb, mu_ratio, cp, coupled, m_out, p_out, rise_out, residual,
):  # fmt: skip
    """Solve ``n`` networks; flows (n, nb) [kg/s], pressures and rises (n, nz) are written into the ``_out`` arrays.

    ``alpha``, ``beta`` (n, nb) are losses of volume flow at the reference state, ``speed`` relative to the curve's
    own speed, ``scale`` the number of fans times their flow multiplier. With ``coupled`` zone temperatures from the given heat feed back
    through density and buoyancy; otherwise all air is at ambient. ``residual`` (n,) is the last flow correction over
    the largest flow, infinite where temperatures did not settle. Returns the number of Newton steps of all lanes.
    """
    n, nb = alpha.shape
    nz = z_zone.shape[0] - 1
    branch = np.empty((15, nb, LANES))
    al, be, sp, sc, hb, m, f, g, am, bm, m_lin, rho, rho_from, rho_to, buoy = branch[:15]
    zone = np.zeros((10, nz + 1, LANES))  # the last row is outside and stays at zero
    wa, hz, p, rise, x, new, light, off, step, relax = zone[:10]
    secant = np.zeros((nz, nz, LANES))
    a = np.zeros((nz + 1, nz + 1, LANES))
    scalar = np.empty((12, LANES))
    ta, ra, mu, c, live, last, tolerance, error = scalar[:8]
    hint = np.zeros((nb, LANES), dtype=np.int64)
    running, open_ = np.zeros(LANES, dtype=np.int64), np.zeros(LANES, dtype=np.bool_)
    total = 0
    for first in range(0, n, LANES):
        _load(alpha, first, n, al), _load(beta, first, n, be), _load(speed, first, n, sp), _load(scale, first, n, sc)
        _load(wall, first, n, wa), _load(heat_zone, first, n, hz), _load(heat_branch, first, n, hb)
        for lane in range(LANES):
            k = min(first + lane, n - 1)
            ta[lane], ra[lane], mu[lane], c[lane] = t_amb[k], rho_amb[k], mu_ratio[k], cp[k]
        _start(nb, kind, sp, sc, curve_of, curves, ra, m, hint, running)
        p[:] = 0.0
        for lane in range(LANES):
            still = running[lane] == 0 and coupled
            last[lane], open_[lane] = 1e300, True
            tolerance[lane] = 1e-4 if coupled else _FLOW_TOLERANCE
            for i in range(nz):
                rise[i, lane], relax[i, lane] = (5.0, 0.7) if still else (0.0, 1.0)
        for turn in range(_MAX_ROUNDS):
            _state(nz, nb, frm, to, m, rise, ta, ra, z_zone, z_branch, light, rho, rho_from, rho_to, buoy)
            _laws(nb, kind, rho, mu, al, be, sp, sc, curve_of, curves, am, bm, m_lin)
            total += _newton(
                nz, nb, frm, to, kind, curve_of, curves, m, p, rho, rho_from, rho_to, buoy, (am, bm, m_lin), sp, sc,
                (f, g, a, x, live), hint, tolerance, open_, error,
            )  # fmt: skip
            if not coupled:
                break
            heat_rises(nz, nb, frm, to, m, wa, c, hz, hb, a, new)
            if not relax_rises(
                nz, turn, rise, new, relax, last, off, step, secant, tolerance, open_, _FLOW_TOLERANCE, _RISE_TOLERANCE
            ):  # fmt: skip
                break
        for lane in range(min(LANES, n - first)):
            k = first + lane
            residual[k] = np.inf if (coupled and open_[lane]) else error[lane]
            m_out[k], p_out[k], rise_out[k] = m[:, lane], p[:nz, lane], rise[:nz, lane]
    return total
