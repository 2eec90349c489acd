"""Arrows as polygons and the sizes of what stands for a flow."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from frontend.pictures.air.drawing import Form
from frontend.pictures.air.figures import Stream
from frontend.pictures.boxes import Box, around

Point = tuple[float, float]
_THINNEST = 1.6
_MEANT = 0.4  # width of arrows, as a share of the widest, where no flow is known


@dataclass(frozen=True, slots=True)
class Widths:
    """Widths in proportion to the flow: ``widest`` for the greatest one."""

    widest: float
    greatest_m3s: float

    def of(self, stream: Stream) -> float:
        """Return the width of a stream's arrow, never too thin to be seen."""
        if stream.flow_m3s is None:
            return _MEANT * self.widest * (0.3 if stream.kind == "leak" else 1.0)
        return max(_THINNEST, self.widest * stream.flow_m3s / self.greatest_m3s)


def widths(streams: Iterable[Stream], form: Form) -> Widths:
    """Return the scale of arrows in one picture."""
    return Widths(form.widest, max([1e-9, *(one.flow_m3s or 0.0 for one in streams)]))


def head_width(width: float) -> float:
    """Return the width of an arrow's head."""
    return 1.45 * width + 6.0


def arrow_points(tail: Point, tip: Point, width: float) -> list[Point]:
    """Return the corners of a straight block arrow.

    >>> arrow_points((0.0, 0.0), (30.0, 0.0), 4.0)[0], arrow_points((0.0, 0.0), (30.0, 0.0), 4.0)[3]
    ((0.0, 2.0), (30.0, 0.0))
    """
    (x0, y0), (x1, y1) = tail, tip
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    head = min(0.5 * length, 0.55 * head_width(width) + 2.0)

    def corner(along: float, aside: float) -> Point:
        return round(x0 + along * dx - aside * dy, 1), round(y0 + along * dy + aside * dx, 1)

    neck, half, wing = length - head, width / 2, head_width(width) / 2
    return [
        corner(0.0, half),
        corner(neck, half),
        corner(neck, wing),
        corner(length, 0.0),
        corner(neck, -wing),
        corner(neck, -half),
        corner(0.0, -half),
    ]


def listed(points: Iterable[Point]) -> str:
    """Return corners as SVG lists them."""
    return " ".join(f"{x:g},{y:g}" for x, y in points)


def bounds(points: Iterable[Point]) -> Box:
    """Return the box around corners."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def badge_box(point: Point, form: Form, wrong_way: bool) -> Box:
    """Return the box of a number's circle or diamond."""
    size = 25.0 if wrong_way else 2 * form.badge + 1
    return around(point[0], point[1], size, size)
