"""Every part's rise and standard uncertainty at one row and one cooler step per scenario."""

from __future__ import annotations

import math

import numpy as np

from advisor.engine.case.case import Case
from advisor.engine.inputs import Cooler, Drive
from advisor.engine.judge.arrays import CaseArrays, drive_arrays
from advisor.engine.judge.slacks import PROCESSOR, drive_own_rises, part_temperature
from advisor.engine.thermal.parts import processor


def part_moments(
    case: Case,
    arrays: CaseArrays,
    cooler: Cooler,
    speed_log: np.ndarray,
    drive: Drive | None,
    figures: np.ndarray,
    heats: tuple[np.ndarray, np.ndarray],
) -> tuple[np.ndarray, np.ndarray]:
    """Return rise over ambient [K] and standard uncertainty [K] of every part, both (5, components).

    ``figures`` (5, components, FIGURES), one row a scenario; ``speed_log`` (5,) ln(cooler speed / full); ``heats``
    those of all drives and of the supply's loss (5,) [W].
    """
    parts, scenarios = case.components, np.arange(5)
    model, own = drive_arrays((drive,)), np.zeros((1, 5, len(parts.names), 3))
    drive_own_rises(
        figures, scenarios, np.tile([0, 1], (5, 1)), parts.limit, parts.kind, parts.cross_m2, model.watts,
        model.surface, model.length, model.height, arrays.film, own,
    )  # fmt: skip
    inner, inner_u, heat_u = arrays.processor
    found = np.zeros((5, len(parts.names), 2))
    for s in scenarios:
        air, drives_w, loss_w, rho = figures[s], heats[0][s], heats[1][s], case.room.density[s]
        for c, limit in enumerate(parts.limit):
            if limit == PROCESSOR:
                found[s, c] = processor(
                    air[c], drives_w, loss_w, arrays.processor_watts[s], heat_u, inner, inner_u, cooler.r_solid_k_w,
                    cooler.r_air_k_w, cooler.r_u_rel, cooler.flow_exponent, cooler.flow_exponent_u,
                    cooler.speed_exponent, cooler.speed_exponent_u, math.exp(speed_log[s]), rho,
                )  # fmt: skip
            else:
                found[s, c] = part_temperature(
                    air[c], c, s, drives_w, loss_w, parts.limit, parts.cross_m2, own[0, s, c], arrays.graphics,
                    arrays.cooled, rho, arrays.heat_u,
                )  # fmt: skip
    return found[:, :, 0], np.sqrt(np.maximum(found[:, :, 1], 0.0))
