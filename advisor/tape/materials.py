"""What panels, filters and supplies are made of: handbook properties, and what the trade takes where none is known."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Material:
    """Density [kg/m3], conductivity [W/(m K)] and usual thickness of a panel [mm]."""

    density: float
    conductivity: float
    usual_mm: float


# Densities and conductivities: Incropera & DeWitt, appendix A (from memory). Thicknesses: common practice, no source.
MATERIALS = {
    "steel": Material(7850.0, 50.0, 0.8),
    "aluminium": Material(2700.0, 200.0, 2.0),
    "glass": Material(2500.0, 1.0, 4.0),
    "plastic": Material(1100.0, 0.2, 2.5),
    "wood": Material(700.0, 0.13, 10.0),
}
# Open-celled foam [W/(m K)] (Incropera & DeWitt, appendix A, from memory).
FOAM_CONDUCTIVITY = 0.04


@dataclass(frozen=True, slots=True)
class FilterLaw:
    """``dp = linear v + quadratic v^2`` on the filter's face, [Pa s/m] and [Pa s2/m2]."""

    linear: float
    quadratic: float


# At 1 m/s 3, 6 and 11.5 Pa: coarse 2 to 4, fine 8 to 15 (common practice, no source).
FILTERS = {"coarse": FilterLaw(1.2, 1.8), "medium": FilterLaw(4.0, 2.0), "fine": FilterLaw(9.5, 2.0)}


@dataclass(frozen=True, slots=True)
class SupplyFace:
    """Width and height of a supply's rear face [mm]."""

    width_mm: float
    height_mm: float


# Outlines of power supplies (from memory).
SUPPLY_FACES = {
    "atx": SupplyFace(150.0, 86.0),
    "sfx": SupplyFace(125.0, 63.5),
    "flex": SupplyFace(81.5, 40.5),
    "redundant_1u": SupplyFace(106.0, 40.0),
}
