"""Own rises of all parts, one row a draw: what each adds to the air at it, with its own uncertain figures moved."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numba import njit

from advisor.engine.case.case import Case
from advisor.engine.inputs import Cooler, Drive
from advisor.engine.judge.arrays import CaseArrays, cooled_parts, drive_arrays
from advisor.engine.judge.named_draws import NamedDraws
from advisor.engine.judge.slacks import (
    DRIVE,
    DRIVE_EMISSIVITY,
    DRIVE_VIEW,
    DRIVE_WARMER_K,
    GRAPHICS,
    PROCESSOR,
)
from advisor.engine.thermal.convection import air_cooled_rise, drive_rise, radiation_film
from advisor.engine.thermal.parts import DRIVE_FILM_U_REL, passing_factor
from advisor.engine.thermal.temperatures import CAGE, PASSING


@dataclass(frozen=True)
class DrawnParts:
    """Figures of one build's parts by draw (count,), and cooler speeds ``speed_log`` (5,) as ln(rpm / full)."""

    processor_heat: np.ndarray
    inner: np.ndarray
    solid: np.ndarray
    air: np.ndarray
    flow_exponent: np.ndarray
    speed_exponent: np.ndarray
    speed_log: np.ndarray
    graphics_heat: np.ndarray
    graphics_r: np.ndarray
    graphics_exponent: np.ndarray
    drive_heat: np.ndarray
    film: np.ndarray
    cooled: np.ndarray


def drawn_parts(
    case: Case, arrays: CaseArrays, cooler: Cooler, speed_log: np.ndarray, drive: Drive | None, z: NamedDraws
) -> DrawnParts:
    """Draw the figures of a build's parts: multipliers log-normal, exponents normal, as linear propagation has them."""
    inner, inner_u, heat_u = arrays.processor
    gpu_u, gpu_r, gpu_r_u, gpu_n, gpu_n_u = arrays.graphics[5:10]
    board = case.named.graphics.code if case.named.graphics else "none"
    resistance = np.exp(cooler.r_u_rel * z[f"cooler/{cooler.code}/r"])
    cooled = [
        np.exp(row[2] * z[f"part/{part.code}/rise"]) if part else np.ones(z.count)
        for part, row in zip(cooled_parts(case), arrays.cooled, strict=True)
    ]
    return DrawnParts(
        np.exp(heat_u * z["brief/processor_heat"]),
        inner * np.exp(inner_u * z["brief/processor_inner"]),
        cooler.r_solid_k_w * resistance,
        cooler.r_air_k_w * resistance,
        cooler.flow_exponent + cooler.flow_exponent_u * z[f"cooler/{cooler.code}/flow_exponent"],
        cooler.speed_exponent + cooler.speed_exponent_u * z[f"cooler/{cooler.code}/speed_exponent"],
        speed_log,
        np.exp(gpu_u * z["brief/graphics_heat"]),
        gpu_r * np.exp(gpu_r_u * z[f"graphics/{board}/r"]),
        gpu_n + gpu_n_u * z[f"graphics/{board}/flow_exponent"],
        np.exp(arrays.heat_u * z[f"drive/{drive.code if drive else 'none'}/heat"]),
        np.exp(DRIVE_FILM_U_REL * z["model/drive_film"]),
        np.array(cooled).T,
    )


def own_rises(
    case: Case, arrays: CaseArrays, drive: Drive | None, figures: np.ndarray, drawn: DrawnParts
) -> np.ndarray:
    """Return the own rise (count, 5, nc) [K] of every part over the air at it; ``figures`` (count, 5, nc, FIGURES)."""
    model, parts = drive_arrays((drive,)), case.components
    out = np.zeros(figures.shape[:3])
    per_draw = np.stack([
        drawn.processor_heat, drawn.inner, drawn.solid, drawn.air, drawn.flow_exponent, drawn.speed_exponent,
        drawn.graphics_heat, drawn.graphics_r, drawn.graphics_exponent, drawn.drive_heat, drawn.film,
    ])  # fmt: skip
    _own_rises(
        figures, parts.limit, parts.kind, parts.cross_m2, case.room.density, arrays.film, arrays.processor_watts,
        arrays.graphics, model.watts[0], np.array([model.surface[0], model.length[0], model.height[0]]), arrays.cooled,
        drawn.speed_log, per_draw, drawn.cooled, out,
    )  # fmt: skip
    return out


@njit(cache=True, nogil=True, error_model="numpy")
def _own_rises(
    figures: np.ndarray, limit_of: np.ndarray, kind: np.ndarray, cross: np.ndarray, density: np.ndarray,
    film: np.ndarray, processor_watts: np.ndarray, gpu: np.ndarray, drive_watts: np.ndarray, size: np.ndarray,
    cooled: np.ndarray, speed_log: np.ndarray, drawn: np.ndarray, cooled_drawn: np.ndarray, out: np.ndarray,
) -> None:  # fmt: skip
    for k in range(figures.shape[0]):
        heat, inner, solid, air, n, m, board_heat, r, board_n, drive_heat, film_factor = drawn[:, k]
        for s in range(figures.shape[1]):
            rho = density[s]
            for c in range(figures.shape[2]):
                passing = figures[k, s, c, PASSING]
                if limit_of[c] == PROCESSOR:
                    own = air * math.exp(-m * speed_log[s]) * passing_factor(passing, n, rho)[0]
                    out[k, s, c] = processor_watts[s] * heat * (inner + solid + own)
                elif limit_of[c] == GRAPHICS:
                    out[k, s, c] = gpu[s] * board_heat * r * passing_factor(passing, board_n, rho)[0]
                elif limit_of[c] == DRIVE:
                    speed = passing / cross[c] if kind[c] == CAGE else 0.0
                    t, a, mu, lam, pr = film[s, 0], film[s, 1], film[s, 2], film[s, 3], film[s, 4]
                    h_rad = radiation_film(t + DRIVE_WARMER_K, DRIVE_EMISSIVITY, DRIVE_VIEW)
                    out[k, s, c] = film_factor * drive_rise(
                        drive_watts[s] * drive_heat, size[0], speed, size[1], size[2], t, a, mu, lam, pr, h_rad
                    )
                else:
                    rise = air_cooled_rise(cooled[c, 0], passing / cross[c], cooled[c, 1])
                    out[k, s, c] = cooled_drawn[k, c] * rise
