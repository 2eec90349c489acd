"""Through which side to look into an enclosure, and which part of that section belongs to which zone.

A zone is known by its middle alone. Its outline is found by cutting the section straight through, again and again,
where inner openings lead from the zones on one side of the cut to those on the other: so passages, cages and inner fans
end up in the walls that they lead through.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from advisor.engine.inputs import OUTSIDE
from frontend.pictures.boxes import Box
from frontend.pictures.housing import Housing, OpeningPlace, Triple

Pair = tuple[float, float]

# How much a view is worth for zones kept apart, joined zones side by side, openings seen from the side, and room.
_APART, _JOINED, _IN_PLANE, _ROOMY, _ENOUGH_APART = 1.0, 1.5, 0.6, 0.3, 0.3


@dataclass(frozen=True, slots=True)
class View:
    """A way to look: axes to the right and down (sign -1: against the axis) and the faces at the edges.

    ``custom`` is how much it is preferred for being the usual one.
    """

    code: str
    axes: tuple[tuple[int, int], tuple[int, int]]
    edges: tuple[str, str, str, str]  # which way the left, right, top and bottom edge of the picture look
    toward: str  # the way that the face nearest the onlooker looks
    custom: float

    def project(self, position: Triple, size: Triple) -> Pair:
        """Return a position in the section, from its upper left corner [m]."""
        (a, right), (b, down) = self.axes
        u = position[a] if right > 0 else size[a] - position[a]
        v = position[b] if down > 0 else size[b] - position[b]
        return u, v

    def lengths(self, extent: Triple) -> Pair:
        """Return an extent as seen: to the right and down."""
        return extent[self.axes[0][0]], extent[self.axes[1][0]]

    def edge_of(self, looks: str) -> str:
        """Return the edge of the picture on which a face is, empty where it is seen from before or behind."""
        return dict(zip(self.edges, ("left", "right", "top", "bottom"), strict=True)).get(looks, "")


SIDE = View("side", ((1, 1), (2, -1)), ("front", "rear", "top", "bottom"), "right", 0.10)
FRONT = View("front", ((0, 1), (2, -1)), ("left", "right", "top", "bottom"), "front", 0.05)
ABOVE = View("above", ((1, 1), (0, 1)), ("front", "rear", "left", "right"), "top", 0.0)
VIEWS = (SIDE, FRONT, ABOVE)


def best_view(housing: Housing) -> View:
    """Return the view that keeps zones apart, those that air joins side by side, and shows openings from the side."""
    return max(VIEWS, key=lambda view: _worth(view, housing))


def _worth(view: View, housing: Housing) -> float:
    width, height = view.lengths(housing.size)
    places = [view.project(zone.position, housing.size) for zone in housing.zones]
    apart = [max(abs(a[0] - b[0]) / width, abs(a[1] - b[1]) / height) for a, b in itertools.combinations(places, 2)]
    ways = [one for one in housing.openings if one.kind != "leak"]
    outer = [bool(view.edge_of(one.looks)) for one in ways if OUTSIDE in _ends(one)]
    boxes = zone_boxes(housing, view)
    inner = [_touch(boxes[one.from_zone], boxes[one.to_zone]) for one in ways if OUTSIDE not in _ends(one)]
    return (
        view.custom
        + _IN_PLANE * _mean(outer)
        + _ROOMY * min(width, height) / max(width, height)
        + _APART * min(min(apart, default=1.0) / _ENOUGH_APART, 1.0)
        + _JOINED * _mean(inner)
    )


def _touch(one: Box, other: Box) -> bool:
    return one.grown(1e-6).overlaps(other)


def _mean(flags: Sequence[bool]) -> float:
    return sum(flags) / len(flags) if flags else 1.0


@dataclass(frozen=True, slots=True)
class _Cut:
    worth: float
    along: int  # 0: a wall that stands, at a distance from the left; 1: one that lies
    at: float
    first: tuple[str, ...]


def zone_boxes(housing: Housing, view: View, least: float = 0.0) -> dict[str, Box]:
    """Return the part of the section [m] that each zone takes, none thinner than ``least`` where there is room."""
    width, height = view.lengths(housing.size)
    places = {zone.code: view.project(zone.position, housing.size) for zone in housing.zones}
    walls = [(one, view.project(one.position, housing.size)) for one in housing.openings]
    found: dict[str, Box] = {}
    _divide(Box(0.0, 0.0, width, height), places, [(a, b) for a, b in walls if OUTSIDE not in _ends(a)], least, found)
    return {zone.code: found[zone.code] for zone in housing.zones}


def _ends(one: OpeningPlace) -> tuple[str, str]:
    return one.from_zone, one.to_zone


def _divide(
    room: Box, places: dict[str, Pair], walls: list[tuple[OpeningPlace, Pair]], least: float, found: dict[str, Box]
) -> None:
    if len(places) == 1:
        found[next(iter(places))] = room
        return
    cut = max(_cuts(room, places, walls), key=lambda cut: (cut.worth, -cut.along, -len(cut.first)))
    first = {code: places[code] for code in cut.first}
    second = {code: place for code, place in places.items() if code not in first}
    at = _within(cut, room, len(first), len(second), least)
    if cut.along == 0:
        halves = Box(room.x, room.y, at - room.x, room.h), Box(at, room.y, room.right - at, room.h)
    else:
        halves = Box(room.x, room.y, room.w, at - room.y), Box(room.x, at, room.w, room.bottom - at)
    _divide(halves[0], first, walls, least, found)
    _divide(halves[1], second, walls, least, found)


def _within(cut: _Cut, room: Box, first: int, second: int, least: float) -> float:
    """Keep room for every zone on both sides of a cut."""
    low, length = (room.x, room.w) if cut.along == 0 else (room.y, room.h)
    share = min(least, 0.9 * length / (first + second))
    return min(max(cut.at, low + share), low + length - share)


def _cuts(room: Box, places: dict[str, Pair], walls: Sequence[tuple[OpeningPlace, Pair]]) -> Iterator[_Cut]:
    for along in (0, 1):
        low, length = (room.x, room.w) if along == 0 else (room.y, room.h)
        order = sorted(places, key=lambda code: (places[code][along], code))
        for n in range(1, len(order)):
            first = tuple(order[:n])
            ends = places[order[n - 1]][along], places[order[n]][along]
            across = [
                min(max(place[along], ends[0]), ends[1])
                for one, place in walls
                if one.kind != "leak"
                and all(end in places for end in _ends(one))
                and (one.from_zone in first) != (one.to_zone in first)
            ]
            missed = [
                abs(place[along] - min(max(place[along], ends[0]), ends[1]))
                for one, place in walls
                if all(end in places for end in _ends(one)) and (one.from_zone in first) != (one.to_zone in first)
            ]
            at = sum(across) / len(across) if across else (ends[0] + ends[1]) / 2
            scatter = sum(abs(one - at) for one in across) + sum(missed)
            yield _Cut((ends[1] - ends[0] - scatter / max(len(across), 1)) / length, along, at, first)
