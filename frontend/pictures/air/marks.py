"""What is seen in the walls: fans, filters, gaps, the power supply, and bays with their drives."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.engine.inputs import OUTSIDE
from frontend.pictures.air.canvas import OUTWARD, Canvas
from frontend.pictures.air.drawing import Mark
from frontend.pictures.air.figures import AirFigures, PartFigure
from frontend.pictures.boxes import Box, around
from frontend.pictures.housing import OpeningPlace

_FAN_DEPTH, _FILTER_DEPTH, _GAP = 9.0, 4.0, 3.0
_LEAST_SLAT = 2.2


def marks(canvas: Canvas, figures: AirFigures) -> Iterator[Mark]:
    """Yield what is drawn in the walls, below the arrows."""
    cages: dict[str, list[PartFigure]] = {}
    for part in figures.parts:
        if part.role == "drives" and part.opening:
            cages.setdefault(part.opening, []).append(part)
    fans = {one.code: one.fans for one in figures.streams}
    for opening in canvas.housing.openings:
        frame = _frame(canvas, opening)
        if frame is None or opening.kind == "leak":
            continue
        stands, box, outward = frame
        yield Mark("gap", _thick(box, stands, _GAP))
        if opening.code in cages:
            yield from _bays(canvas, opening, stands, box, outward, cages[opening.code])
        if fans.get(opening.code):
            yield from _fans(opening, stands, box, fans[opening.code])
        if opening.filtered:
            yield Mark("filter", _moved(_thick(box, stands, _FILTER_DEPTH), outward, 5.0))


def _frame(canvas: Canvas, opening: OpeningPlace) -> tuple[bool, Box, tuple[int, int]] | None:
    """Return the line of an opening in its wall, whether it stands, and which way is out; None out of the plane."""
    x, y = canvas.at(opening.position)
    across, down = canvas.reach(opening)
    outer = OUTSIDE in (opening.from_zone, opening.to_zone)
    if outer:
        edge = canvas.edge_of(opening)
        if not edge:
            return None
        outward, bounds = OUTWARD[edge], canvas.outline
        x = {"left": bounds.x, "right": bounds.right}.get(edge, x)
        y = {"top": bounds.y, "bottom": bounds.bottom}.get(edge, y)
        stands = edge in ("left", "right")
        limits = (bounds.y, bounds.bottom) if stands else (bounds.x, bounds.right)
    else:
        wall = canvas.wall(canvas.zones[opening.from_zone], canvas.zones[opening.to_zone])
        if wall is None:
            return None
        stands, outward, limits = wall.stands, (-wall.across[0], -wall.across[1]), (wall.low, wall.high)
        x, y = wall.point(min(max(wall.along((x, y)), wall.low), wall.high))
    return stands, _clipped(x, y, down if stands else across, stands, limits), outward


def _clipped(x: float, y: float, length: float, stands: bool, limits: tuple[float, float]) -> Box:
    middle = y if stands else x
    low, high = max(middle - length / 2, limits[0] + 1), min(middle + length / 2, limits[1] - 1)
    low, high = (low, high) if high - low >= 8 else (middle - 4, middle + 4)
    return Box(x, low, 0.0, high - low) if stands else Box(low, y, high - low, 0.0)


def _thick(box: Box, stands: bool, depth: float) -> Box:
    x, y = box.middle
    return around(x, y, depth, box.h) if stands else around(x, y, box.w, depth)


def _moved(box: Box, direction: tuple[int, int], by: float) -> Box:
    return Box(box.x + direction[0] * by, box.y + direction[1] * by, box.w, box.h)


def _fans(opening: OpeningPlace, stands: bool, box: Box, count: int) -> Iterator[Mark]:
    """Fans that stand side by side along the wall are drawn one by one, others behind each other as one."""
    length = box.h if stands else box.w
    spans = max(opening.extent) >= 0.9 * count * opening.fan_size and length > 14.0 * count
    along = (opening.extent[2] >= 0.9 * count * opening.fan_size) if stands else spans
    shown = count if spans and along else 1
    thick = _thick(box, stands, _FAN_DEPTH)
    for n in range(shown):
        if stands:
            yield Mark("fan", Box(thick.x, thick.y + n * thick.h / shown + 0.5, thick.w, thick.h / shown - 1))
        else:
            yield Mark("fan", Box(thick.x + n * thick.w / shown + 0.5, thick.y, thick.w / shown - 1, thick.h))


def _bays(
    canvas: Canvas, opening: OpeningPlace, stands: bool, box: Box, outward: tuple[int, int], parts: Iterable[PartFigure]
) -> Iterator[Mark]:
    """Draw bays as slats along the cage's wall, the air passing between them."""
    parts = list(parts)
    filled = sum(part.filled for part in parts)
    total = max(sum(part.bays for part in parts), filled)
    length, depth = (box.h if stands else box.w), canvas.form.slat
    columns = max(1, -(-int(total * _LEAST_SLAT) // max(int(length), 1)))
    rows = -(-total // columns)
    body = _thick(box, stands, depth)
    if OUTSIDE in (opening.from_zone, opening.to_zone):
        body = _moved(body, outward, -depth / 2 - 2)
    for n in range(total):
        row, column = n % rows, n // rows
        kind = "filled" if n < filled else "empty"
        if stands:
            w, h = body.w / columns, body.h / rows
            yield Mark(kind, Box(body.x + column * w, body.y + row * h + 0.4, w - 1, max(h - 1.2, 1.0)))
        else:
            w, h = body.w / rows, body.h / columns
            yield Mark(kind, Box(body.x + row * w + 0.4, body.y + column * h, max(w - 1.2, 1.0), h - 1))
