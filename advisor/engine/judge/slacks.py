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
    drive_rise_and_slopes,
    radiation_film,
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
def drive_own_rises(figures, scenario, limit_of, kind, cross, watts, surface, length, height, film, out):
    """Own rise of drives and its slopes by ln(flow) and ln(power) into ``out`` (models, n, nc, 3) [K].

    ``watts`` (models, 5); ``film`` (5, 5): temperature, density, viscosity, conductivity, Prandtl number by scenario.
    """
    models, n = watts.shape[0], figures.shape[0]
    for v in range(models):
        for k in range(n):
            s = scenario[k]
            t, rho, mu, lam, pr = film[s, 0], film[s, 1], film[s, 2], film[s, 3], film[s, 4]
            h_rad = radiation_film(t + DRIVE_WARMER_K, DRIVE_EMISSIVITY, DRIVE_VIEW)
            for c in range(limit_of.shape[0]):
                if limit_of[c] != DRIVE:
                    continue
                speed = figures[k, c, PASSING] / cross[c] if kind[c] == CAGE else 0.0
                rise, by_speed, by_power = drive_rise_and_slopes(
                    watts[v, s], surface[v], speed, length[v], height[v], t, rho, mu, lam, pr, h_rad
                )
                out[v, k, c, 0] = rise
                out[v, k, c, 1] = by_speed * speed
                out[v, k, c, 2] = by_power * watts[v, s]


@njit(cache=True, nogil=True, error_model="numpy")
def part_temperature(fig, c, s, d, loss, limit_of, cross, own, gpu, cooled, density, heat_u):
    """Rise over ambient [K] and variance of one component other than the processor.

    ``own`` (3,) is a drive's rise with slopes; ``gpu`` (5 watts by scenario, then heat_u, r, r_u, n, n_u); ``cooled``
    (nc, 3): rise at need [K], needed speed [m/s], relative uncertainty.
    """
    if limit_of[c] == GRAPHICS:
        return graphics(fig, d, loss, gpu[s], gpu[5], gpu[6], gpu[7], gpu[8], gpu[9], density)
    if limit_of[c] == DRIVE:
        return with_rise(fig, d, loss, own[0], own[1], own[2], DRIVE_FILM_U_REL * own[0], heat_u)
    speed = fig[PASSING] / cross[c]
    rise = air_cooled_rise(cooled[c, 0], speed, cooled[c, 1])
    slope = air_cooled_slope(cooled[c, 0], speed, cooled[c, 1]) * speed
    return with_rise(fig, d, loss, rise, slope, 0.0, cooled[c, 2] * rise, 0.0)


@njit(cache=True, nogil=True, error_model="numpy")
def part_slacks(
    figures, scenario, limit_of, cross, own_rises, gpu, cooled, t_amb, density, heat_u, z,
    model_of, drives_w, loss_w, limits, slack, processor_air,
):  # fmt: skip
    """Fill ``slack`` (pairs, n, limits) for all parts but the processor and ``processor_air`` (pairs, n, 6).

    ``model_of`` (pairs,) picks the drive model's ``own_rises``; ``drives_w``, ``loss_w`` (pairs, 5); ``limits``
    (pairs, 6) [degC], infinite where a part is absent.
    """
    pairs, n, nc = model_of.shape[0], figures.shape[0], limit_of.shape[0]
    for p in range(pairs):
        v = model_of[p]
        for k in range(n):
            s = scenario[k]
            d, loss = drives_w[p, s], loss_w[p, s]
            for limit in range(LIMIT_COUNT):
                slack[p, k, limit] = np.inf
            variance, by_flow, by_heat = air_moments(figures[k, 0], d, loss)
            processor_air[p, k, 0] = air_rise(figures[k, 0], d, loss)
            processor_air[p, k, 1] = variance
            processor_air[p, k, 2] = by_flow
            processor_air[p, k, 3] = by_heat
            processor_air[p, k, 4] = figures[k, 0, FLOW_VARIANCE]
            processor_air[p, k, 5] = figures[k, 0, OWN_FLOW]
            for c in range(1, nc):
                limit = limit_of[c]
                rise, var = part_temperature(
                    figures[k, c], c, s, d, loss, limit_of, cross, own_rises[v, k, c], gpu, cooled, density[s], heat_u
                )
                left = limits[p, limit] - t_amb[s] - rise - z * math.sqrt(max(var, 0.0))
                slack[p, k, limit] = min(slack[p, k, limit], left)
