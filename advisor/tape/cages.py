"""Drive cages: from the size of drives and the gaps between them to the areas and losses of the air that passes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.engine.air import air_at
from advisor.engine.airflow.losses import FREE_EXIT, SHARP_ENTRANCE, plane_gap, thick_plate
from advisor.engine.storage.form_factors import BAY_SIZE_M
from advisor.tape.geometry import MM2_CM2

# Length of a drive or bay along its long side [mm]; 5.25-inch bays take what is 203 mm long (SFF-8551).
LONG_MM = {"3.5": 147.0, "2.5": 100.45, "5.25": 203.0}
# Between a drive and the rails that carry it, on each side [mm] (common practice, no source).
RAIL_MM = 3.0
# Speed at which the friction of a gap is taken [m/s]: engine laws are quadratic (choice of ours).
GAP_SPEED_M_S = 1.0
# Thickness over holes of a back plane's cut-outs: near 0, for they are large (choice of ours).
BACK_PLANE_DEPTH = 0.1
_HIGHEST_REYNOLDS = 2300.0


@dataclass(frozen=True, slots=True)
class CageFigures:
    """Areas [cm2] and losses in velocity heads of one bay."""

    gap_area_cm2: float
    empty_area_cm2: float
    loss_filled: float
    loss_empty: float


def frontal_mm(form: str, air_along: str) -> tuple[float, float, float]:
    """Width across the air, height and depth along the air of one drive [mm]."""
    width, height = (1000.0 * side for side in BAY_SIZE_M[form])
    return (width, height, LONG_MM[form]) if air_along == "length" else (LONG_MM[form], height, width)


def outline_mm(form: str, count: int, rows: int, spacing_mm: float) -> float:
    """Return the frontal area [cm2] of a cage of so many bays, with its gaps."""
    width, height, _ = frontal_mm(form, "length")
    return math.ceil(count / rows) * width * (height + spacing_mm) * MM2_CM2


def cage_figures(form: str, spacing_mm: float, air_along: str, back_plane_share: float) -> CageFigures:
    """Return what one bay leaves free, filled and empty, and what that costs.

    The gap beside a drive is ``spacing`` wide, and a rail's width is free at both its ends. Laminar friction is taken
    at 1 m/s, in gaps above 17 mm at the end of the laminar range.
    """
    width, height, depth = frontal_mm(form, air_along)
    gap = width * spacing_mm + 2.0 * RAIL_MM * (height + spacing_mm)
    empty = width * (height + spacing_mm)
    air = air_at(25.0)
    viscosity = float(air.viscosity / air.density)
    speed = min(GAP_SPEED_M_S, 0.999 * _HIGHEST_REYNOLDS * viscosity / (2e-3 * spacing_mm))
    passing = plane_gap(depth / 1000, spacing_mm / 1000, speed, viscosity)
    behind = _back_plane(back_plane_share)
    return CageFigures(
        gap * MM2_CM2,
        empty * MM2_CM2,
        passing + behind * min(gap / empty, 1.0) ** 2,
        SHARP_ENTRANCE + FREE_EXIT + behind,
    )


def _back_plane(share: float) -> float:
    """Return the loss of a back plane on the whole bay, in velocity heads."""
    return thick_plate(share, BACK_PLANE_DEPTH) if share < 1.0 else 0.0
