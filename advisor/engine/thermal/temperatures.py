"""Air at every component, and how it answers to uncertain parameters.

``component_air`` walks a batch of solved networks once and leaves, for each component, numbers from which any candidate
with the same flows gets its temperatures and their uncertainties by a few multiplications (``parts``).

A component's air is linear in heat. Three bases are kept apart: heat that all candidates of the batch share (0),
one watt in all drives together (1), one watt lost in the supply (2).
"""

from __future__ import annotations

import numpy as np
from numba import njit

from advisor.engine.balance import add_arriving, forward_share, forward_share_slope, heat_inverse

SEAT, CAGE, STILL = 0, 1, 2
BASES = 3
# Columns of one component's figures.
AIR, VARIANCE, CROSS, FLOW_VARIANCE, OWN_HEAT, OWN_FLOW, PASSING = 0, 3, 9, 12, 13, 16, 17
FIGURES = 18
# A directly fed component loses its advantage as its opening's share of the zone's inflow falls below this.
FED_SHARE = 0.1
# Air exchanged by each drive's own draught when a cage's flow stops [kg/s] (estimate).
DRAUGHT_PER_DRIVE = 5e-4
_NO_INFLOW = 1e-9  # kg/s
_LEAST_FLOW = 1e-10  # kg/s; below it the logarithm of a cage's flow counts as fixed


@njit(cache=True, nogil=True, error_model="numpy")
def _feeds(nz, nb, frm, to, m, rises, feed, inflow):
    """Flow-weighted rise of the air entering each zone, per basis, and the inflow [kg/s]."""
    rows = rises.shape[0]
    inflow[:] = _NO_INFLOW
    feed[:] = 0.0
    for b in range(nb):
        up, down, flow = frm[b], to[b], m[b]
        if flow < 0.0:
            up, down, flow = down, up, -flow
        if down < nz:
            inflow[down] += flow
            if up < nz:
                for r in range(rows):
                    feed[r, down] += flow * rises[r, up]
    for z in range(nz):
        for r in range(rows):
            feed[r, z] /= inflow[z]


@njit(cache=True, nogil=True, error_model="numpy")
def _preheat(kappa, fed_a, fed_b, z, frm, to, m, inflow):
    """Effective preheat factor, its slope by the fed share, and its slope by ln(kappa).

    Directly fed (kappa below 1) fades to well mixed as the opening's inward flow goes to zero.
    """
    if fed_a < 0 or kappa >= 1.0:
        return kappa, 0.0, kappa
    share = _inward(m, to, fed_a, z) + _inward(m, to, fed_b, z)
    inward = share > 0.0
    share = max(share, 0.0) / inflow[z]
    reach = share * (1.0 + FED_SHARE) / (share + FED_SHARE)
    slope = (1.0 + FED_SHARE) * FED_SHARE / (share + FED_SHARE) ** 2 if inward else 0.0
    return 1.0 - (1.0 - kappa) * reach, -(1.0 - kappa) * slope, kappa * reach


@njit(cache=True, nogil=True, error_model="numpy")
def _spread(figures, k, variance, a):
    """Add the effect ``a`` (bases) of something that only this component's air depends on."""
    at = VARIANCE
    for r in range(BASES):
        for t in range(r, BASES):
            figures[k, at] += variance * a[r] * a[t]
            at += 1


@njit(cache=True, nogil=True, error_model="numpy")
def _mixes(z, mix, rises, feed, out):
    """Preheat factor that counts, per basis: recirculation (above 1) adds to warm zones and never takes from cool
    ones.
    """
    for r in range(BASES):
        out[r] = mix if mix <= 1.0 or rises[r, z] > feed[r, z] else 1.0


