"""Moving uncertain parameters off their best estimates, one draw a row, for draws through the full solver."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from advisor.engine.airflow.response import AREA, FILTER
from advisor.engine.case.heat import DRIVES, LOSS, SHARED
from advisor.engine.case.network import Parameters
from advisor.engine.judge.state import State


@dataclass(frozen=True)
class Draws:
    """Logarithms of multipliers: of a case's parameters (n, np), preheat factors and warmings (n, components)."""

    parameters: np.ndarray
    kappa: np.ndarray
    warming: np.ndarray


def drawn_state(
    state: State, drives: np.ndarray, loss: np.ndarray, parameters: Parameters, draws: Draws
) -> tuple[State, np.ndarray, np.ndarray]:
    """Return the state, drive heat (n,) and supply loss (n,) that a draw makes of the best estimates."""
    own, alpha, beta = state.own.copy(), state.filter_alpha.copy(), state.filter_beta.copy()
    scale, wall = state.scale.copy(), state.wall.copy()
    zone, branch = state.zone.copy(), state.branch.copy()
    for mode, (parameter, b) in zip(parameters.mode, parameters.target, strict=True):
        factor = np.exp(draws.parameters[:, parameter])
        if mode == AREA:
            own[:, b] /= factor**2
        elif mode == FILTER:
            alpha[:, b] *= factor
            beta[:, b] *= factor
        else:
            scale[:, b] *= factor
    for parameter, row in enumerate(parameters.heat_of):
        factor = np.exp(draws.parameters[:, parameter])
        if row == -2:
            wall *= factor[:, None]
        elif row == DRIVES:
            drives = drives * factor
        elif row == LOSS:
            loss = loss * factor
        elif row >= 0:
            for rows in (zone, branch):
                rows[:, SHARED] += (factor[:, None] - 1) * rows[:, row]
                rows[:, row] *= factor[:, None]
    return (
        replace(state, own=own, filter_alpha=alpha, filter_beta=beta, scale=scale, wall=wall, zone=zone, branch=branch),
        drives,
        loss,
    )
