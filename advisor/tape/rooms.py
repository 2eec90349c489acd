"""Which zones of air an entry makes: chambers, the spaces before drive cages and fan walls, the supply's own bay."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.tape.entry import TapeEntry
from advisor.tape.fields import WALL
from advisor.tape.geometry import FACES, SIDES, Box, chambers_of

# Depth of the space before a cage or a fan wall [mm], and at most this share of its chamber (choices of ours: they
# decide where a zone's middle is and how its panels are shared out).
SPACE_MM = 40.0
SPACE_SHARE = 0.15
PEN_SHARE = 0.15
# The supply's own bay: width and height at most [mm], and room behind the supply's length (common practice, no source).
BAY_WIDTH_MM, BAY_HEIGHT_MM, BAY_BEHIND_MM = 170.0, 100.0, 20.0


@dataclass(frozen=True, slots=True)
class Room:
    """A zone: its code, its chamber, its box and the outer area [cm2] of each face that it borders on."""

    code: str
    chamber: str
    box: Box
    outer_cm2: dict[str, float]

    @property
    def wall_cm2(self) -> float:
        """Outer area of all faces [cm2]."""
        return sum(self.outer_cm2.values())


@dataclass(frozen=True)
class Rooms:
    """All zones of an entry, by code, and where each way through a face leads."""

    outer: Box
    chambers: dict[str, Box]
    by_code: dict[str, Room]
    shared_front: bool = False

    def has(self, code: str) -> bool:
        """Tell whether there is such a zone."""
        return code in self.by_code

    def behind(self, face: str, chamber: str) -> str:
        """Return the zone to which openings of a face lead in a chamber."""
        for code in (self.space(chamber, face), pen_code(chamber) if face == "front" else ""):
            if code in self.by_code:
                return code
        return chamber

    def space(self, chamber: str, face: str) -> str:
        """Return the code of the space between a face and a chamber's cage, whether there is one or not."""
        return space_code("main" if self.shared_front and face == "front" else chamber, face)

    def after_cage(self, face: str, chamber: str) -> str:
        """Return the zone to which a cage behind a face leads."""
        pen = pen_code(chamber)
        return pen if face == "front" and pen in self.by_code else chamber

    def portion(self, face: str, chamber: str) -> float:
        """Return which share of a face a chamber borders on."""
        box = self.chambers[chamber]
        return box.area_cm2(face) / self.outer.area_cm2(face) if box.touches(face, self.outer) else 0.0


def space_code(chamber: str, face: str) -> str:
    """Return the code of the space between a face and its cage."""
    return f"{face}_space" if chamber == "main" else f"second_{face}_space"


def pen_code(chamber: str) -> str:
    """Return the code of the space before a fan wall."""
    return "pen" if chamber == "main" else "second_pen"


def rooms_of(entry: TapeEntry) -> Rooms:
    """Lay out the zones of an entry."""
    divider = entry.divider
    parted = (divider.direction, divider.at_mm, divider.board_side) if divider else None
    outer = chambers_of(entry.width_mm, entry.height_mm, entry.depth_mm, None)["main"]
    chambers = chambers_of(entry.width_mm, entry.height_mm, entry.depth_mm, parted)
    boxes: dict[str, tuple[str, Box]] = {}
    shared = divider is not None and not divider.reaches_front
    depth = min(SPACE_MM, SPACE_SHARE * _extent(outer, "front"))
    if shared:
        boxes[space_code("main", "front")] = "main", outer.slice_behind("front", depth)[0]
    for chamber, whole in chambers.items():
        inner = whole.slice_behind("front", depth)[1] if shared else whole
        caged = {bays.place for bays in entry.bays if bays.in_cage and bays.chamber == chamber}
        for face in sorted(caged - ({"front"} if shared else set())):
            space, inner = inner.slice_behind(face, min(SPACE_MM, SPACE_SHARE * _extent(whole, face)))
            boxes[space_code(chamber, face)] = chamber, space
        if any(fan.face == WALL and fan.chamber == chamber for fan in entry.fans):
            pen, inner = inner.slice_behind("front", PEN_SHARE * whole.size[1])
            boxes[pen_code(chamber)] = chamber, pen
        if entry.supply.breathes == "own_duct" and entry.supply.chamber == chamber:
            boxes["supply_bay"] = chamber, _supply_bay(entry, inner)
        boxes[chamber] = chamber, inner
    areas = {code: _outer_areas(box, outer) for code, (_, box) in boxes.items()}
    if "supply_bay" in boxes:  # it is cut out of its chamber's corner, whose panels it takes over
        chamber = boxes["supply_bay"][0]
        rest = areas[chamber]
        areas[chamber] = {face: rest[face] - min(areas["supply_bay"].get(face, 0.0), rest[face]) for face in rest}
    rooms = {code: Room(code, chamber, box, areas[code]) for code, (chamber, box) in boxes.items()}
    return Rooms(outer, chambers, rooms, shared)


def _extent(box: Box, face: str) -> float:
    return box.size[SIDES[face][0]]


def _supply_bay(entry: TapeEntry, chamber: Box) -> Box:
    """Return the corner at the lower rear of a chamber that the supply has for itself."""
    (x, y, z), (right, rear, top) = chamber.low, chamber.high
    width, height = min(BAY_WIDTH_MM, right - x), min(BAY_HEIGHT_MM, (top - z) / 2)
    length = min(entry.supply.length_mm + BAY_BEHIND_MM, (rear - y) / 2)
    return Box((right - width, rear - length, z), (right, rear, z + height))


def _outer_areas(box: Box, outer: Box) -> dict[str, float]:
    return {face: box.area_cm2(face) for face in FACES if box.touches(face, outer)}
