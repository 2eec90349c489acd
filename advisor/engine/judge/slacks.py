"""How far every part stays below its limit, for many fan settings, drives and supplies at once.

Slack is ``limit - (T + z*u)`` [K]: zero or more meets the limit at the brief's one-sided confidence. Rows are settings
(scenario, intake step, exhaust step); pairs are a drive model with a supply.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from advisor.engine.thermal.convection import (
    air_cooled_rise,
    air_cooled_slope,
    forced_film_and_slope,
    free_growth,
    radiation_film,
    settled_rise,
)
from advisor.engine.thermal.parts import DRIVE_FILM_U_REL, air_moments, air_rise, graphics, with_rise
from advisor.engine.thermal.temperatures import CAGE, FLOW_VARIANCE, OWN_FLOW, PASSING

PROCESSOR, GRAPHICS, DRIVE, SSD, CARD, CONTROLLER = range(6)
LIMIT_COUNT = 6
GRAPHICS_HEAT_U = 5  # column of the graphics board's figures
# Columns of the processor's air: rise, variance, covariances with ln(flow) and ln(own heat), ln(flow) variance,
# covariance of ln(flow) and ln(own heat).
PROCESSOR_AIR = 6
DRIVE_EMISSIVITY, DRIVE_VIEW = 0.5, 0.2  # neighbours see each other: little of a drive's radiation leaves (estimate)
DRIVE_WARMER_K = 10.0  # mean temperature of drive and air for the linear radiation term


@njit(cache=True, nogil=True, error_model="numpy")
def drive_own_rises(figures, scenario, models, limit_of, kind, cross, watts, surface, length, height, film, out):
    """Own rise of drives and its slopes by ln(flow) and ln(power) into ``out`` (models, n, nc, 3) [K].

    ``models`` (n, 2) are the first of the models that each row counts for, and the one after the last. ``watts``
    (models, 5); ``film`` (5, 5): temperature, density, viscosity, conductivity, Prandtl number by scenario.
    """
    growth, scale, h_rad = np.empty((5, watts.shape[0])), np.empty((5, watts.shape[0])), np.empty(5)
    for s in range(5):
        t, rho, mu, lam, pr = film[s, 0], film[s, 1], film[s, 2], film[s, 3], film[s, 4]
        h_rad[s] = radiation_film(t + DRIVE_WARMER_K, DRIVE_EMISSIVITY, DRIVE_VIEW)
        for v in range(watts.shape[0]):
            growth[s, v], scale[s, v] = free_growth(height[v], t, rho, mu, lam, pr)
    for k in range(figures.shape[0]):
        s = scenario[k]
        rho, mu, lam, pr = film[s, 1], film[s, 2], film[s, 3], film[s, 4]
        for c in range(limit_of.shape[0]):
            if limit_of[c] != DRIVE:
                continue
            speed = figures[k, c, PASSING] / cross[c] if kind[c] == CAGE else 0.0
            for v in range(models[k, 0], models[k, 1]):
                forced, forced_slope = forced_film_and_slope(speed, length[v], rho, mu, lam, pr)
                rise, by_speed, by_power = settled_rise(
                    watts[v, s], surface[v], forced, forced_slope, growth[s, v], scale[s, v], h_rad[s]
                )
                out[v, k, c, 0] = rise
                out[v, k, c, 1] = by_speed * speed
                out[v, k, c, 2] = by_power * watts[v, s]


@njit(cache=True, nogil=True, error_model="numpy")
def own_part(passing, c, s, limit_of, cross, own, gpu, cooled, density, heat_u):
    """What one component other than the processor adds to its air: the same for all heats of drives and supplies.

    Own rise [K], its slopes by ln(flow) and ln(own heat), its own variance [K2], and the uncertainty of its heat.
    ``own`` (3,) is a drive's rise with slopes; ``gpu`` (5 watts by scenario, then heat_u, r, r_u, n, n_u); ``cooled``
    (nc, 3): rise at need [K], needed speed [m/s], relative uncertainty.
    """
    if limit_of[c] == GRAPHICS:
        rise, slope, local = graphics(passing, gpu[s], gpu[6], gpu[7], gpu[8], gpu[9], density)
        return rise, slope, rise, local, gpu[GRAPHICS_HEAT_U]
    if limit_of[c] == DRIVE:
        return own[0], own[1], own[2], (DRIVE_FILM_U_REL * own[0]) ** 2, heat_u
    speed = passing / cross[c]
    rise = air_cooled_rise(cooled[c, 0], speed, cooled[c, 1])
    slope = air_cooled_slope(cooled[c, 0], speed, cooled[c, 1]) * speed
    return rise, slope, 0.0, (cooled[c, 2] * rise) ** 2, 0.0


@njit(cache=True, nogil=True, error_model="numpy")
def part_temperature(fig, c, s, d, loss, limit_of, cross, own, gpu, cooled, density, heat_u):
    """Rise over ambient [K] and variance of one component other than the processor; see ``own_part``."""
    part = own_part(fig[PASSING], c, s, limit_of, cross, own, gpu, cooled, density, heat_u)
    return with_rise(fig, d, loss, part[0], part[1], part[2], part[3], part[4])


@njit(cache=True, nogil=True, error_model="numpy")
def part_slacks(
    figures, scenario, users, limit_of, cross, own_rises, gpu, cooled, t_amb, density, heat_u, z,
    model_of, drives_w, loss_w, limits, slack, processor_air,
):  # fmt: skip
    """Fill ``slack`` (pairs, n, limits) for all parts but the processor and ``processor_air`` (pairs, n, 6).

    ``users`` (n, 2) are the first of the pairs that each row counts for, and the one after the last; the others'
    stay unfilled. ``model_of`` (pairs,) picks the drive model's ``own_rises``; ``drives_w``, ``loss_w`` (pairs, 5);
    ``limits`` (pairs, 6) [degC], infinite where a part is absent.
    """
    for k in range(figures.shape[0]):
        s, first, last = scenario[k], users[k, 0], users[k, 1]
        for p in range(first, last):
            d, loss = drives_w[p, s], loss_w[p, s]
            variance, by_flow, by_heat = air_moments(figures[k, 0], d, loss)
            processor_air[p, k, 0] = air_rise(figures[k, 0], d, loss)
            processor_air[p, k, 1] = variance
            processor_air[p, k, 2] = by_flow
            processor_air[p, k, 3] = by_heat
            processor_air[p, k, 4] = figures[k, 0, FLOW_VARIANCE]
            processor_air[p, k, 5] = figures[k, 0, OWN_FLOW]
            slack[p, k, :] = np.inf
        for c in range(1, limit_of.shape[0]):
            limit, fig = limit_of[c], figures[k, c]
            for p in range(first, last):
                if p == first or limit == DRIVE:  # other parts are the same for all pairs
                    own = own_rises[model_of[p], k, c]
                    part = own_part(fig[PASSING], c, s, limit_of, cross, own, gpu, cooled, density[s], heat_u)
                rise, var = with_rise(fig, drives_w[p, s], loss_w[p, s], part[0], part[1], part[2], part[3], part[4])
                left = limits[p, limit] - t_amb[s] - rise - z * math.sqrt(max(var, 0.0))
                slack[p, k, limit] = min(slack[p, k, limit], left)