@njit(cache=True, nogil=True, error_model="numpy")
def _seat(
    c, nz, nb, frm, to, m, cp, rises, heat_branch, inverse, feed, inflow, z, mixes, by_share, fed_a, fed_b, up, slopes
):
    """Slopes of a seat's air (columns ``4c`` to ``4c + 2`` of ``slopes``, by branch flow) and of ln(inflow) (``4c +
    3``).

    ``up`` (bases, nz) gets the air's slope by every zone's unbalanced heat: the adjoint of the heat balance.
    """
    for v in range(nz):
        entering = 0.0
        for b in range(nb):
            into, out_of = (to[b], frm[b]) if m[b] >= 0.0 else (frm[b], to[b])
            if into == z and out_of < nz:
                entering += abs(m[b]) / inflow[z] * inverse[out_of, v]
        for r in range(BASES):
            up[r, v] = mixes[r] * inverse[z, v] + (1.0 - mixes[r]) * entering
    share = (_inward(m, to, fed_a, z) + _inward(m, to, fed_b, z)) / inflow[z]
    for b in range(nb):
        _heat_slopes(c, b, nz, frm[b], to[b], m[b], cp, rises, heat_branch, up, slopes)
        into, out_of = (to[b], frm[b]) if m[b] >= 0.0 else (frm[b], to[b])
        sign = 1.0 if m[b] >= 0.0 else -1.0
        enters, feeds = (1.0 if into == z else 0.0), (1.0 if b in (fed_a, fed_b) else 0.0)
        if out_of == z:
            sign = -sign  # of a feeding half that blows outward
        if into != z and feeds == 0.0:
            continue
        for r in range(BASES):
            t = rises[r, out_of] if out_of < nz else 0.0
            slopes[b, 4 * c + r] += enters * sign * (1.0 - mixes[r]) * (t - feed[r, z]) / inflow[z]
            if by_share != 0.0:
                warm = rises[r, z] - feed[r, z]
                slopes[b, 4 * c + r] += by_share * (sign * feeds - enters * sign * share) / inflow[z] * warm
        slopes[b, 4 * c + 3] += enters * sign / inflow[z]


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def _inward(m, to, b, z):
    """Flow [kg/s] of branch ``b`` into zone ``z``, 0 without such a branch."""
    return 0.0 if b < 0 else (m[b] if to[b] == z else -m[b])


@njit(cache=True, nogil=True, error_model="numpy")
def _heat_slopes(c, b, nz, i, j, m, cp, rises, heat_branch, up, slopes):
    """Slope of a component's air by the flow of branch ``b``, through the heat balance of the zones it joins."""
    blend = forward_share_slope(m)
    for r in range(BASES):
        up_i, up_j = (up[r, i] if i < nz else 0.0), (up[r, j] if j < nz else 0.0)
        step = (rises[r, i] if i < nz else 0.0) - (rises[r, j] if j < nz else 0.0)
        carried = cp * (up_j if m >= 0.0 else up_i)
        slopes[b, 4 * c + r] += carried * step + blend * (up_j - up_i) * heat_branch[r, b]


@njit(cache=True, nogil=True, error_model="numpy")
def _cage(c, nz, nb, frm, to, m, cp, rises, heat_branch, inverse, branch, draught, warming, up, slopes):
    """The same for a cage: the air that enters it, and what it warms by along the drives."""
    ahead = forward_share(m[branch])
    i, j = frm[branch], to[branch]
    for r in range(BASES):
        for v in range(nz):
            up[r, v] = (ahead * inverse[i, v] if i < nz else 0.0) + ((1.0 - ahead) * inverse[j, v] if j < nz else 0.0)
    for b in range(nb):
        _heat_slopes(c, b, nz, frm[b], to[b], m[b], cp, rises, heat_branch, up, slopes)
    size = m[branch] * m[branch] + draught * draught
    turn = forward_share_slope(m[branch])
    for r in range(BASES):
        slopes[branch, 4 * c + r] += turn * ((rises[r, i] if i < nz else 0.0) - (rises[r, j] if j < nz else 0.0))
    slopes[branch, 4 * c + 1] -= warming / cp / size**0.5 * m[branch] / size
    slopes[branch, 4 * c + 3] += m[branch] / max(m[branch] * m[branch], _LEAST_FLOW**2)


@njit(cache=True, nogil=True, error_model="numpy")
def _effects(slopes, responses, k, count, nb, columns, effects):
    """Effect of every parameter through the flows: ``responses[k] @ slopes``."""
    for q in range(count):
        for column in range(columns):
            effects[q, column] = 0.0
        for b in range(nb):
            d = responses[k, q, b]
            for column in range(columns):
                effects[q, column] += d * slopes[b, column]


