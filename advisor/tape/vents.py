"""Openings of the panels without fans, the covers of card slots, and the ways of the power supply."""

from __future__ import annotations

from advisor.tape import panels
from advisor.tape.draft import AREA_U, ASSUMED_AREA_U, OUTSIDE, Draft
from advisor.tape.geometry import FACES, SIDES, Box, Point
from advisor.tape.materials import SUPPLY_FACES
from advisor.tape.mounts import field_over_fans_cm2, portion_of, share_of_bottom
from advisor.tape.panels import Way

# One cover of a card slot, 120 by 18 mm; width of its holes [mm] (common practice, no source).
SLOT_COVER_CM2, SLOT_HOLE_MM = 21.6, 3.0
# Free share of a supply's grille, of its cut-out in the bottom, and their depth in holes (common practice, no source).
SUPPLY_SHARE, SUPPLY_VENT_SHARE, SUPPLY_DEPTH = 0.55, 0.6, 0.3
# Seam between the supply's own bay and its chamber [cm2] (common practice, no source).
BAY_SEAM_CM2, BAY_SEAM_LOSS = 10.0, 2.0
# What of a field of holes is left beside fans and smaller than this share of it counts as none (choice of ours).
_SLIVER = 0.01
# How tall a card slot's row of covers and a supply's face are [mm] (common practice, no source).
SLOTS_TALL_MM, SUPPLY_EDGE_MM = 100.0, 50.0

INWARD = ("front", "bottom")


def add_vents(draft: Draft) -> None:
    """Add what panels let through beside fans, chamber by chamber."""
    for face in FACES:
        for chamber, box in draft.rooms.chambers.items():
            if draft.rooms.portion(face, chamber):
                _panel_vent(draft, face, chamber, box)


def _panel_vent(draft: Draft, face: str, chamber: str, box: Box) -> None:
    entry, portion = draft.entry, portion_of(draft, face, chamber)
    panel = entry.panels[face]
    fans = [fan for fan in entry.fans if fan.face == face and fan.chamber == chamber]
    if not portion or (panel.cover and fans):
        return
    field_cm2 = panel.holes_area_cm2 * portion
    rest = field_cm2 - (field_over_fans_cm2(draft, face, chamber) if fans else 0.0)
    ways = [way.part(portion) for way in (panels.slots(panel), panels.gap(panel)) if way]
    face_cm2 = rest + sum(way.area_cm2 for way in ways)
    if panel.holes_share and rest > _SLIVER * field_cm2:
        ways.append(panels.holes(rest, panel.holes_share, panel.hole_mm, panel.thickness_mm))
    way = panels.side_by_side(ways)
    if way is None:
        return
    under = panels.feet(entry, face)
    if under:
        way = panels.one_after_another([way, under.part(share_of_bottom(draft, face_cm2))])
    screened = panels.filter_face_cm2(entry, face) * portion * (rest / field_cm2 if field_cm2 else 1.0)
    code = draft.free_code(f"{face}_vent")
    inputs: dict[str, float | str] = {"holes_share": panel.holes_share, "holes_area_cm2": rest}
    inputs |= {"slot_count": float(panel.slot_count), "gap_mm": panel.gap_mm, "thickness_mm": panel.thickness_mm}
    relation = "series" if under else "panel_openings"
    behind = draft.rooms.behind(face, chamber)
    ends = (OUTSIDE, behind) if face not in ("rear", "top") else (behind, OUTSIDE)
    sure = draft.given(f"panels.{face}.holes_area_cm2") or not panel.holes_share
    draft.opening(
        code, "vent", ends, box.centre(face), _height(box, face, way.area_cm2, panel.holes_share), face, way, relation,
        area_u=AREA_U if sure else ASSUMED_AREA_U, inputs=inputs, two_way=not _is_only_way_in(draft, face, chamber),
        **draft.screen(code, panel.filter, screened, {"panel": face}),
    )  # fmt: skip


def _is_only_way_in(draft: Draft, face: str, chamber: str) -> bool:
    """Tell whether air has to come in here: at front or bottom, of a chamber that only exhaust fans move."""
    fans = [fan for fan in draft.entry.fans if fan.chamber == chamber]
    return face in INWARD and bool(fans) and all(fan.side == "exhaust" for fan in fans)


