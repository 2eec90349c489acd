"""Labels in a zone: its letter and warmth, the parts that sit in it, and streams that end within the enclosure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.engine.inputs import OUTSIDE
from frontend.pictures.air.drawing import Badge, Label, Line
from frontend.pictures.air.figures import PartFigure, Stream, ZoneFigure
from frontend.pictures.air.page import Page, stream_lines
from frontend.pictures.air.shapes import Point
from frontend.pictures.boxes import Box, free_place
from frontend.templatetags.quantities import counted, fixed, number, value_of, with_unit
from frontend.templatetags.words import bays, role

_SHOWN_ON_PHONES = ("processor", "graphics", "drives")
_GAP, _APART = 3.0, 1.5
_NEAR = 40.0  # a label further from its arrow than this would not be taken for its own


def label_zone(page: Page, zone: ZoneFigure, arrows: Sequence[Box]) -> None:
    """Set a zone's letter with what fits beside it, the letter alone over bays where there is no other room."""
    room = page.canvas.zones[zone.code].grown(-_GAP)
    known, name = zone.temperature_c, [Line(zone.name)]
    warm = [] if known is None else [Line(fixed(known, "°C"), strong=True)]
    whole = [] if known is None else [Line(with_unit(number(known), "°C"), strong=True)]
    alone = Line("")
    tries = [[*name, *warm], warm or name, [alone, *(warm or name)], [alone, *whole], [alone]]
    for lines in tries if page.canvas.form.wordy else tries[1:]:
        size = page.box_of(lines, badge=bool(lines[0].text))
        box = free_place(size, (room.x, room.y), room, page.taken, gap=_APART)
        if box is None and lines == tries[-1]:
            others = [*arrows, *(label.box for label in page.labels)]
            box = free_place(size, (room.x, room.y), room.grown(_GAP), others, step=1.0)
        if box is not None:
            x = box.x + page.size * 0.75
            badge = Badge(round(x, 1), round(box.y + page.size * 0.62, 1), zone.letter)
            page.add(Label(box, tuple(lines), page.size, badge=badge))
            return


def label_part(page: Page, part: PartFigure) -> None:
    """Set a part's temperature where it sits; bays without drives are of interest in an empty enclosure only."""
    form = page.canvas.form
    if not part.zone or (part.role == "drives" and not part.filled and page.figures.intake_c is not None):
        return
    if not form.wordy and part.role not in _SHOWN_ON_PHONES:
        return
    opening = next((one for one in page.canvas.housing.openings if one.code == part.opening), None)
    room = page.canvas.zones[part.zone].grown(-_GAP)
    near = page.canvas.at(opening.position) if opening else room.middle
    for lines in _part_lines(part, form.wordy):
        box = free_place(page.box_of(lines, icon=True), near, room, page.taken, gap=_APART)
        if box is not None:
            page.add(Label(box, tuple(lines), page.size, icon=part.role))
            return


def _part_lines(part: PartFigure, wordy: bool) -> Iterator[list[Line]]:
    warm = [] if part.temperature_c is None else [Line(value_of(part.temperature_c, "°C"), strong=True)]
    if part.role == "drives":
        drives = counted(part.filled, "drive") if warm else counted(part.bays, "bay")
        if wordy:
            yield [Line(f"{drives}, {bays(part.place)}"), *warm]
            yield [Line(drives), *warm]
        yield warm or [Line(drives)]
        return
    if wordy:
        yield [Line(role(part.role)), *warm]
    if warm:
        yield warm


def label_within(page: Page, stream: Stream) -> bool:
    """Label a stream that has no place outside, beside its arrow and in one of its zones, if there is room."""
    shapes = [one for one in (*page.streams.arrows, *page.streams.discs) if one.number == stream.number]
    if not shapes or stream.number in page.streams.ends:
        return False
    for lines in stream_lines(stream, page.canvas.form.wordy):
        numbered = [Line(f"{stream.number}: {lines[0].text}", lines[0].strong, lines[0].wrong_way), *lines[1:]]
        for said in (lines, numbered):
            box = _nearest(page, stream, shapes[0].box.middle, page.box_of(said))
            if box is not None and (said is numbered or not _mistaken(page, stream, box)):
                page.add(Label(box, tuple(said), page.size, "middle"))
                return True
    return False


def _nearest(page: Page, stream: Stream, near: Point, size: tuple[float, float]) -> Box | None:
    """Return the free place nearest to an arrow, None where none is near enough to be taken for its own."""
    rooms = [page.canvas.zones[one].grown(-_GAP) for one in (stream.target, stream.source) if one != OUTSIDE]
    rooms += [page.canvas.outline.grown(-_GAP)] if stream.wrong_way else []
    found = [free_place(size, near, room, page.taken, gap=_APART) for room in rooms]
    boxes = [box for box in found if box is not None and _is_near(box, near, size)]
    return min(boxes, key=lambda box: _distance(box.middle, near), default=None)


def _is_near(box: Box, point: Point, size: tuple[float, float]) -> bool:
    across, down = (abs(a - b) for a, b in zip(box.middle, point, strict=True))
    return across < size[0] / 2 + _NEAR and down < size[1] / 2 + _NEAR


def _mistaken(page: Page, stream: Stream, box: Box) -> bool:
    """Whether the number of another stream is nearer to a label than its own."""
    away = {
        one.number: _distance(box.middle, (one.badge.x, one.badge.y))
        for one in (*page.streams.arrows, *page.streams.discs)
    }
    return min(away, key=lambda number: away[number]) != stream.number


def _distance(one: Point, other: Point) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])