@njit(cache=True, nogil=True, error_model="numpy")
def _direct(
    c, k, nz, frm, to, m, rises, feed, wall, up, kind, zone, branch, mixes, warms, heat_of, walls_of, count, effects,
):  # fmt: skip
    """Add what parameters do at unchanged flows: heats that they multiply, and wall conductances."""
    for q in range(count):
        row = heat_of[q]
        if row >= 0:
            base = 0 if row >= BASES else row
            if kind[c] == CAGE:
                i, j = frm[branch[c]], to[branch[c]]
                ahead = forward_share(m[branch[c]])
                t = (ahead * rises[row, i] if i < nz else 0.0) + ((1.0 - ahead) * rises[row, j] if j < nz else 0.0)
                effects[q, 4 * c + base] += t + (warms if row == 1 else 0.0)
            else:
                z = zone[c]
                effects[q, 4 * c + base] += feed[row, z] + mixes[base] * (rises[row, z] - feed[row, z])
        elif q == walls_of:
            for r in range(BASES):
                for z in range(nz):
                    effects[q, 4 * c + r] -= up[r, z] * wall[k, z] * rises[r, z]


@njit(cache=True, nogil=True, error_model="numpy")
def _moments(c, k, count, sigma, effects, own_heat, figures):
    """Sum the parameters' effects on one component into its variances and covariances."""
    for q in range(count):
        v = sigma[k, q] * sigma[k, q]
        a0, a1, a2, f = effects[q, 4 * c], effects[q, 4 * c + 1], effects[q, 4 * c + 2], effects[q, 4 * c + 3]
        figures[c, VARIANCE] += v * a0 * a0
        figures[c, VARIANCE + 1] += v * a0 * a1
        figures[c, VARIANCE + 2] += v * a0 * a2
        figures[c, VARIANCE + 3] += v * a1 * a1
        figures[c, VARIANCE + 4] += v * a1 * a2
        figures[c, VARIANCE + 5] += v * a2 * a2
        figures[c, CROSS] += v * a0 * f
        figures[c, CROSS + 1] += v * a1 * f
        figures[c, CROSS + 2] += v * a2 * f
        figures[c, FLOW_VARIANCE] += v * f * f
    q = own_heat[c]
    if q >= 0:
        v = sigma[k, q] * sigma[k, q]
        for r in range(BASES):
            figures[c, OWN_HEAT + r] = v * effects[q, 4 * c + r]
        figures[c, OWN_FLOW] = v * effects[q, 4 * c + 3]


