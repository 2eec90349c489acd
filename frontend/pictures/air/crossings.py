"""Streams within the enclosure, each across the wall between two zones."""

from __future__ import annotations

from collections.abc import Iterator

from frontend.pictures.air.canvas import Wall
from frontend.pictures.air.drawing import Arrow
from frontend.pictures.air.figures import Stream
from frontend.pictures.air.pen import Pen, Streams, pitch_of
from frontend.pictures.air.shapes import Point, badge_box
from frontend.pictures.boxes import Box
from frontend.pictures.housing import OpeningPlace

_ASIDE = (0.0, 1.0, -1.0, 1.7, -1.7)  # where a number may stand along its arrow, in half lengths from the middle


def draw_through_wall(pen: Pen, stream: Stream, opening: OpeningPlace, found: Streams) -> None:
    """Draw a stream across the wall that its zones share, as near to its place as other streams allow."""
    canvas = pen.canvas
    source, target = canvas.zones[stream.source], canvas.zones[stream.target]
    wall, spot = canvas.wall(source, target), canvas.at(opening.position)
    if wall is None:
        found.add(_leap(pen, stream, source, target, spot), canvas.form)
        return
    width = pen.widths.of(stream)
    tries = list(_tries(pen, wall, stream, spot))
    drawn = (_crossing(pen, stream, wall, along, length, width) for along, length in tries)
    free = (one for one in drawn if not any(one.box.overlaps(box, 1.0) for box in found.taken))
    arrow = next(free, None) or _legible(pen, stream, wall, tries, found)
    found.add(arrow, canvas.form)


def _legible(pen: Pen, stream: Stream, wall: Wall, tries: list[tuple[float, float]], found: Streams) -> Arrow:
    """Draw a stream over others, yet so that no number hides another: at the wall, or at the arrow's end."""
    width = pen.widths.of(stream)
    drawn = (_crossing(pen, stream, wall, *place, width, aside) for aside in _ASIDE for place in tries)
    for arrow in drawn:
        box = badge_box((arrow.badge.x, arrow.badge.y), pen.canvas.form, wrong_way=False)
        if not any(box.overlaps(other) for other in found.badges):
            return arrow
    return _crossing(pen, stream, wall, *tries[0], width)


def _tries(pen: Pen, wall: Wall, stream: Stream, spot: Point) -> Iterator[tuple[float, float]]:
    """Yield places along a wall and lengths, the nearest first; at last those at which a wide arrow leaves the wall."""
    form, half = pen.canvas.form, (wall.high - wall.low) / 2
    for pad, length in ((pitch_of(pen.canvas, pen.widths, stream) / 2, 0.85), (form.badge, 0.6)):
        low, high = wall.low + min(pad, half), wall.high - min(pad, half)
        wanted = min(max(wall.along(spot), low), high)
        steps = [low + 3.0 * n for n in range(int((high - low) / 3.0) + 1)]
        for along in sorted([wanted, *steps, high], key=lambda along: (abs(along - wanted), along)):
            yield along, length * form.out


def _crossing(
    pen: Pen, stream: Stream, wall: Wall, along: float, length: float, width: float, aside: float = 0.0
) -> Arrow:
    """Draw a stream straight across a wall, its number in the wall or ``aside`` in lengths of the arrow."""
    x, y = wall.point(along)
    dx, dy = wall.across[0] * length, wall.across[1] * length
    return pen.arrow(stream, (x - dx, y - dy), (x + dx, y + dy), width, (x + aside * dx, y + aside * dy))


def _leap(pen: Pen, stream: Stream, source: Box, target: Box, spot: Point) -> Arrow:
    """Draw a stream between zones that do not touch in the section, at its place and toward the zone it goes to."""
    dx, dy = target.middle[0] - source.middle[0], target.middle[1] - source.middle[1]
    length = max((dx * dx + dy * dy) ** 0.5, 1.0)
    reach = pen.canvas.form.out * 0.85 / length
    tail, tip = (spot[0] - reach * dx, spot[1] - reach * dy), (spot[0] + reach * dx, spot[1] + reach * dy)
    return pen.arrow(stream, tail, tip, pen.widths.of(stream), spot)
