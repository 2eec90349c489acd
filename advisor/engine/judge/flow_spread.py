"""How sure the flows of solved networks are."""

from __future__ import annotations

import math

import numpy as np
from numba import njit


@njit(cache=True, nogil=True, error_model="numpy")
def flow_spreads(
    responses: np.ndarray, sigma: np.ndarray, foreign: np.ndarray, flow_u: np.ndarray, turn_u: np.ndarray
) -> None:
    """Write the standard uncertainty of each flow (n, nb) [kg/s] into ``flow_u``.

    ``responses`` (n, np, nb) are d(flow)/d(ln parameter), ``sigma`` (n, np) the parameters' standard uncertainties;
    ``turn_u`` gets the part that ``foreign`` (np, nb), 0 or 1, lets through.
    """
    n, count, nb = responses.shape
    whole, part = np.empty(nb), np.empty(nb)
    for k in range(n):
        whole[:], part[:] = 0.0, 0.0
        for q in range(count):
            for b in range(nb):
                effect = responses[k, q, b] * sigma[k, q]
                whole[b] += effect * effect
                part[b] += effect * effect * foreign[q, b]
        for b in range(nb):
            flow_u[k, b], turn_u[k, b] = math.sqrt(whole[b]), math.sqrt(part[b])
