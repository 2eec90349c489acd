"""Flow laws of branches, many networks side by side: what a loss, a fan or a table leaves over of the pressure.

A law gives the pressure [Pa] that a mass flow loses; every lane of a branch gets the pressure left over (REST) and the
inverse slope of its law (SLOPE), and every lane its largest flow correction. METHODS.md has the equations.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit

from advisor.engine.airflow.lanes import (
    DENSITY,
    ERROR,
    FALL,
    LARGEST,
    LEAST,
    LIGHT,
    LINEAR,
    PRESSURE,
    QUADRATIC,
    REACH,
    REST,
    RISING,
    SLOPE,
    THIN,
    THRUST,
    VECTORS,
    X,
)

PASSIVE, FAN, TABLE = 0, 1, 2  # a table is piecewise linear in |flow|


class Curves(NamedTuple):
    """Curves end to end: first and last piece of each, piece starts, coefficients, ends, tails, densities."""

    first: np.ndarray
    last: np.ndarray
    starts: np.ndarray
    pieces: np.ndarray
    end: np.ndarray
    tail: np.ndarray
    density: np.ndarray


@njit(cache=True, nogil=True, error_model="numpy")
def curve_at(x, c, curves):
    """Return pressure and slope of curve ``c`` at flow ``x``."""
    first, starts, pieces = curves.first[c], curves.starts, curves.pieces
    if x < starts[first]:
        d, slope, tail = x - starts[first], pieces[first, 1], curves.tail[c]
        return pieces[first, 0] + d * (slope + tail * d), slope + 2.0 * tail * d
    k = first
    while k < curves.last[c] - 1 and x >= starts[k + 1]:
        k += 1
    over = max(x - curves.end[c], 0.0)
    d = x - over - starts[k]
    c1, c2, c3 = pieces[k, 1], pieces[k, 2], pieces[k, 3]
    slope = c1 + d * (2.0 * c2 + 3.0 * d * c3)
    p = pieces[k, 0] + d * (c1 + d * (c2 + d * c3)) + over * (slope - curves.tail[c] * over)
    return p, slope - 2.0 * curves.tail[c] * over


@njit(cache=True, nogil=True, error_model="numpy")
def table_at(x, c, curves):
    """Return loss and slope of table ``c`` at flow ``x`` from zero up."""
    first, last = curves.first[c], curves.last[c]
    k = _piece(x, first, last, (last - first) / (curves.end[c] - curves.starts[first]), curves.starts)
    slope = curves.pieces[k, 1]
    return curves.pieces[k, 0] + slope * (x - curves.starts[k]), slope


@njit(**VECTORS)
def _piece(x, first, last, pieces_a_flow, starts):
    """Index of a table's piece that holds ``x``, found at once where its pieces are of one width."""
    k = min(first + int((x - starts[first]) * pieces_a_flow), last - 1)
    while k > first and x < starts[k]:
        k -= 1
    while k < last - 1 and x >= starts[k + 1]:
        k += 1
    return k


@njit(**VECTORS)
def lose(width, b, i, j, up, down, flow, branch, zone, lanes):
    """A branch that only loses."""
    for lane in range(width):
        m = flow[b, lane]
        size, least = abs(m), branch[b, LEAST, lane]
        thin_i, thin_j = zone[i, THIN, lane], zone[j, THIN, lane]
        thin = thin_i if m >= 0.0 else thin_j
        linear, quadratic = branch[b, LINEAR, lane], branch[b, QUADRATIC, lane]
        drop = thin * (linear + quadratic * max(size, least)) * m
        slope = 1.0 / (thin * (linear + quadratic * (least if size < least else 2.0 * size)))
        push = up * zone[i, LIGHT, lane] - down * zone[j, LIGHT, lane]
        rest = zone[i, PRESSURE, lane] - zone[j, PRESSURE, lane] + push - drop
        branch[b, REST, lane] = rest
        branch[b, SLOPE, lane] = slope
        lanes[ERROR, lane] = max(lanes[ERROR, lane], abs(rest) * slope)
        lanes[LARGEST, lane] = max(lanes[LARGEST, lane], size)


