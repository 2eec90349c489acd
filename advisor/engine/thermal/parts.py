"""Temperatures of parts from the air at them, with standard uncertainties; equations in METHODS.md, 'Heat'.

Compiled scalars that the pipeline and the search share, so that both always mean the same. ``figures`` is one
component's
row of ``temperatures.component_air``; ``drives_w`` and ``loss_w`` are the heat of all drives and the supply's loss.
"""

from __future__ import annotations

import math

from numba import njit

from advisor.engine.constants import (
    DISCREPANCY_CONFIGURATION_K,
    DISCREPANCY_ENCLOSURE_K,
    PASSING_FLOW_FLOOR_M3S,
    REFERENCE_DENSITY,
    REFERENCE_PASSING_FLOW_M3S,
)
from advisor.engine.thermal.temperatures import AIR, CROSS, FLOW_VARIANCE, OWN_FLOW, OWN_HEAT, PASSING, VARIANCE

DENSITY_EXPONENT = -0.7
DISCREPANCY_VARIANCE = DISCREPANCY_ENCLOSURE_K**2 + DISCREPANCY_CONFIGURATION_K**2
DRIVE_FILM_U_REL = 0.2  # of a drive's own rise: film correlations on bluff bodies (estimate)


@njit(cache=True, nogil=True, error_model="numpy")
def air_rise(figures, drives_w, loss_w):
    """Rise [K] of the air at a component over ambient."""
    return figures[AIR] + drives_w * figures[AIR + 1] + loss_w * figures[AIR + 2]


@njit(cache=True, nogil=True, error_model="numpy")
def air_moments(figures, drives_w, loss_w):
    """Variance of the air's rise, its covariance with ln(passing flow) and with ln(own heat)."""
    d, s, v = drives_w, loss_w, VARIANCE
    variance = figures[v] + d * d * figures[v + 3] + s * s * figures[v + 5]
    variance += 2.0 * (d * figures[v + 1] + s * figures[v + 2] + d * s * figures[v + 4])
    by_flow = figures[CROSS] + d * figures[CROSS + 1] + s * figures[CROSS + 2]
    by_heat = figures[OWN_HEAT] + d * figures[OWN_HEAT + 1] + s * figures[OWN_HEAT + 2]
    return variance, by_flow, by_heat


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def with_own(variance, by_flow, by_heat, flow_variance, flow_heat, slope, own, heat_u):
    """Variance [K2] of air plus own rise.

    ``slope`` is the own rise's derivative by ln(passing flow), ``own`` by ln(own heat) with relative uncertainty
    ``heat_u``; the covariances come from ``air_moments`` and the component's figures.
    """
    moving = variance + slope * (2.0 * by_flow + slope * flow_variance)
    return moving + own * (2.0 * (by_heat + slope * flow_heat) + own * heat_u * heat_u)


@njit(cache=True, nogil=True, error_model="numpy")
def passing_factor(passing_m3s, exponent, density):
    """``(Q/Q_ref)^-n (rho/rho_ref)^-0.7``, its logarithm's slope by ln Q, and ln(Q/Q_ref).

    The component's own fan stirs, so the passing flow counts as ``sqrt(Q^2 + Q_floor^2)``.
    """
    square = passing_m3s * passing_m3s
    stirred = square + PASSING_FLOW_FLOOR_M3S * PASSING_FLOW_FLOOR_M3S
    decade = 0.5 * math.log(stirred) - math.log(REFERENCE_PASSING_FLOW_M3S)
    factor = math.exp(-exponent * decade + DENSITY_EXPONENT * math.log(density / REFERENCE_DENSITY))
    return factor, -exponent * square / stirred, decade


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def processor_local_variance(watts, inner, inner_u, solid, air, r_u, decade, exponent_u, speed_log, speed_u):
    """Variance [K2] of what only this processor and its cooler bring: resistances and exponents, and discrepancy.

    ``air`` is R_air at this speed and flow [K/W], ``speed_log`` ln(rpm/max_rpm), ``decade`` ln(Q/Q_ref).
    """
    a = watts * inner * inner_u
    b = watts * (solid + air) * r_u
    c = watts * air * decade * exponent_u
    d = watts * air * speed_log * speed_u
    return a * a + b * b + c * c + d * d + DISCREPANCY_VARIANCE


@njit(cache=True, nogil=True, error_model="numpy")
def processor(
    figures, drives_w, loss_w, watts, heat_u, inner, inner_u, solid, air_full, r_u, n, n_u, m, m_u, speed, density
):
    """Chip rise over ambient [K] and its variance [K2]; ``speed`` is the cooler fan's share of full (1 without a
    fan).
    """
    factor, by_flow_log, decade = passing_factor(figures[PASSING], n, density)
    speed_log = math.log(speed)
    air = air_full * math.exp(-m * speed_log) * factor
    own = watts * (inner + solid + air)
    slope = watts * air * by_flow_log
    variance, by_flow, by_heat = air_moments(figures, drives_w, loss_w)
    total = with_own(variance, by_flow, by_heat, figures[FLOW_VARIANCE], figures[OWN_FLOW], slope, own, heat_u)
    total += processor_local_variance(watts, inner, inner_u, solid, air, r_u, decade, n_u, speed_log, m_u)
    return air_rise(figures, drives_w, loss_w) + own, total


@njit(cache=True, nogil=True, error_model="numpy")
def graphics(passing_m3s, watts, r, r_u, n, n_u, density):
    """Graphics chip's rise over its air [K], its derivative by ln(passing flow), and its own variance [K2].

    ``r`` [K/W] holds at the reference flow.
    """
    factor, by_flow_log, decade = passing_factor(passing_m3s, n, density)
    own = watts * r * factor
    return own, own * by_flow_log, (own * r_u) ** 2 + (own * decade * n_u) ** 2


@njit(cache=True, nogil=True, error_model="numpy")
def with_rise(figures, drives_w, loss_w, rise, by_flow_log, by_heat_log, local, heat_u):
    """Rise over ambient [K] and variance [K2] of a part whose own ``rise`` is known with its slopes.

    ``by_flow_log`` and ``by_heat_log`` are d(rise)/d ln(flow) and d(rise)/d ln(own heat); ``local`` [K2] is the
    variance that its own rise alone brings.
    """
    variance, by_flow, by_heat = air_moments(figures, drives_w, loss_w)
    total = with_own(
        variance, by_flow, by_heat, figures[FLOW_VARIANCE], figures[OWN_FLOW], by_flow_log, by_heat_log, heat_u
    )
    return air_rise(figures, drives_w, loss_w) + rise, total + local + DISCREPANCY_VARIANCE
