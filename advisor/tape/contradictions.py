"""What the fields of an entry say together that cannot all hold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from advisor.brief.values import Problem, problem
from advisor.tape.cages import outline_mm
from advisor.tape.defaults import chambers
from advisor.tape.fields import CAGE_PLACES, DIVIDER, LONGEST_NAME, LONGEST_WORD, OWN_CHAMBER, WALL
from advisor.tape.geometry import FACES, Box, chambers_of
from catalog.validators import check_code, check_text

Values = Mapping[str, Any]

LEAST_CHAMBER_MM = 20.0
# Numbers that are 0 or at least so much: below, handbooks or tape measures say nothing.
LEAST = {"holes_share": 0.02, "slot_cover_share": 0.02, "holes_area_cm2": 1.0, "gap_mm": 0.2, "feet_mm": 1.0}
_ROUNDING = 1.0 + 1e-9


def contradictions(v: Values, given: frozenset[str], *, filled: bool) -> Iterator[Problem]:
    """Yield what contradicts: in the fields as read, what defaults rest on; in ``filled`` ones, the rest."""
    if not filled:
        yield from _words(v)
        yield from _too_little(v)
        yield from _divider(v)
        yield from _needs_divider(v)
        return
    boxes = chambers(v)
    outer = chambers_of(v["width_mm"], v["height_mm"], v["depth_mm"], None)["main"]
    for face in FACES:
        yield from _panel(face, v["panels"][face], outer, boxes)
    for place, fan in enumerate(v["fans"]):
        yield from _fan(f"fans[{place}]", fan, v, outer, boxes)
    yield from _fans_together(v, outer)
    for place, bays in enumerate(v["bays"]):
        yield from _bays(f"bays[{place}]", bays, v, outer, boxes)
    if v["supply"]["chamber"] not in boxes:
        yield problem("supply.chamber", "second", "is not there without a divider", "main, or a divider")
    if v["supply"]["breathes"] == "own_duct" and not boxes[v["supply"]["chamber"]].touches("bottom", outer):
        why = f"has no bottom to breathe from: its chamber, {v['supply']['chamber']}, stands over the other"
        yield problem("supply.breathes", "own_duct", why, "inside, or the lower chamber")


def _words(v: Values) -> Iterator[Problem]:
    reason = check_text(v["name"], LONGEST_NAME, may_be_blank=False)
    if reason:
        yield problem("name", v["name"], reason, f"1 to {LONGEST_NAME} plain characters, or leave it out")
    reason = check_code(v["code"]) if v["code"] else ""
    if reason:
        accepted = f"up to {LONGEST_WORD} letters, digits, dots, dashes or underscores, a letter or digit first"
        yield problem("code", v["code"], reason, f"{accepted}; or leave it out")


def _too_little(v: Values) -> Iterator[Problem]:
    blocks = [("", v), *((f"panels.{face}.", panel) for face, panel in v["panels"].items())]
    for path, block in blocks:
        for name, least in LEAST.items():
            value = block.get(name)
            if value is not None and 0 < value < least:
                yield problem(f"{path}{name}", value, "is too little to be told from none", f"0, or {least:g} or more")


def _divider(v: Values) -> Iterator[Problem]:
    divider = v["divider"]
    if not divider:
        return
    upright = divider["direction"] == "upright"
    sides = ("left", "right") if upright else ("above", "below")
    if divider["board_side"] not in (None, *sides):
        why = f"is no side of a divider that stands {divider['direction']}"
        yield problem("divider.board_side", divider["board_side"], why, " or ".join(sides))
    size = v["width_mm"] if upright else v["height_mm"]
    at = divider["at_mm"] if divider["at_mm"] is not None else size / 2
    if not LEAST_CHAMBER_MM <= at <= size - LEAST_CHAMBER_MM:
        accepted = f"{LEAST_CHAMBER_MM:g} to {size - LEAST_CHAMBER_MM:g} mm"
        yield problem("divider.at_mm", at, f"leaves no room on one side of {size:g} mm", accepted)


def _needs_divider(v: Values) -> Iterator[Problem]:
    if v["divider"]:
        return
    named = [(f"fans[{place}]", fan) for place, fan in enumerate(v["fans"])]
    named += [(f"bays[{place}]", bays) for place, bays in enumerate(v["bays"])]
    named += [(f"panels.{face}", panel) for face, panel in v["panels"].items()] + [("supply", v["supply"])]
    for path, block in named:
        if block["chamber"] == "second":
            yield problem(f"{path}.chamber", "second", "is not there without a divider", "main, or a divider")
        for key, word in (("place", OWN_CHAMBER), ("face", DIVIDER)):
            if block.get(key) == word:
                yield problem(f"{path}.{key}", word, "is not there without a divider", "another word, or a divider")


def _panel(face: str, panel: Values, outer: Box, boxes: Mapping[str, Box]) -> Iterator[Problem]:
    path, share = f"panels.{face}", panel["holes_share"]
    if share and not panel["holes_area_cm2"]:
        yield problem(f"{path}.holes_area_cm2", 0, "is no field for the holes", "more than 0 cm2, or no holes_share")
    if panel["slot_count"] and not (panel["slot_width_mm"] and panel["slot_length_mm"]):
        yield problem(
            f"{path}.slot_count", panel["slot_count"], "has no size", "slot_width_mm and slot_length_mm with it"
        )
    slots = panel["slot_count"] * panel["slot_width_mm"] * panel["slot_length_mm"] / 100
    taken, whole = panel["holes_area_cm2"] + slots, outer.area_cm2(face)
    if taken > whole * _ROUNDING:
        key = "holes_area_cm2" if panel["holes_area_cm2"] >= slots else "slot_count"
        why = f"makes holes and slots of {taken:.0f} cm2 on a panel of {whole:.0f} cm2"
        yield problem(f"{path}.{key}", panel[key], why, f"at most {whole:.0f} cm2 in all")
    if panel["cover"] and not (share or panel["slot_count"] or panel["gap_mm"]):
        accepted = "holes_share, slots or gap_mm with it, or false"
        yield problem(f"{path}.cover", True, "shuts the fans behind it off from the air", accepted)
    chamber = panel["chamber"]
    if chamber != "both" and not (chamber in boxes and boxes[chamber].touches(face, outer)):
        yield problem(f"{path}.chamber", chamber, f"does not border on the {face}", "both, or the other chamber")


def _fan(path: str, fan: Values, v: Values, outer: Box, boxes: Mapping[str, Box]) -> Iterator[Problem]:
    face, chamber = fan["face"], fan["chamber"]
    if face in FACES and not boxes[chamber].touches(face, outer):
        yield problem(f"{path}.chamber", chamber, f"does not border on the {face}", "the other chamber")
    if face in FACES:
        panel_chamber = v["panels"][face]["chamber"]
        if v["panels"][face]["cover"] and panel_chamber not in ("both", chamber):
            why = f"does not get the air of the {face}'s cover, which leads to {panel_chamber}"
            yield problem(f"{path}.chamber", chamber, why, panel_chamber)
    if not any(_rows(*room, fan["size_mm"]) for room in [_room(face, fan, v, outer, boxes)]):
        yield problem(f"{path}.size_mm", fan["size_mm"], "is larger than its place", "what the panel has room for")


def _room(face: str, fan: Values, v: Values, outer: Box, boxes: Mapping[str, Box]) -> tuple[float, float]:
    """Extents of the place of a fan mount [mm]."""
    box = boxes[fan["chamber"]]
    if face == WALL:
        return box.across("front")
    if face == DIVIDER:
        return outer.across("left" if v["divider"]["direction"] == "upright" else "top")
    return box.across(face)


def _rows(one: float, other: float, size: float) -> int:
    return int(one * _ROUNDING // size) * int(other * _ROUNDING // size)


def _fans_together(v: Values, outer: Box) -> Iterator[Problem]:
    """Fans of one panel must find room side by side."""
    for face in FACES:
        mounts = [(place, fan) for place, fan in enumerate(v["fans"]) if fan["face"] == face]
        taken = sum(fan["count"] * fan["size_mm"] ** 2 / 100 for _, fan in mounts)
        if taken > outer.area_cm2(face) * _ROUNDING:
            place, fan = mounts[-1]
            why = f"makes fans of {taken:.0f} cm2 on a panel of {outer.area_cm2(face):.0f} cm2"
            yield problem(f"fans[{place}].count", fan["count"], why, "as many as the panel has room for")


def _bays(path: str, bays: Values, v: Values, outer: Box, boxes: Mapping[str, Box]) -> Iterator[Problem]:
    place, chamber = bays["place"], bays["chamber"]
    if place not in CAGE_PLACES:
        return
    box = boxes[chamber]
    if not box.touches(place, outer):
        yield problem(f"{path}.place", place, f"does not border on chamber {chamber}", "another place, or chamber")
        return
    outline, room = outline_mm(bays["form"], bays["count"], bays["rows"], bays["spacing_mm"]), box.area_cm2(place)
    if outline > room * _ROUNDING:
        why = f"bays stand {outline:.0f} cm2 wide and high behind a {place} of {room:.0f} cm2"
        yield problem(f"{path}.count", bays["count"], why, "fewer bays, more rows or less spacing_mm")
