"""Fan mounts: the free ring of the fans, what covers them, and the panel in front."""

from __future__ import annotations

import math

from advisor.engine.airflow.losses import thick_plate, wire_screen
from advisor.tape import panels
from advisor.tape.draft import AREA_U, ASSUMED_AREA_U, INNER, OUTSIDE, Draft
from advisor.tape.entry import FanMount
from advisor.tape.fields import WALL
from advisor.tape.geometry import FACES, SIDES, Box, Point
from advisor.tape.panels import Way
from advisor.tape.rooms import pen_code

# Bore and hub of a fan over its size; free share of a wire and of a stamped guard, and how deep the latter is in its
# holes; one velocity head for what stands close before or behind a fan (all common practice, no source).
BORE, HUB = 0.96, 0.38
WIRE_SHARE, STAMPED_SHARE, STAMPED_DEPTH = 0.88, 0.6, 0.2
CLOSE_LOSS = 1.0
# A fan right behind a drive cage is so much louder [dB] (common practice, no source).
BEHIND_CAGE_DB = 2.0


def ring(fan: FanMount) -> Way:
    """Return the way through the fans of a mount, guard included and panel left out."""
    free, loss = {
        "none": (1.0, 0.0),
        "wire": (WIRE_SHARE, wire_screen(WIRE_SHARE)),
        "stamped": (STAMPED_SHARE, thick_plate(STAMPED_SHARE, STAMPED_DEPTH)),
    }[fan.guard]
    area = fan.count * math.pi / 4 * (BORE**2 - HUB**2) * fan.size_mm**2 / 100
    return Way(area * free, (loss + CLOSE_LOSS) * free**2)


def squares_cm2(fan: FanMount) -> float:
    """Area [cm2] that the frames of a mount cover."""
    return fan.count * fan.size_mm**2 / 100


def add_mounts(draft: Draft) -> None:
    """Add every fan mount of an entry."""
    for place, fan in enumerate(draft.entry.fans):
        if fan.face in FACES:
            _outer(draft, place, fan)
        else:
            _inner(draft, place, fan)


def field_over_fans_cm2(draft: Draft, face: str, chamber: str) -> float:
    """Return how much of a panel's field of holes lies over fans that sit in it."""
    panel = draft.entry.panels[face]
    mounts = [fan for fan in draft.entry.fans if fan.face == face and fan.chamber == chamber]
    return min(sum(map(squares_cm2, mounts)), panel.holes_area_cm2 * portion_of(draft, face, chamber))


def portion_of(draft: Draft, face: str, chamber: str) -> float:
    """Return the share of a panel's openings that lead to a chamber."""
    told = draft.entry.panels[face].chamber
    return draft.rooms.portion(face, chamber) if told == "both" else float(told == chamber)


def _share_of_face(draft: Draft, fan: FanMount) -> float:
    """Return a mount's share of all fans on its face in its chamber."""
    beside = (one for one in draft.entry.fans if one.face == fan.face and one.chamber == fan.chamber)
    return squares_cm2(fan) / sum(map(squares_cm2, beside))


def _outer(draft: Draft, place: int, fan: FanMount) -> None:
    entry, face = draft.entry, fan.face
    panel, share = entry.panels[face], _share_of_face(draft, fan)
    portion = portion_of(draft, face, fan.chamber)
    ways, inputs = [ring(fan)], _told(fan)
    screened = panels.filter_face_cm2(entry, face)
    if panel.cover:
        whole = panels.openings(panel)
        ways += [whole.part(portion * share)] if whole else []
        screened *= portion * share
    else:
        over = field_over_fans_cm2(draft, face, fan.chamber) * share
        if panel.holes_share and over:
            ways.append(panels.holes(over, panel.holes_share, panel.hole_mm, panel.thickness_mm))
        screened = min(screened * portion * share, squares_cm2(fan))
    if panel.holes_share:
        inputs |= {"holes_share": panel.holes_share, "holes_area_cm2": panel.holes_area_cm2, "hole_mm": panel.hole_mm}
    under = panels.feet(entry, face)
    if under:
        ways.append(under.part(share_of_bottom(draft, squares_cm2(fan))))
        inputs |= {"feet_mm": entry.feet_mm}
    code = draft.free_code(f"{face}_fans")
    at, height = _place(draft, fan, draft.rooms.chambers[fan.chamber])
    behind = draft.rooms.behind(face, fan.chamber) if fan.onto == "drives" else fan.chamber
    ends = (OUTSIDE, behind) if fan.side == "intake" else (behind, OUTSIDE)
    sure = not panel.cover or draft.given(f"panels.{face}.holes_area_cm2") or not panel.holes_share
    draft.opening(
        code, "fan_mount", ends, at, height, face, panels.one_after_another(ways), "fan_mount",
        area_u=AREA_U if sure else ASSUMED_AREA_U, inputs=inputs, **_fans(fan),
        **draft.screen(code, panel.filter, screened, {"panel": face}),
    )  # fmt: skip


def _inner(draft: Draft, place: int, fan: FanMount) -> None:
    rooms, chamber = draft.rooms, fan.chamber
    box = rooms.by_code[chamber].box
    if fan.face == WALL:
        pen, at = pen_code(chamber), box.centre("front")
        ends = (pen, chamber) if fan.side == "intake" else (chamber, pen)
        caged = any(one.in_cage and one.place == "front" and one.chamber == chamber for one in draft.entry.bays)
        louder = {"obstruction_db": BEHIND_CAGE_DB} if caged else {}
    else:
        at, louder = box.middle, {}
        ends = ("second", "main") if fan.side == "intake" else ("main", "second")
    code = draft.free_code("fan_wall" if fan.face == WALL else "divider_fans")
    draft.opening(
        code, "fan_mount", ends, at, fan.size_mm, INNER, ring(fan), "fan_mount", inputs=_told(fan), **_fans(fan),
        **louder,
    )  # fmt: skip


def _told(fan: FanMount) -> dict[str, float | str]:
    return {"size_mm": fan.size_mm, "count": float(fan.count), "guard": fan.guard}


def _fans(fan: FanMount) -> dict[str, object]:
    return {
        "side": fan.side,
        "fan_size_mm": fan.size_mm,
        "fan_count": fan.count,
        **({"may_be_empty": True} if fan.may_be_empty else {}),
    }


def share_of_bottom(draft: Draft, area_cm2: float) -> float:
    """Return a bottom opening's share of what the feet let in, by its face among all at the bottom [cm2]."""
    entry, panel = draft.entry, draft.entry.panels["bottom"]
    fans = sum(squares_cm2(fan) for fan in entry.fans if fan.face == "bottom")
    open_ways = (way for way in (panels.slots(panel), panels.gap(panel)) if way)
    own = entry.supply.vent_cm2 if entry.supply.breathes == "own_duct" else 0.0
    return min(area_cm2 / (max(fans, panel.holes_area_cm2) + sum(way.area_cm2 for way in open_ways) + own), 1.0)


def _place(draft: Draft, fan: FanMount, box: Box) -> tuple[Point, float]:
    """Return where a mount is and how tall its row of fans is: side by side along the longer side of the panel."""
    at = list(box.centre(fan.face))
    if SIDES[fan.face][0] != 2 and fan.face == "rear" and fan.side == "exhaust":
        top = box.high[2]
        at[2] = max(top - 0.25 * box.size[2], box.low[2] + fan.size_mm / 2)
    if fan.onto == "board" and fan.face in ("left", "right", "bottom", "top"):
        at[1] = box.low[1] + 0.65 * box.size[1]
    return (at[0], at[1], at[2]), fan.size_mm
