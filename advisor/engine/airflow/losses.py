"""Handbook loss coefficients: from what a tape measure gives to velocity heads for an opening.

A coefficient counts velocity heads ``rho v^2 / 2`` on the area that each docstring names; ``on_area`` takes it to
another area. Flow is taken as turbulent. Outside the handbook's range a function raises and never extrapolates.
"""

from __future__ import annotations

import math

from advisor.engine.cubic import shaped_cubic
from advisor.engine.errors import InputError

# Idelchik, Handbook of Hydraulic Resistance: air from a still room into an edge that is sharp, and out again.
SHARP_ENTRANCE = 0.5  # diagram 3-1, on the opening's own velocity
FREE_EXIT = 1.0  # diagram 11-1: the whole velocity head is lost
MITRE_BEND = 1.2  # diagram 6-6: a sharp turn by 90 degrees, on the duct's velocity

# Blevins, Applied Fluid Dynamics Handbook 1984: grille of rounded bars, on the approach velocity.
_GRILLE_RANGE = (0.3, 0.7)
_GRILLE = shaped_cubic((0.3, 0.4, 0.5, 0.6, 0.7), (2.0, 1.0, 0.6, 0.4, 0.2))

# Idelchik, diagram 4-15: friction factor that the diagram takes, and length beyond which the jet fills the slot.
_SLOT_FRICTION = 0.02
_SLOT_REATTACHED = 2.4

# Shah & London 1978: laminar flow between wide plates, on the mean velocity; Darcy friction times Reynolds number.
_GAP_FRICTION = 96.0
_GAP_DEVELOPING = 0.674


def perforated_plate(free_share: float) -> float:
    """Return the loss coefficient [-] of a thin sharp-edged perforated plate, on its whole area.

    Parameters
    ----------
    free_share : open area over whole area [-], 0.02 to 1

    Notes
    -----
    ``K = (1 + 0.707 sqrt(1 - f) - f)^2 / f^2``, sheet thinner than 0.015 holes, Reynolds number of a hole above 1e5;
    METHODS.md says what thicker sheet and slower air change. Source: Idelchik, diagram 8-1.

    >>> round(perforated_plate(0.5), 2)
    4.0
    """
    _require("free share of a perforated plate", free_share, 0.02, 1.0)
    return (1.0 + 0.707 * math.sqrt(1.0 - free_share) - free_share) ** 2 / free_share**2


def grille(free_share: float) -> float:
    """Return the loss coefficient [-] of a grille of rounded bars, on its whole area.

    Parameters
    ----------
    free_share : open area over whole area [-], 0.3 to 0.7

    Notes
    -----
    Five tabulated values, joined by a falling cubic (Fritsch & Butland 1984). Source: Blevins 1984.

    >>> round(grille(0.5), 2)
    0.6
    """
    _require("free share of a grille", free_share, *_GRILLE_RANGE)
    return float(_GRILLE(free_share))


def wire_screen(free_share: float) -> float:
    """Return the loss coefficient [-] of a screen of round bars or wires, on its whole area.

    Parameters
    ----------
    free_share : open area over whole area [-], 0.85 to 1

    Notes
    -----
    ``K = 0.95 (1 - f) + 0.2 (1 - f)^2``, Reynolds number of a wire above 500. Source: Blevins 1984.

    >>> round(wire_screen(0.9), 3)
    0.097
    """
    _require("free share of a wire screen", free_share, 0.85, 1.0)
    blocked = 1.0 - free_share
    return 0.95 * blocked + 0.2 * blocked**2


def sudden_expansion(area_ratio: float) -> float:
    """Return the loss coefficient [-] of a sudden expansion, on the smaller area.

    Parameters
    ----------
    area_ratio : smaller over larger area [-], above 0 up to 1

    Notes
    -----
    ``K = (1 - f)^2`` (Borda and Carnot), Reynolds number above 3.3e3. Source: Idelchik, diagram 4-1.

    >>> sudden_expansion(0.25)
    0.5625
    """
    _require("area ratio of a sudden expansion", area_ratio, 1e-6, 1.0)
    return (1.0 - area_ratio) ** 2