def _height(box: Box, face: str, free_cm2: float, share: float) -> float:
    """Return how tall an opening is, as a field of the shape of its panel."""
    whole = box.area_cm2(face)
    field = free_cm2 / share if share else free_cm2
    return box.across(face)[1] * min(field / whole, 1.0) ** 0.5


def add_card_slots(draft: Draft) -> None:
    """Add the covers of card slots, at the rear or, with a turned board, at the top."""
    entry, share = draft.entry, draft.entry.slot_cover_share
    if not (entry.card_slots and share):
        return
    box = draft.rooms.chambers["main"]
    face = "top" if entry.board_plane == "turned" and box.touches("top", draft.rooms.outer) else "rear"
    way = panels.holes(entry.card_slots * SLOT_COVER_CM2, share, SLOT_HOLE_MM, 1.0)
    draft.opening(
        "slot_covers", "vent", ("main", OUTSIDE), _low(box, face), SLOTS_TALL_MM, face, way, "slot_covers",
        inputs={"card_slots": float(entry.card_slots), "slot_cover_share": share}, two_way=True,
        area_u=AREA_U if draft.given("slot_cover_share") else ASSUMED_AREA_U,
    )  # fmt: skip


def _low(box: Box, face: str) -> Point:
    """Return the middle of the lower half of an upright face, or of a level one."""
    x, y, z = box.centre(face)
    return (x, y, z) if SIDES[face][0] == 2 else (x, y, box.low[2] + 0.35 * box.size[2])


def add_supply(draft: Draft) -> str:
    """Add the way through the supply, and its own duct where it has one; return the code of the former."""
    supply, rooms = draft.entry.supply, draft.rooms
    breathes = "supply_bay" if rooms.has("supply_bay") else supply.chamber
    box = rooms.by_code[breathes].box
    face = max((SUPPLY_FACES[form] for form in supply.forms), key=lambda one: one.width_mm * one.height_mm)
    outline = face.width_mm * face.height_mm / 100
    way = panels.holes(outline, SUPPLY_SHARE, 1.0, SUPPLY_DEPTH)
    x, _, z = box.middle
    edge = min(SUPPLY_EDGE_MM, box.size[2] / 2)
    z = box.low[2] + edge if supply.position == "bottom" else box.high[2] - edge
    at = (x, rooms.outer.high[1], z)
    if breathes == "supply_bay":
        _own_duct(draft, box)
    draft.opening(
        "supply_path", "supply", (breathes, OUTSIDE), at, face.height_mm, "rear", way, "supply_face",
        inputs={"face_cm2": outline, "share": SUPPLY_SHARE},
    )  # fmt: skip
    return "supply_path"


def _own_duct(draft: Draft, box: Box) -> None:
    entry, supply = draft.entry, draft.entry.supply
    ways = [panels.holes(supply.vent_cm2, SUPPLY_VENT_SHARE, 1.0, SUPPLY_DEPTH)]
    under = panels.feet(entry, "bottom")
    if under:
        ways.append(under.part(share_of_bottom(draft, supply.vent_cm2)))
    draft.opening(
        "supply_vent", "vent", (OUTSIDE, "supply_bay"), box.centre("bottom"), supply.vent_cm2**0.5 * 10, "bottom",
        panels.one_after_another(ways), "supply_vent", inputs={"vent_cm2": supply.vent_cm2, "feet_mm": entry.feet_mm},
        area_u=AREA_U if draft.given("supply.vent_cm2") else ASSUMED_AREA_U,
        **draft.screen("supply_vent", supply.filter, supply.vent_cm2, {"vent_cm2": supply.vent_cm2}),
    )  # fmt: skip
    draft.opening(
        "bay_seam", "passage", ("supply_bay", supply.chamber), box.centre("front"), 0.0, "inner",
        Way(BAY_SEAM_CM2, BAY_SEAM_LOSS), "bay_seam", area_u=ASSUMED_AREA_U, two_way=True,
        inputs={"seam_cm2": BAY_SEAM_CM2},
    )  # fmt: skip
