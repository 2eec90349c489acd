"""The compiled network kernel: Newton on branch flows and zone pressures, many networks of one shape side by side.

Global gradient algorithm (Todini & Pilati 1988); each step also takes the zones' rises along, towards those that the
new flows make. A lane takes the next network as soon as its own has settled, and no lane looks at another, so that no
result depends on the networks beside it. The few that do not settle so are finished one by one (``settling``).
``solver.py`` is the way in; METHODS.md has the equations. Branches run from ``frm`` to ``to``; index ``nz`` is outside.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from advisor.engine.airflow.lanes import (
    BRANCH_ROWS,
    DONE,
    ERROR,
    LANE_ROWS,
    LANES,
    LARGEST,
    VECTORS,
    ZONE_ROWS,
    make_rises,
    solve_pressures,
)
from advisor.engine.airflow.laws import FAN, PASSIVE, TABLE, lose, lose_and_drive
from advisor.engine.airflow.loading import carries_heat, hand_out, lanes_for, load_branches, load_zones, middles, store
from advisor.engine.airflow.moving import (
    BREATH,
    COUPLED,
    GIVEN,
    ISOTHERMAL,
    follow,
    mark_done,
    move,
    move_with_care,
    warm,
    weigh,
)
from advisor.engine.airflow.response import heights
from advisor.engine.airflow.settling import ACCEPTED_RESIDUAL, next_trial, prepare_search

__all__ = ["ACCEPTED_RESIDUAL", "FAN", "PASSIVE", "TABLE", "solve_batch"]


@njit(**VECTORS)
def _evaluate(width, mode, frm, to, kind, curve_of, up, down, curves, flow, branch, zone, lanes):
    """Pressure left over and inverse slope of every branch, and every lane's largest flow correction."""
    for lane in range(width):
        lanes[ERROR, lane] = 0.0
        lanes[LARGEST, lane] = BREATH
    for b in range(len(kind)):
        if kind[b] == PASSIVE:
            lose(width, b, frm[b], to[b], up[b], down[b], flow, branch, zone, lanes)
        else:
            lose_and_drive(
                width, b, frm[b], to[b], up[b], down[b], kind[b], curve_of[b], curves, flow, branch, zone, lanes
            )
    if mode == GIVEN:
        weigh(width, len(kind), branch, lanes)


@njit(cache=True, nogil=True, error_model="numpy")
def solve_batch(
    frm, to, kind, curve_of, z_zone, z_branch, curves, alpha, beta, speed, scale,
    wall, heat_zone, heat_branch, t_amb, rho_amb, mu_ratio, cp, coupled, m_out, p_out, rise_out, residual,
):  # fmt: skip
    """Solve ``n`` networks; flows (n, nb) [kg/s], pressures and rises (n, nz) are written into the ``_out`` arrays.

    ``alpha``, ``beta`` (n, nb) are losses of volume flow at the reference state, ``speed`` relative to the curve's
    own speed, ``scale`` the number of fans times their flow multiplier. With ``coupled`` zone temperatures from the
    given heat feed back through density and buoyancy; otherwise all air is at ambient. ``residual`` (n,) is the last
    flow correction over the largest flow, infinite where temperatures did not settle. Returns the steps of all.
    """
    n, nb, nz = alpha.shape[0], alpha.shape[1], wall.shape[1]
    flow, branch = np.empty((nb, LANES)), np.empty((nb, BRANCH_ROWS, LANES))
    zone, lanes = np.zeros((nz + 1, ZONE_ROWS, LANES)), np.zeros((LANE_ROWS, LANES))
    a, slot, middle = np.empty((nz, nz, LANES)), np.empty(LANES, dtype=np.int64), middles(curves)
    up, down = heights(nz, frm, to, z_zone, z_branch)
    hot = carries_heat(heat_branch)
    shape = (frm, to, kind, curve_of, up, down, curves)
    given = (alpha, beta, speed, scale, wall, heat_branch, t_amb, rho_amb, mu_ratio, cp)
    search, trial = prepare_search(nb, nz)
    which, flows, pressures, rises, left = np.arange(n), m_out, p_out, rise_out, residual
    mode, count, steps = COUPLED if coupled else ISOTHERMAL, n, 0.0
    while count > 0:
        following, slot[:], lanes[DONE] = 0, -1, 1.0
        width = lanes_for(count)
        while True:
            steps += store(width, mode, count, slot, flow, zone, lanes, flows, pressures, rises, left)
            following = hand_out(width, count, following, slot, lanes)
            if following >= count + width:
                break
            load_zones(
                width, mode, count, which, slot, kind, curve_of, middle, speed, wall, heat_zone, t_amb, rho_amb, cp,
                rises, zone, lanes,
            )  # fmt: skip
            load_branches(
                width, count, which, slot, frm, to, kind, curve_of, up, down, middle, alpha, beta, speed, scale,
                heat_branch, rho_amb, mu_ratio, flow, branch, zone, lanes,
            )  # fmt: skip
            done = False
            while not done:
                solve_pressures(width, nz, nb, frm, to, flow, branch, zone, a)
                if mode == GIVEN:
                    move_with_care(width, nz, nb, frm, to, flow, branch, zone, lanes)
                else:
                    move(width, nz, nb, frm, to, flow, branch, zone)
                if mode != ISOTHERMAL:
                    make_rises(width, nz, nb, frm, to, hot, flow, branch, zone, lanes, a)
                    follow(width, nz, zone, lanes)
                    warm(width, nz, zone, lanes)
                _evaluate(width, mode, frm, to, kind, curve_of, up, down, curves, flow, branch, zone, lanes)
                done = mark_done(width, mode, lanes)
        mode, count = GIVEN, next_trial(coupled, shape, given, search, trial, m_out, p_out, rise_out, residual)
        which, flows, pressures, rises, left, _ = trial
    return steps