def slot_inlet(depth_m: float, width_m: float) -> float:
    """Return the loss coefficient [-] of a slot or gap from a still room into a wide zone, on the slot's area.

    Parameters
    ----------
    depth_m : length of the slot along the air, or thickness of its edge [m], 0 or more
    width_m : width of a long slot [m], above 0; its hydraulic diameter is twice that. Depth up to 20 widths

    Notes
    -----
    ``K = 0.5 + tau + 1 + lambda l`` with ``l = depth / (2 width)``, ``tau = (2.4 - l) 10^-phi`` up to l = 2.4 and
    0 beyond, ``phi = 0.25 + 0.535 l^8 / (0.05 + l^8)``, lambda 0.02; from 2.85 for a thin edge, where the jet
    contracts, down to 1.5 where it fills the slot again. Reynolds number above 1e3. Source: Idelchik, diagrams 4-12
    and 4-15.

    >>> round(slot_inlet(0.001, 0.02), 2)
    2.84
    """
    _require("slot width in metres", width_m, 1e-4, 1.0)
    relative = depth_m / (2.0 * width_m)
    _require("slot depth over twice its width", relative, 0.0, 10.0)
    return SHARP_ENTRANCE + _contraction(relative) + FREE_EXIT + _SLOT_FRICTION * relative


def thick_plate(free_share: float, depth_over_hole: float) -> float:
    """Return the loss coefficient [-] of a plate with square-edged holes, on its whole area.

    Parameters
    ----------
    free_share : open area over whole area [-], 0.02 to 1; of a single hole, its area over the cross-section it is in
    depth_over_hole : thickness of the plate over the hydraulic diameter of a hole [-], 0 to 10

    Notes
    -----
    ``K = (0.5 (1-f)^0.75 + tau (1-f)^1.375 + (1-f)^2 + lambda l) / f^2`` with l the depth over the hole, tau and
    lambda as in ``slot_inlet``, which is its limit for a single hole in a wide wall. Reynolds number of a hole above
    1e3. Source: Idelchik, diagrams 4-15 and 8-3.

    >>> round(thick_plate(0.5, 0.0), 2), round(thick_plate(0.5, 0.3), 2)
    (4.27, 4.03)
    """
    _require("free share of a perforated plate", free_share, 0.02, 1.0)
    _require("depth of a plate over its holes", depth_over_hole, 0.0, 10.0)
    blocked = 1.0 - free_share
    entrance = SHARP_ENTRANCE * blocked**0.75 + _contraction(depth_over_hole) * blocked**1.375
    return (entrance + blocked**2 + _SLOT_FRICTION * depth_over_hole) / free_share**2


def _contraction(relative: float) -> float:
    """Return tau [-] of Idelchik's diagrams: what the jet's contraction costs in a hole of this relative depth."""
    phi = 0.25 + 0.535 * relative**8 / (0.05 + relative**8)
    return max(_SLOT_REATTACHED - relative, 0.0) * 10.0**-phi


def plane_gap(depth_m: float, gap_m: float, velocity_m_s: float, viscosity_m2_s: float) -> float:
    """Return the loss coefficient [-] of air that enters, passes and leaves a narrow gap, on the gap's area.

    Parameters
    ----------
    depth_m : length of the gap along the air [m], above 0
    gap_m : distance of the plates [m], above 0; the hydraulic diameter is twice that
    velocity_m_s : mean speed in the gap [m/s]
    viscosity_m2_s : kinematic viscosity of the air [m2/s]

    Notes
    -----
    ``K = 0.5 + 1 + 0.674 + 96 L / (Re D)`` with D = 2 gap: sharp entrance, free exit, the growth of the velocity
    profile, and laminar friction; Reynolds number of D up to 2300. Source: Shah & London, Laminar Flow Forced
    Convection in Ducts (Darcy f Re = 96, K(inf) = 0.674); entrance and exit as in ``slot_inlet``.

    >>> round(plane_gap(0.147, 0.006, 1.0, 1.52e-5), 2)
    3.66
    """
    _require("depth of a gap in metres", depth_m, 1e-3, 2.0)
    _require("width of a gap in metres", gap_m, 1e-4, 0.5)
    hydraulic = 2.0 * gap_m
    reynolds = velocity_m_s * hydraulic / viscosity_m2_s
    _require("Reynolds number of a gap", reynolds, 1.0, 2300.0)
    return SHARP_ENTRANCE + FREE_EXIT + _GAP_DEVELOPING + _GAP_FRICTION * depth_m / (reynolds * hydraulic)


def on_area(loss_coefficient: float, from_area_m2: float, to_area_m2: float) -> float:
    """Return a loss coefficient [-] given on one area [m2] as velocity heads on another [m2].

    The pressure at a given flow stays the same: ``K_to = K_from (A_to / A_from)^2``.

    >>> on_area(4.0, 0.02, 0.01)
    1.0
    """
    _require("area in square metres", from_area_m2, 1e-8, 100.0)
    _require("area in square metres", to_area_m2, 1e-8, 100.0)
    return loss_coefficient * (to_area_m2 / from_area_m2) ** 2


def _require(name: str, value: float, low: float, high: float) -> None:
    if not low <= value <= high:
        raise InputError(
            f"{name} is {value:g}, outside the handbook's range ({low:g} to {high:g}); "
            "measure again or choose another form"
        )