@njit(**VECTORS)
def lose_and_drive(width, b, i, j, up, down, kind, c, curves, flow, branch, zone, lanes):
    """A branch with a fan or a tabulated loss besides its own loss."""
    for lane in range(width):
        m = flow[b, lane]
        size, least = abs(m), branch[b, LEAST, lane]
        thin_i, thin_j = zone[i, THIN, lane], zone[j, THIN, lane]
        thin = thin_i if m >= 0.0 else thin_j
        linear, quadratic = branch[b, LINEAR, lane], branch[b, QUADRATIC, lane]
        drop = thin * (linear + quadratic * max(size, least)) * m
        push = up * zone[i, LIGHT, lane] - down * zone[j, LIGHT, lane]
        branch[b, REST, lane] = zone[i, PRESSURE, lane] - zone[j, PRESSURE, lane] + push - drop
        branch[b, SLOPE, lane] = thin * (linear + quadratic * (least if size < least else 2.0 * size))
    if kind == FAN:
        _drive(width, b, i, c, curves, flow, branch, zone, lanes)
    else:
        _look_up(width, b, i, j, c, curves, flow, branch, zone)
    for lane in range(width):
        slope = 1.0 / branch[b, SLOPE, lane]
        branch[b, SLOPE, lane] = slope
        lanes[ERROR, lane] = max(lanes[ERROR, lane], abs(branch[b, REST, lane]) * slope)
        lanes[LARGEST, lane] = max(lanes[LARGEST, lane], abs(flow[b, lane]))


@njit(**VECTORS)
def _drive(width, b, i, c, curves, flow, branch, zone, lanes):
    """Add a fan's pressure and slope, in the density of its ``frm`` side.

    Every lane adds up the pieces of the curve that it has passed. Upstream density, whichever side that is, would leave
    a fan held at its shut-off pressure between warm and cold air without a flow that fits.
    """
    first, last, end, tail = curves.first[c], curves.last[c], curves.end[c], curves.tail[c]
    s, p0, met = curves.starts[first], curves.pieces[first, 0], curves.pieces[first, 1]
    for lane in range(width):
        x = flow[b, lane] * zone[i, THIN, lane] * branch[b, REACH, lane]
        below = min(x - s, 0.0)
        branch[b, X, lane] = x
        branch[b, RISING, lane] = p0 + below * (met + tail * below)
        branch[b, FALL, lane] = met + 2.0 * tail * below
    for k in range(first, last):
        s, p1, p2, p3 = curves.starts[k], curves.pieces[k, 1], curves.pieces[k, 2], curves.pieces[k, 3]
        span, corner = (curves.starts[k + 1] if k < last - 1 else end) - s, p1 - met
        for lane in range(width):
            d = min(max(branch[b, X, lane] - s, 0.0), span)
            branch[b, RISING, lane] += d * (p1 + d * (p2 + d * p3))
            branch[b, FALL, lane] += (corner if branch[b, X, lane] >= s else 0.0) + d * (2.0 * p2 + 3.0 * d * p3)
        met = p1 + span * (2.0 * p2 + 3.0 * span * p3)
    for lane in range(width):
        over = max(branch[b, X, lane] - end, 0.0)
        p = branch[b, RISING, lane] + over * (met - tail * over)
        slope = branch[b, FALL, lane] - 2.0 * tail * over
        branch[b, REST, lane] += branch[b, THRUST, lane] * (lanes[DENSITY, lane] - zone[i, LIGHT, lane]) * p
        branch[b, SLOPE, lane] -= branch[b, THRUST, lane] * branch[b, REACH, lane] * slope


@njit(**VECTORS)
def _look_up(width, b, i, j, c, curves, flow, branch, zone):
    """Take a table's loss from the pressure left over."""
    first, last, starts, pieces = curves.first[c], curves.last[c], curves.starts, curves.pieces
    pieces_a_flow = (last - first) / (curves.end[c] - starts[first])
    for lane in range(width):
        m = flow[b, lane]
        thin = zone[i, THIN, lane] if m >= 0.0 else zone[j, THIN, lane]
        x = abs(m) * thin
        k = _piece(x, first, last, pieces_a_flow, starts)
        slope = pieces[k, 1]
        p = pieces[k, 0] + slope * (x - starts[k])
        branch[b, REST, lane] -= p if m >= 0.0 else -p
        branch[b, SLOPE, lane] += slope * thin
