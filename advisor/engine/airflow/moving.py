"""What one Newton step does to flows, pressures and rises, and when a network has settled."""

from __future__ import annotations

from numba import njit

from advisor.engine.airflow.lanes import (
    ACROSS,
    ALONG,
    CHANGE,
    CORRECTION,
    DENSITY,
    DONE,
    ERROR,
    KEEP,
    KELVIN,
    LARGEST,
    LEFT,
    LIGHT,
    MADE,
    MOVED,
    PRESSURE,
    RELAX,
    REST,
    RISE,
    SHIFT,
    SLOPE,
    STEPS,
    THIN,
    VECTORS,
    WAS,
    WORK,
    X,
)

ISOTHERMAL, COUPLED, GIVEN = 0, 1, 2  # zone temperatures: the room's, those that the heat makes, or given rises
FLOW_TOLERANCE = 1e-11  # of the largest flow
RISE_TOLERANCE = 1e-9  # K
BREATH = 1e-5  # kg/s; where less moves, flow corrections are measured by this
_MOST_STEPS, _MOST_STEPS_GIVEN = 40, 400
# Share of an error's change that the next step takes back (Anderson acceleration), from its third step on.
_LEAST_BACK, _MOST_BACK, _FIRST_BACK = -4.0, 1.0, 3.0


@njit(**VECTORS)
def move(width, nz, nb, frm, to, flow, branch, zone):
    """Correct flows and pressures."""
    for b in range(nb):
        i, j = frm[b], to[b]
        for lane in range(width):
            branch[b, X, lane] = zone[i, CORRECTION, lane] - zone[j, CORRECTION, lane]
        for lane in range(width):
            flow[b, lane] += branch[b, SLOPE, lane] * (branch[b, REST, lane] + branch[b, X, lane])
    for i in range(nz):
        for lane in range(width):
            zone[i, PRESSURE, lane] += zone[i, CORRECTION, lane]


@njit(**VECTORS)
def move_with_care(width, nz, nb, frm, to, flow, branch, zone, lanes):
    """Correct flows and pressures of lanes whose KEEP is 1; take others back to that share of their last correction."""
    for lane in range(width):
        lanes[ALONG, lane] = 0.0
    for b in range(nb):
        i, j = frm[b], to[b]
        for lane in range(width):
            rest = branch[b, REST, lane] + zone[i, CORRECTION, lane] - zone[j, CORRECTION, lane]
            step, keep = branch[b, SLOPE, lane] * rest, lanes[KEEP, lane]
            lanes[ALONG, lane] += step * rest
            flow[b, lane] += step if keep == 1.0 else (keep - 1.0) * branch[b, MOVED, lane]
            branch[b, MOVED, lane] = step if keep == 1.0 else keep * branch[b, MOVED, lane]
    for i in range(nz):
        for lane in range(width):
            step, keep = zone[i, CORRECTION, lane], lanes[KEEP, lane]
            zone[i, PRESSURE, lane] += step if keep == 1.0 else (keep - 1.0) * zone[i, SHIFT, lane]
            zone[i, SHIFT, lane] = step if keep == 1.0 else keep * zone[i, SHIFT, lane]
    for lane in range(width):
        keep = lanes[KEEP, lane]
        lanes[WORK, lane] = lanes[ALONG, lane] if keep == 1.0 else keep * lanes[WORK, lane]


@njit(**VECTORS)
def weigh(width, nb, branch, lanes):
    """Decide which lanes keep their last correction.

    Corrections of balanced flows lower a convex energy. Its slope along the correction was WORK and must not have
    turned around by more than half of that. The first correction of all only balances the flows.
    """
    for lane in range(width):
        lanes[ALONG, lane] = 0.0
    for b in range(nb):
        for lane in range(width):
            lanes[ALONG, lane] += branch[b, REST, lane] * branch[b, MOVED, lane]
    for lane in range(width):
        over, work = lanes[ALONG, lane], lanes[WORK, lane]
        beyond = over < -0.5 * work and lanes[STEPS, lane] > 0.0
        lanes[KEEP, lane] = max(work / (work - over), 0.1) if beyond else 1.0


@njit(**VECTORS)
def warm(width, nz, zone, lanes):
    """Turn rises into what every zone's air weighs less than the room's [kg/m3], and its specific volume [m3/kg]."""
    for i in range(nz):
        for lane in range(width):
            kelvin = lanes[KELVIN, lane] + zone[i, RISE, lane]
            zone[i, LIGHT, lane] = lanes[DENSITY, lane] * zone[i, RISE, lane] / kelvin
            zone[i, THIN, lane] = kelvin / (lanes[DENSITY, lane] * lanes[KELVIN, lane])


@njit(**VECTORS)
def follow(width, nz, zone, lanes):
    """Move rises to where their last two errors point (Anderson 1965, depth one)."""
    for lane in range(width):
        lanes[ALONG, lane] = 0.0
        lanes[ACROSS, lane] = 1e-300
    for i in range(nz):
        for lane in range(width):
            left = zone[i, MADE, lane] - zone[i, RISE, lane]
            turn = left - zone[i, LEFT, lane]
            lanes[ALONG, lane] += left * turn
            lanes[ACROSS, lane] += turn * turn
    for lane in range(width):
        share = min(max(lanes[ALONG, lane] / lanes[ACROSS, lane], _LEAST_BACK), _MOST_BACK)
        lanes[ALONG, lane] = share if lanes[STEPS, lane] >= _FIRST_BACK else 0.0
        lanes[CHANGE, lane] = 0.0
    for i in range(nz):
        for lane in range(width):
            rise, made = zone[i, RISE, lane], zone[i, MADE, lane]
            left = made - rise
            back = lanes[ALONG, lane] * (rise - zone[i, WAS, lane] + left - zone[i, LEFT, lane])
            new = max(rise + lanes[RELAX, lane] * (left - back), 0.0)
            zone[i, WAS, lane] = rise
            zone[i, LEFT, lane] = left
            zone[i, RISE, lane] = new
            lanes[CHANGE, lane] = max(lanes[CHANGE, lane], abs(made - new))


@njit(**VECTORS)
def mark_done(width, mode, lanes):
    """Mark lanes whose network has settled or has had its steps; return whether there are any."""
    coupled, found = 1.0 if mode == COUPLED else 0.0, 0.0
    most = _MOST_STEPS_GIVEN if mode == GIVEN else _MOST_STEPS
    for lane in range(width):
        lanes[STEPS, lane] += 1.0
        settled = 1.0 if lanes[ERROR, lane] <= FLOW_TOLERANCE * lanes[LARGEST, lane] else 0.0
        settled *= 1.0 if coupled * lanes[CHANGE, lane] <= RISE_TOLERANCE else 0.0
        lanes[DONE, lane] = max(settled, 1.0 if lanes[STEPS, lane] >= most else 0.0)
        found = max(found, lanes[DONE, lane])
    return found > 0.0
