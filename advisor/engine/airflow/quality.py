"""The path of the air: fresh shares by tracer transport, filtered share, short circuits, wrong-way openings."""

from __future__ import annotations

import numpy as np
from numba import njit

# Below this share of the throughflow a wrong-way flow is a breath, not a path.
WRONG_WAY_SHARE = 0.01
HEATED_W = 1.0  # a zone with more heat is a source: what passes it is no longer fresh
FRESH, SCORE = 1, 5  # columns of ``air_paths``
PARTS = 4.0  # of the score, which is their mean


@njit(cache=True, nogil=True, error_model="numpy")
def _fresh(nz, nb, frm, to, m, heated, hot_branch, a, fresh):
    """Share of the air entering each zone that came from outside past no heat source."""
    a[:] = 0.0
    for z in range(nz):
        a[z, z] = 1e-12
        fresh[z] = 1e-12
    for b in range(nb):
        up, down, flow = frm[b], to[b], m[b]
        if flow < 0.0:
            up, down, flow = down, up, -flow
        if down == nz or flow == 0.0:
            continue
        a[down, down] += flow
        if hot_branch[b]:
            continue
        if up == nz:
            fresh[down] += flow
        elif not heated[up]:
            a[down, up] -= flow
    for k in range(nz):
        for i in range(k + 1, nz):
            if a[i, k] != 0.0:
                s = a[i, k] / a[k, k]
                for j in range(k, nz):
                    a[i, j] -= s * a[k, j]
                fresh[i] -= s * fresh[k]
    for i in range(nz - 1, -1, -1):
        s = fresh[i]
        for j in range(i + 1, nz):
            s -= a[i, j] * fresh[j]
        fresh[i] = s / a[i, i]


@njit(cache=True, nogil=True, error_model="numpy")
def heat_weighted(heat, fresh):
    """Mean of zones' fresh shares, weighted by their heat."""
    total, weighted = 0.0, 0.0
    for z in range(heat.shape[0]):
        total += heat[z]
        weighted += heat[z] * fresh[z]
    return weighted / total if total > 0.0 else 1.0


@njit(cache=True, nogil=True, error_model="numpy")
def air_paths(frm, to, m, heat, hot_branch, filtered, two_way, nz, fresh, figures):
    """Describe the path of the air in ``n`` solved networks.

    ``heat`` (n, nz) [W] weights the zones and says which are heated (above 1 W); ``hot_branch``, ``filtered``,
    ``two_way`` (nb,) are flags. ``fresh`` (n, nz) gets each zone's fresh share; ``figures`` (n, 6) the throughflow
    [kg/s], the heat-weighted fresh share, the filtered share of the inflow, the wrong-way share, the short-circuit
    share and the score: the mean of fresh, filtered, one less wrong-way and one less short-circuit share.
    """
    n, nb = m.shape
    a = np.empty((nz, nz))
    heated = np.zeros(nz, dtype=np.bool_)
    for k in range(n):
        for z in range(nz):
            heated[z] = heat[k, z] > HEATED_W
        _fresh(nz, nb, frm, to, m[k], heated, hot_branch, a, fresh[k])
        inflow, clean, wrong, short = 1e-15, 0.0, 0.0, 0.0
        for b in range(nb):
            flow = abs(m[k, b])
            up, down = (frm[b], to[b]) if m[k, b] >= 0.0 else (to[b], frm[b])
            if up == nz:
                inflow += flow
                clean += flow if filtered[b] else 0.0
            if down == nz and up < nz and not heated[up] and not hot_branch[b]:
                short += flow * fresh[k, up]
        for b in range(nb):
            if not two_way[b] and m[k, b] < -WRONG_WAY_SHARE * inflow:
                wrong -= m[k, b]
        figures[k, 0] = inflow
        figures[k, 1] = heat_weighted(heat[k], fresh[k])
        figures[k, 2] = clean / inflow
        figures[k, 3] = min(wrong / inflow, 1.0)
        figures[k, 4] = min(short / inflow, 1.0)
        figures[k, 5] = 0.25 * (figures[k, 1] + figures[k, 2] + 2.0 - figures[k, 3] - figures[k, 4])
