"""What is taken where a field was left out and depends on others: what the size, the material or the place suggest."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from advisor.engine.boards import BOARD_SIZE_M
from advisor.tape.fields import OWN_CHAMBER, STILL
from advisor.tape.geometry import FACES, Box, chambers_of
from advisor.tape.materials import MATERIALS

# All of these are common practice, no source.
FLAT_BELOW_MM = 220.0  # lower enclosures lie flat
BOARD_MARGIN_MM = 40.0  # beside a board, along its rear edge
PORTS_MARGIN_MM = 30.0  # before a board
TRAY_MM = 30.0  # behind a board: tray, stand-offs and the board itself
COVER_MARGIN_MM = 25.0  # over a cooler
MOST_OVER_BOARD_MM = 400.0  # whatever the room
CARD_MARGIN_MM = 60.0  # between a card and the front: fans or drives
FIELD_SHARE = 0.7  # of a panel, its field of holes
SUPPLY_VENT_CM2 = 110.0  # one 120 mm fan
SUPPLY_LENGTH_MM = 180.0
BACK_PLANE_SHARE = 0.4  # holes in the back plane of changeable drives
INNER_METAL = 0.6  # mass of trays and cages over that of the panels
FITTINGS_KG = 0.5
SLOTS_OF = {"mini_itx": 2, "micro_atx": 4, "atx": 7, "eatx": 8}

Values = Mapping[str, Any]


def whole_defaults(v: dict[str, Any]) -> dict[str, Any]:
    """Fill in what an enclosure as a whole leaves open; ``v`` has its divider and panels filled in."""
    v["board_plane"] = v["board_plane"] or ("flat" if v["height_mm"] < FLAT_BELOW_MM else "upright")
    chamber = chambers(v)["main"]
    forms = v["board_forms"] or forms_that_fit(chamber, v["board_plane"])
    return {
        **v,
        "board_forms": tuple(forms),
        "cooler_height_mm": _or(v["cooler_height_mm"], _over_board(chamber, v["board_plane"])),
        "card_length_mm": _or(v["card_length_mm"], _card_length(chamber, v["board_plane"])),
        "card_slots": _or(v["card_slots"], max(SLOTS_OF[form] for form in forms)),
        "mass_kg": _or(v["mass_kg"], round(_mass(v), 2)),
    }


def chambers(v: Values) -> dict[str, Box]:
    """Return the chambers of an enclosure whose divider is filled in."""
    divider = v["divider"]
    parted = (divider["direction"], divider["at_mm"], divider["board_side"]) if divider else None
    return chambers_of(v["width_mm"], v["height_mm"], v["depth_mm"], parted)


def forms_that_fit(chamber: Box, plane: str) -> list[str]:
    """Return the boards that a chamber has room for, at least the smallest."""
    x, y, z = chamber.size
    edge, before = {"upright": (z, y), "flat": (x, y), "turned": (y, z)}[plane]
    fitting = [
        form
        for form, (height, depth) in BOARD_SIZE_M.items()
        if 1000 * height + BOARD_MARGIN_MM <= edge and 1000 * depth + PORTS_MARGIN_MM <= before
    ]
    return fitting or ["mini_itx"]


def divider_defaults(v: dict[str, Any], whole: Values) -> dict[str, Any]:
    """Fill in where a divider stands."""
    upright = v["direction"] == "upright"
    size = whole["width_mm"] if upright else whole["height_mm"]
    return {**v, "at_mm": _or(v["at_mm"], size / 2), "board_side": v["board_side"] or ("left" if upright else "above")}


def panel_defaults(face: str, v: dict[str, Any], whole: Values) -> dict[str, Any]:
    """Fill in what a panel leaves open."""
    box = chambers_of(whole["width_mm"], whole["height_mm"], whole["depth_mm"], None)["main"]
    material = v["material"] or whole["material"]
    usual = MATERIALS[material].usual_mm
    thickness = whole["thickness_mm"] if v["material"] in (None, whole["material"]) else None
    field = FIELD_SHARE * box.area_cm2(face) if v["holes_share"] else 0.0
    openings = bool(v["holes_share"] or v["slot_count"] or v["gap_mm"])
    return {
        **v,
        "material": material,
        "thickness_mm": _or(v["thickness_mm"], _or(thickness, usual)),
        "lining_mm": _or(v["lining_mm"], whole["lining_mm"]),
        "holes_area_cm2": _or(v["holes_area_cm2"], field),
        "slot_width_mm": _or(v["slot_width_mm"], 0.0),
        "slot_length_mm": _or(v["slot_length_mm"], 0.0),
        "gap_length_mm": _or(v["gap_length_mm"], 2.0 * max(box.across(face))),
        "cover": _or(v["cover"], face == "front" and openings),
    }


def fan_defaults(v: dict[str, Any], whole: Values) -> dict[str, Any]:
    """Fill in which way fans blow, what they serve and what covers them."""
    face = v["face"]
    panel = whole["panels"].get(face)
    inside = panel is None or panel["cover"]
    holed = panel is not None and panel["holes_share"] > 0
    guard = "none" if inside else "wire" if holed else "stamped"
    return {
        **v,
        "side": v["side"] or ("exhaust" if face in ("rear", "top") else "intake"),
        "onto": v["onto"] or "drives",
        "chamber": v["chamber"] or _only_chamber(face, whole) or "main",
        "guard": v["guard"] or guard,
    }


def bay_defaults(v: dict[str, Any], whole: Values) -> dict[str, Any]:
    """Fill in where bays stand; a chamber of their own is entered by the panel that lets most air in."""
    place = v["place"] or ("front" if v["form"] == "3.5" else STILL)
    own = place == OWN_CHAMBER
    chamber = v["chamber"] or ("second" if own else _only_chamber(place, whole) or "main")
    return {
        **v,
        "place": _way_in(chamber, whole) if own else place,
        "chamber": chamber,
        "sealed": _or(v["sealed"], v["hot_swap"]),
        "back_plane_share": _or(v["back_plane_share"], BACK_PLANE_SHARE if v["hot_swap"] else 1.0),
    }


def supply_defaults(v: dict[str, Any], whole: Values) -> dict[str, Any]:
    """Fill in where the supply sits."""
    left = max(whole["depth_mm"] - CARD_MARGIN_MM, 0.0)
    return {
        **v,
        "length_mm": _or(v["length_mm"], min(SUPPLY_LENGTH_MM, left)),
        "chamber": v["chamber"] or ("second" if whole["divider"] else "main"),
        "vent_cm2": _or(v["vent_cm2"], SUPPLY_VENT_CM2),
    }


def _or(value: Any, otherwise: Any) -> Any:
    return otherwise if value is None else value


def _only_chamber(face: str, whole: Values) -> str | None:
    """Return the one chamber that borders on a face, None where both do or the face is inside."""
    if face not in FACES:
        return None
    boxes = chambers(whole)
    outer = chambers_of(whole["width_mm"], whole["height_mm"], whole["depth_mm"], None)["main"]
    beside = [name for name, box in boxes.items() if box.touches(face, outer)]
    return beside[0] if len(beside) == 1 else None


def _way_in(chamber: str, whole: Values) -> str:
    boxes = chambers(whole)
    outer = chambers_of(whole["width_mm"], whole["height_mm"], whole["depth_mm"], None)["main"]
    faces = [face for face in ("front", "left", "right", "bottom") if boxes[chamber].touches(face, outer)]

    def opened(face: str) -> float:
        panel = whole["panels"][face]
        slots = panel["slot_count"] * panel["slot_width_mm"] * panel["slot_length_mm"]
        led_elsewhere = panel["chamber"] not in ("both", chamber)
        gaps = panel["gap_mm"] * panel["gap_length_mm"]
        return 0.0 if led_elsewhere else 100 * panel["holes_share"] * panel["holes_area_cm2"] + slots + gaps

    return max(faces, key=opened)


def _over_board(chamber: Box, plane: str) -> float:
    x, _, z = chamber.size
    return min(max((z if plane == "flat" else x) - TRAY_MM - COVER_MARGIN_MM, 0.0), MOST_OVER_BOARD_MM)


def _card_length(chamber: Box, plane: str) -> float:
    _, y, z = chamber.size
    return max(min((z if plane == "turned" else y) - CARD_MARGIN_MM, 600.0), 0.0)


def _mass(v: Values) -> float:
    box = chambers_of(v["width_mm"], v["height_mm"], v["depth_mm"], None)["main"]
    panels = (
        box.area_cm2(face) * 1e-4 * panel["thickness_mm"] * 1e-3 * MATERIALS[panel["material"]].density
        for face, panel in v["panels"].items()
    )
    return min((1.0 + INNER_METAL) * sum(panels) + FITTINGS_KG, 200.0)
