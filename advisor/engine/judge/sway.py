"""Which rows a candidate's own heat sways: its drives and its supply's loss differ from what shaped the flows."""

from __future__ import annotations

import numpy as np
from numba import njit

# Rows are solved with a candidate's own heat where that would move a temperature or the throughflow by more than half
# of what the model may be off by (0.2 K, 0.5 %), to first order.
SWAY_K = 0.1
SWAY_FLOW = 0.0025
# Near a reversal first order misleads: a flow that would move by a fifth of itself (or of a breath) counts as swayed.
SWAY_TURN, BREATH_KG_S = 5.0, 1e-5


@njit(cache=True, nogil=True, error_model="numpy")
def mark_swayed(
    scenario: np.ndarray, still: np.ndarray, sway: np.ndarray, flow_sway: np.ndarray, flow_shift: np.ndarray,
    flow: np.ndarray, shared: np.ndarray, own: np.ndarray, out: np.ndarray,
) -> None:  # fmt: skip
    """Mark the rows in ``out`` (candidates, n) that are swayed.

    ``shared`` (2, 5) and ``own`` (candidates, 2, 5) are the heat of drives and the supply's loss [W] by scenario; for
    the others see ``cells.Cells``.
    """
    for p in range(own.shape[0]):
        for k in range(scenario.shape[0]):
            s = scenario[k]
            moved, through = 0.0, 0.0
            off_0, off_1 = _off(own[p, 0, s], shared[0, s]), _off(own[p, 1, s], shared[1, s])
            for w in range(2):
                off, most = off_0 if w == 0 else off_1, 0.0
                for c in range(sway.shape[2]):
                    kelvin = sway[k, w, c, 0] + own[p, 0, s] * sway[k, w, c, 1] + own[p, 1, s] * sway[k, w, c, 2]
                    most = max(most, abs(kelvin))
                moved += most * off
                through += flow_sway[k, w] * off
            turning = False
            for b in range(flow.shape[1]):
                shift = abs(flow_shift[k, 0, b]) * off_0 + abs(flow_shift[k, 1, b]) * off_1
                turning = turning or max(abs(flow[k, b]), BREATH_KG_S) < SWAY_TURN * shift
            out[p, k] = moved > SWAY_K or through > SWAY_FLOW or turning or still[k]


@njit(cache=True, nogil=True, error_model="numpy")
def _off(own: float, shared: float) -> float:
    """Relative difference of two heats, 0 where there is none to share."""
    return abs(own / shared - 1.0) if shared > 0.0 else 0.0
