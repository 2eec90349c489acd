"""Heat through the outer panels of each zone."""

from __future__ import annotations

from typing import Any

from advisor.engine.air import air_at
from advisor.engine.thermal.walls import outer_film, plate_film, wall_transmittance
from advisor.tape.draft import Draft
from advisor.tape.entry import Panel
from advisor.tape.geometry import Box
from advisor.tape.ledger import rounded
from advisor.tape.materials import FOAM_CONDUCTIVITY, MATERIALS

# Temperature at which films are taken [degC], from air to panel inside, and from panel to room [K] (choices of ours:
# films grow with the fourth root of the rise, so that twice the rise means 10 to 15 % more).
ROOM_C, INNER_RISE_K, OUTER_RISE_K = 25.0, 8.0, 4.0
# Painted sheet, glass, plastic and wood (Incropera & DeWitt, appendix A, from memory); bare metal is below 0.2.
EMISSIVITY = 0.9
WALL_U = 0.3

_FACING = {"top": "upward", "bottom": "downward"}


def transmittance(panel: Panel, face: str, box: Box) -> float:
    """Return the conductance [W/(m2 K)] of a panel of a zone; parts' own radiation onto it is left out."""
    level, upright = (side / 1000 for side in box.across(face))
    facing = _FACING.get(face, "sideways")
    length = upright if facing == "sideways" else level * upright / (2 * (level + upright))
    air = air_at(ROOM_C)
    inside = plate_film(INNER_RISE_K, length, facing, ROOM_C, air)
    outside = outer_film(OUTER_RISE_K, length, facing, ROOM_C, air, EMISSIVITY)
    layers = (
        panel.thickness_mm / 1000 / MATERIALS[panel.material].conductivity,
        panel.lining_mm / 1000 / FOAM_CONDUCTIVITY,
    )
    return wall_transmittance(inside, layers, outside)


def zones_of(draft: Draft) -> list[dict[str, Any]]:
    """Return the zones with the conductance of their panels."""
    zones = []
    for code, room in draft.rooms.by_code.items():
        area = {face: cm2 / 1e4 for face, cm2 in room.outer_cm2.items()}
        by_face = {face: transmittance(draft.entry.panels[face], face, room.box) for face in area}
        inputs: dict[str, float | str] = {f"{face}_m2": m2 for face, m2 in area.items()}
        wall = draft.ledger.add(
            f"zones.{code}.wall_w_k", sum(area[face] * by_face[face] for face in area), "W/K", "wall", inputs,
            share=WALL_U,
        )  # fmt: skip
        zones.append({"code": code, "position_mm": [rounded(one) for one in room.box.middle], "wall_w_k": wall})
    return zones
