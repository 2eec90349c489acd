"""What streams are drawn with: their widths, what is drawn so far, and where that leaves room."""

from __future__ import annotations

from dataclasses import dataclass, field

from frontend.pictures.air.canvas import Canvas
from frontend.pictures.air.drawing import Arrow, Badge, Disc, Form
from frontend.pictures.air.figures import AirFigures, Stream
from frontend.pictures.air.shapes import Point, Widths, arrow_points, badge_box, bounds, head_width, listed
from frontend.pictures.boxes import Box
from frontend.pictures.scales import warmth


@dataclass
class Streams:
    """Streams as drawn; ``ends`` are the points outside a face at which their labels go."""

    arrows: list[Arrow] = field(default_factory=list)
    discs: list[Disc] = field(default_factory=list)
    ends: dict[int, tuple[str, Point]] = field(default_factory=dict)
    taken: list[Box] = field(default_factory=list)
    badges: list[Box] = field(default_factory=list)

    def add(self, arrow: Arrow, form: Form) -> None:
        """Keep an arrow and the room that it and its number take."""
        self.arrows.append(arrow)
        self.badges.append(badge_box((arrow.badge.x, arrow.badge.y), form, arrow.wrong_way))
        self.taken += [arrow.box, self.badges[-1]]


@dataclass(frozen=True, slots=True)
class Pen:
    """A drawing's scale of widths and its colours."""

    canvas: Canvas
    figures: AirFigures
    widths: Widths

    def arrow(self, stream: Stream, tail: Point, tip: Point, width: float, badge: Point) -> Arrow:
        points = arrow_points(tail, tip, width)
        return Arrow(
            stream.number,
            listed(points),
            round(width, 2),
            warmth(stream.temperature_c, self.figures.intake_c),
            stream.wrong_way,
            stream.kind == "leak",
            bounds(points),
            Badge(round(badge[0], 1), round(badge[1], 1), str(stream.number), stream.wrong_way),
        )


def pitch_of(canvas: Canvas, scale: Widths, stream: Stream) -> float:
    """Return how much of a face or a wall an arrow with its number takes."""
    badge = 25.0 if stream.wrong_way else 2 * canvas.form.badge + 1
    return max(head_width(scale.of(stream)), badge) + 2.0
