"""Networks into lanes and answers out of them; a lane takes the next network as soon as its own has settled."""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from advisor.engine.airflow.lanes import (
    CAPACITY,
    CHANGE,
    DENSITY,
    DONE,
    ERROR,
    FRESH,
    HEAT,
    KEEP,
    KELVIN,
    LANES,
    LARGEST,
    LEAST,
    LIGHT,
    LINEAR,
    MADE,
    PRESSURE,
    QUADRATIC,
    REACH,
    RELAX,
    REST,
    RISE,
    SLOPE,
    SOURCE,
    STEPS,
    THIN,
    THRUST,
    TYPICAL,
    VECTORS,
    WALL,
)
from advisor.engine.airflow.laws import FAN, PASSIVE, TABLE, curve_at
from advisor.engine.airflow.moving import COUPLED, GIVEN, RISE_TOLERANCE
from advisor.engine.constants import LINEAR_BELOW_PA, REFERENCE_DENSITY, ZERO_CELSIUS_K

# Columns of what a curve is in the middle of its range.
_FLOW, _PRESSURE, _FALL, _TAIL, _DENSITY, _CURVE_COLUMNS = range(6)
# Where nothing runs: first guess of all rises [K], share of each correction taken, pressure over an opening [Pa].
_STILL_RISE, _STILL_RELAX, _STILL_PRESSURE = 5.0, 0.6, 0.02
_DRIVEN_SHARE = 0.3  # of the fans' pressure, over a typical opening


@njit(cache=True, nogil=True, error_model="numpy")
def middles(curves):
    """Where every curve is started from: the middle of its range."""
    found = np.zeros((len(curves.end), _CURVE_COLUMNS))
    for c in range(len(curves.end)):
        found[c, _FLOW], found[c, _TAIL], found[c, _DENSITY] = 0.5 * curves.end[c], curves.tail[c], curves.density[c]
        found[c, _PRESSURE], found[c, _FALL] = curve_at(0.5 * curves.end[c], c, curves)
    return found


