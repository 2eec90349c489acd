"""Least rises of drives over their air, tabulated so that a bound need not solve for them."""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from advisor.engine.inputs import Drive
from advisor.engine.judge.arrays import CaseArrays, drive_arrays
from advisor.engine.judge.slacks import DRIVE_EMISSIVITY, DRIVE_VIEW, DRIVE_WARMER_K
from advisor.engine.thermal.convection import drive_rise_and_slopes, radiation_film

# Gap speeds at which drives' rises are tabulated [m/s], each 2.5 % above the last, from 1 cm/s to beyond 5 m/s.
LEAST_SPEED, SPEED_RATIO, SPEEDS = 0.01, 1.025, 256


def least_rises(arrays: CaseArrays, drives: tuple[Drive | None, ...]) -> np.ndarray:
    """Own rises (models, 5, SPEEDS) of drives at rising gap speeds; between two, a drive rises at least as at the
    faster.
    """
    shapes = drive_arrays(drives)
    found = np.empty((len(drives), 5, SPEEDS))
    _tabulate_rises(shapes.watts, shapes.surface, shapes.length, shapes.height, arrays.film, found)
    return found


@njit(cache=True, nogil=True, error_model="numpy")
def _tabulate_rises(watts, surface, length, height, film, out):
    for v in range(out.shape[0]):
        for s in range(5):
            t, rho, mu, lam, pr = film[s, 0], film[s, 1], film[s, 2], film[s, 3], film[s, 4]
            h = radiation_film(t + DRIVE_WARMER_K, DRIVE_EMISSIVITY, DRIVE_VIEW)
            for k in range(SPEEDS):
                speed = LEAST_SPEED * SPEED_RATIO**k
                out[v, s, k] = drive_rise_and_slopes(
                    watts[v, s], surface[v], speed, length[v], height[v], t, rho, mu, lam, pr, h
                )[0]


@njit(cache=True, nogil=True, error_model="numpy")
def speed_index(speed):
    """Index of the next faster tabulated speed, -1 beyond the fastest."""
    if speed <= LEAST_SPEED:
        return 0
    k = int(math.ceil(math.log(speed / LEAST_SPEED) / math.log(SPEED_RATIO)))
    return k if k < SPEEDS else -1
