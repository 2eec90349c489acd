"""Where components sit and what feeds them."""

from __future__ import annotations

from typing import Any

from advisor.tape.draft import Draft
from advisor.tape.geometry import MM2_CM2

# Preheat factors by what feeds a part: air blown onto the board from the side its parts stand up to, from below,
# along it, or nothing of its own (common practice, no source; each known to a factor of 1.35).
PREHEAT = {
    "onto": {"processor": 0.75, "graphics": 0.8, "memory": 0.8, "card": 0.75, "controller": 0.75},
    "below": {"processor": 0.85, "graphics": 0.75, "memory": 1.0, "card": 0.9, "controller": 0.9},
    "along": {"processor": 0.85, "graphics": 1.6, "memory": 0.9, "card": 1.0, "controller": 1.0},
    "nothing": {"processor": 1.0, "graphics": 1.8, "memory": 1.0, "card": 1.05, "controller": 1.05},
}
ALWAYS = {"board": 1.0, "ssd": 1.15}
PREHEAT_U = 0.3
# Free cross-section past a part, of that of its chamber (common practice, no source).
CROSS_SHARE = {
    "processor": 0.40, "graphics": 0.34, "board": 0.40, "memory": 0.37, "ssd": 0.37, "card": 0.29, "controller": 0.29,
}  # fmt: skip
ROLES = tuple(CROSS_SHARE)

# Faces that the parts of a board stand up to, by how the board lies.
_ONTO = {"upright": ("left", "right"), "flat": ("top",), "turned": ("left", "right")}


def seats_of(draft: Draft) -> list[dict[str, Any]]:
    """Return the seats of all roles, in the board's chamber."""
    way, fed_by = _feed(draft)
    cross = _cross_section_cm2(draft)
    return [_seat(draft, role, way, fed_by, cross) for role in ROLES]


def _seat(draft: Draft, role: str, way: str, fed_by: str, cross_cm2: float) -> dict[str, Any]:
    key = f"seats.{role}"
    kappa = ALWAYS[role] if role in ALWAYS else PREHEAT[way][role]
    area = max(CROSS_SHARE[role] * cross_cm2, 1.0)
    seat = {
        "role": role,
        "zone": "main",
        "preheat": draft.ledger.add(
            f"{key}.preheat", kappa, "", "preheat", {"fed": way, "by": fed_by}, share=PREHEAT_U
        ),
        "cross_area_cm2": draft.ledger.add(
            f"{key}.cross_area_cm2", area, "cm2", "cross_section", {"chamber_cm2": cross_cm2}, share=PREHEAT_U
        ),
    }
    return seat | ({"fed_by": fed_by} if kappa < 1 and fed_by else {})


def _cross_section_cm2(draft: Draft) -> float:
    """Return the cross-section of the board's chamber across the air: upward past a turned board, else to the rear."""
    x, y, z = draft.rooms.chambers["main"].size
    return x * (y if draft.entry.board_plane == "turned" else z) * MM2_CM2


def _feed(draft: Draft) -> tuple[str, str]:
    """Return how the board's parts are fed and by which opening: the way that helps most, the largest of its kind."""
    for way in ("onto", "below", "along"):
        fitting = [one for one in draft.openings if _blows_in(one) and _kind(draft, one) == way]
        if fitting:
            return way, max(fitting, key=lambda one: (one["kind"] == "fan_mount", one["area_cm2"]))["code"]
    return "nothing", ""


def _blows_in(one: dict[str, Any]) -> bool:
    """Tell whether an opening is meant to blow into the board's zone."""
    return one["to"] == "main" and one["kind"] in ("fan_mount", "passage", "vent") and not one.get("two_way", False)


def _kind(draft: Draft, one: dict[str, Any]) -> str:
    face = one["face"]
    if face == "inner":
        return "along" if _has_pressure(draft, one["from"]) or one["kind"] == "fan_mount" else "nothing"
    if face in _ONTO[draft.entry.board_plane]:
        return "onto"
    return "below" if face == "bottom" and draft.entry.board_plane != "flat" else "along"


def _has_pressure(draft: Draft, zone: str) -> bool:
    """Tell whether air is brought into a zone: by fans, or by a directed vent."""
    return any(one["to"] == zone and not one.get("two_way", False) for one in draft.openings if one["kind"] != "leak")