@njit(cache=True, nogil=True, error_model="numpy")
def component_air(
    frm, to, flow, wall, cp, density, heat_zone, heat_branch, responses, sigma, heat_of, walls_of,
    kind, zone, branch, kappa, kappa_u, fed, warming, warming_u, draught, own_heat, sway_of, rises_out, sway, out,
):  # fmt: skip
    """Fill ``out`` (n, components, FIGURES) for ``n`` solved networks.

    Parameters
    ----------
    flow, wall, cp, density
        (n, nb) [kg/s], (n, nz) [W/K], (n,) [J/(kg K)], (n,) ambient [kg/m3].
    heat_zone, heat_branch
        (n, rows, nz), (n, rows, nb) [W]: rows 0 to 2 are the bases, later rows parts of basis 0 with a parameter of
        their own.
    responses, sigma, heat_of, walls_of
        d flow / d ln parameter (n, np, nb); standard uncertainties (n, np); the heat row each parameter
        multiplies or -1 (np,); the index of the wall parameter.
    kind, zone, branch, kappa, kappa_u, fed, warming, draught, own_heat
        Per component: SEAT, CAGE or STILL; its zone; its cage's branch; preheat factor (n, components) and its log
        uncertainty; the
        two branches that feed it, or -1; air warming along a cage per watt of all drives, times kg/s/cp (n,
        components); exchange at rest
        [kg/s]; the parameter that multiplies its own heat or -1.
    sway_of, sway
        Indices of two parameters (heat of drives, loss of the supply); ``sway`` (n, 2, components, bases) gets what
        each does to
        a component's air through the flows alone.
    """
    n, nb = flow.shape
    nz, rows, count, parts = wall.shape[1], heat_zone.shape[1], sigma.shape[1], kind.shape[0]
    a, inverse, local = np.empty((nz, nz)), np.empty((nz, nz)), np.empty((parts, BASES, nz))
    rises, feed, sums, inflow = np.empty((rows, nz)), np.empty((rows, nz)), np.empty(nz), np.empty(nz)
    slopes, effects = np.empty((nb, 4 * parts)), np.empty((count, 4 * parts))
    mixes, warms = np.ones((parts, BASES)), np.zeros(parts)
    for k in range(n):
        m, heats, figures = flow[k], heat_branch[k], out[k]
        heat_inverse(nz, nb, frm, to, m, wall[k], cp[k], a, inverse)
        for r in range(rows):
            sums[:] = 0.0
            add_arriving(nz, nb, frm, to, m, heat_zone[k, r], heats[r], sums)
            for z in range(nz):
                t = 0.0
                for v in range(nz):
                    t += inverse[z, v] * sums[v]
                rises[r, z] = t
        rises_out[k] = rises[:BASES]
        _feeds(nz, nb, frm, to, m, rises, feed, inflow)
        figures[:] = 0.0
        if count > 0:
            slopes[:] = 0.0
        for c in range(parts):
            if kind[c] == CAGE:
                size = m[branch[c]] * m[branch[c]] + draught[c] * draught[c]
                warms[c] = warming[k, c] / (cp[k] * size**0.5)
                if count > 0:
                    _cage(
                        c, nz, nb, frm, to, m, cp[k], rises, heats, inverse, branch[c], draught[c], warming[k, c],
                        local[c],
                        slopes,
                    )  # fmt: skip
            else:
                mix, by_share = 1.0, 0.0
                if kind[c] == SEAT:
                    mix, by_share, _ = _preheat(kappa[k, c], fed[c, 0], fed[c, 1], zone[c], frm, to, m, inflow)
                _mixes(zone[c], mix, rises, feed, mixes[c])
                if count > 0:
                    _seat(
                        c, nz, nb, frm, to, m, cp[k], rises, heats, inverse, feed, inflow, zone[c], mixes[c], by_share,
                        fed[c, 0], fed[c, 1], local[c], slopes,
                    )  # fmt: skip
        _effects(slopes, responses, k, count, nb, 4 * parts, effects)
        for w in range(sway_of.shape[0]):
            for c in range(parts):
                for r in range(BASES):
                    sway[k, w, c, r] = effects[sway_of[w], 4 * c + r]
        for c in range(parts):
            _direct(
                c, k, nz, frm, to, m, rises, feed, wall, local[c], kind, zone, branch, mixes[c], warms[c], heat_of,
                walls_of, count, effects,
            )  # fmt: skip
            _moments(c, k, count, sigma, effects, own_heat, figures)
            _place(
                c, k, nz, frm, to, m, rises, feed, inflow, density, kind, zone, branch, mixes[c], warms[c], kappa,
                kappa_u,
                fed, warming_u, figures,
            )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def _place(
    c, k, nz, frm, to, m, rises, feed, inflow, density, kind, zone, branch, mixes, warms, kappa, kappa_u,
    fed, warming_u, figures,
):  # fmt: skip
    """Air at one component per basis, with the variance of what only this component depends on."""
    effect = np.zeros(BASES)
    if kind[c] == CAGE:
        b = branch[c]
        ahead = forward_share(m[b])
        i, j = frm[b], to[b]
        for r in range(BASES):
            t = (ahead * rises[r, i] if i < nz else 0.0) + ((1.0 - ahead) * rises[r, j] if j < nz else 0.0)
            figures[c, AIR + r] = t
        figures[c, AIR + 1] += warms
        effect[1] = warms
        _spread(figures, c, warming_u[c] ** 2, effect)
        figures[c, PASSING] = abs(m[b]) / density[k]
    else:
        z = zone[c]
        by_kappa = 0.0
        if kind[c] == SEAT:
            by_kappa = _preheat(kappa[k, c], fed[c, 0], fed[c, 1], z, frm, to, m, inflow)[2]
        for r in range(BASES):
            warm = rises[r, z] - feed[r, z]
            figures[c, AIR + r] = feed[r, z] + mixes[r] * warm
            effect[r] = by_kappa * warm if mixes[r] != 1.0 or warm > 0.0 else 0.0
        _spread(figures, c, kappa_u[c] ** 2, effect)
        figures[c, PASSING] = inflow[z] / density[k]