@njit(cache=True, nogil=True, error_model="numpy")
def lanes_for(count):
    """How many lanes to use for ``count`` networks: whole vectors of 8, as full as may be in as few rounds."""
    rounds = (count + LANES - 1) // LANES
    return 8 * ((count + 8 * rounds - 1) // (8 * rounds))


@njit(cache=True, nogil=True, error_model="numpy")
def carries_heat(heat_branch):
    """Which branches (nb,) carry heat in any network."""
    found = np.zeros(heat_branch.shape[1], dtype=np.bool_)
    for k in range(heat_branch.shape[0]):
        for b in range(heat_branch.shape[1]):
            found[b] = found[b] or heat_branch[k, b] != 0.0
    return found


@njit(**VECTORS)
def _loss_rate(drop, linear, quadratic):
    """Flow over drop where a loss ``linear*q + quadratic*q*q`` takes a given drop; zero where there is no loss."""
    root = linear + math.sqrt(linear * linear + 4.0 * drop * quadratic)
    return 2.0 / root if root > 0.0 else 0.0


@njit(**VECTORS)
def store(width, mode, count, slot, flow, zone, lanes, flows, pressures, rises, residual):
    """Write the networks of finished lanes to the answers; return how many steps they took."""
    steps = 0.0
    for lane in range(width):
        k = slot[lane]
        if lanes[DONE, lane] == 0.0 or k < 0 or k >= count:
            continue
        for b in range(flow.shape[0]):
            flows[k, b] = flow[b, lane]
        for i in range(zone.shape[0] - 1):
            pressures[k, i], rises[k, i] = zone[i, PRESSURE, lane], zone[i, MADE, lane]
        settled = mode != COUPLED or lanes[CHANGE, lane] <= RISE_TOLERANCE
        residual[k] = lanes[ERROR, lane] / lanes[LARGEST, lane] if settled else np.inf
        steps += lanes[STEPS, lane]
    return steps


@njit(**VECTORS)
def hand_out(width, count, following, slot, lanes):
    """Give finished lanes their next network, FRESH; return the number of the first network that is left.

    A lane without one idles with a number of ``count`` or more, on the last network.
    """
    for lane in range(width):
        waiting = lanes[DONE, lane] > 0.0 and slot[lane] < count
        lanes[FRESH, lane] = 1.0 if waiting and (following < count or slot[lane] < 0) else 0.0
        if waiting:
            slot[lane] = following
            following += 1
    return following


@njit(**VECTORS)
def load_zones(
    width,
    mode,
    count,
    which,
    slot,
    kind,
    curve_of,
    middle,
    speed,
    wall,
    heat_zone,
    t_amb,
    rho_amb,
    cp,
    rises,
    zone,
    lanes,
):
    """Put room and zones into fresh lanes, with rises to start from."""
    nz = zone.shape[0] - 1
    for lane in range(width):
        if lanes[FRESH, lane] == 0.0:
            continue
        at = min(slot[lane], count - 1)
        k, driven, fans = which[at], 0.0, 0.0
        for b in range(len(kind)):
            if kind[b] == FAN and speed[k, b] > 0.0:
                driven += middle[curve_of[b], _PRESSURE] * speed[k, b] ** 2
                fans += 1.0
        still = fans == 0.0
        lanes[TYPICAL, lane] = _STILL_PRESSURE if still else _DRIVEN_SHARE * driven / fans
        lanes[RELAX, lane] = 0.0 if mode == GIVEN else (_STILL_RELAX if still else 1.0)
        lanes[STEPS, lane], lanes[KEEP, lane], lanes[CAPACITY, lane] = 0.0, 1.0, cp[k]
        kelvin, density = t_amb[k] + ZERO_CELSIUS_K, rho_amb[k]
        lanes[KELVIN, lane], lanes[DENSITY, lane] = kelvin, density
        zone[nz, THIN, lane] = 1.0 / density
        for i in range(nz):
            rise = rises[at, i] if mode == GIVEN else (_STILL_RISE if still and mode == COUPLED else 0.0)
            zone[i, WALL, lane], zone[i, SOURCE, lane] = wall[k, i], heat_zone[k, i]
            zone[i, RISE, lane], zone[i, MADE, lane], zone[i, PRESSURE, lane] = rise, 0.0, 0.0
            zone[i, LIGHT, lane] = density * rise / (kelvin + rise)
            zone[i, THIN, lane] = (kelvin + rise) / (density * kelvin)


@njit(**VECTORS)
def load_branches(
    width, count, which, slot, frm, to, kind, curve_of, up, down, middle, alpha, beta, speed, scale, heat_branch,
    rho_amb, mu_ratio, flow, branch, zone, lanes,
):  # fmt: skip
    """Put branches into fresh lanes, each with a flow to start from, its pressure left over and inverse slope."""
    for lane in range(width):
        if lanes[FRESH, lane] == 0.0:
            continue
        k = which[min(slot[lane], count - 1)]
        density, thicker, typical = rho_amb[k], mu_ratio[k], lanes[TYPICAL, lane]
        thin = 1.0 / density
        for b in range(len(kind)):
            linear, quadratic = alpha[k, b] * thicker, beta[k, b] * (1.0 / REFERENCE_DENSITY)
            m, reach, thrust, slope = 0.0, 0.0, 0.0, 0.0
            rest = up[b] * zone[frm[b], LIGHT, lane] - down[b] * zone[to[b], LIGHT, lane]
            if kind[b] != PASSIVE:
                c, w, s = curve_of[b], speed[k, b], scale[k, b]
                if kind[b] == TABLE:
                    slope = middle[c, _FLOW] * density / math.sqrt(typical * middle[c, _PRESSURE])
                elif w > 0.0:
                    reach, thrust = 1.0 / (w * s), w * w / middle[c, _DENSITY]
                    m = middle[c, _FLOW] * density * w * s
                    rest += thrust * density * middle[c, _PRESSURE] - thin * (linear + quadratic * m) * m
                    slope = 1.0 / (thin * (linear + 2.0 * quadratic * m) - thrust * reach * middle[c, _FALL])
                else:
                    quadratic += middle[c, _TAIL] / (middle[c, _DENSITY] * s * s)
                branch[b, THRUST, lane], branch[b, REACH, lane] = thrust, reach
            if slope == 0.0:
                slope = density * _loss_rate(typical * density, linear, quadratic)
            flow[b, lane], branch[b, REST, lane], branch[b, SLOPE, lane] = m, rest, slope
            branch[b, LINEAR, lane], branch[b, QUADRATIC, lane] = linear, quadratic
            branch[b, LEAST, lane] = (density * LINEAR_BELOW_PA) * _loss_rate(
                density * LINEAR_BELOW_PA, linear, quadratic
            )
            branch[b, HEAT, lane] = heat_branch[k, b]
