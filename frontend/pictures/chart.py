"""A plain chart: two axes with round ticks, lines, bands and marks, in a size that phones show without shrinking."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from frontend.pictures.boxes import Box, text_width
from frontend.pictures.scales import Axis, rounded_out
from frontend.templatetags.quantities import number, significant

Point = tuple[float, float]
TEXT = 12.0
WIDTH, HEIGHT = 344.0, 252.0
LEFT, RIGHT, TOP, BOTTOM = 42.0, 20.0, 24.0, 40.0


@dataclass(frozen=True, slots=True)
class Tick:
    """A round value at an axis, ``at`` its place."""

    at: float
    text: str


@dataclass(frozen=True, slots=True)
class Word:
    """A text with its box; ``kind`` is a class for its looks."""

    box: Box
    text: str
    kind: str = ""

    @property
    def baseline(self) -> float:
        return round(self.box.y + 0.78 * self.box.h, 1)


@dataclass(frozen=True, slots=True)
class Frame:
    """Axes of a chart, ``across`` and ``up``, each with its words."""

    across: Axis
    up: Axis
    across_word: str
    up_word: str

    @property
    def width(self) -> float:
        return WIDTH

    @property
    def height(self) -> float:
        return HEIGHT

    @property
    def room(self) -> Box:
        return Box(LEFT, TOP, WIDTH - LEFT - RIGHT, HEIGHT - TOP - BOTTOM)

    def at(self, point: Point) -> Point:
        """Return the place of a pair of values."""
        return self.across.at(point[0]), self.up.at(point[1])

    @property
    def across_ticks(self) -> list[Tick]:
        return [Tick(self.across.at(value), _tick(value)) for value in self.across.ticks()]

    @property
    def up_ticks(self) -> list[Tick]:
        return [Tick(self.up.at(value), _tick(value)) for value in self.up.ticks()]

    def path(self, points: Iterable[Point]) -> str:
        """Return values as the path of a line."""
        places = [self.at(point) for point in points]
        return "M" + "L".join(f"{x:g} {y:g}" for x, y in places) if places else ""

    def band(self, low: Sequence[Point], high: Sequence[Point]) -> str:
        """Return the area between two lines as a path."""
        return f"{self.path([*low, *reversed(high)])}Z"


def frame(across: Sequence[float], up: Sequence[float], across_word: str, up_word: str) -> Frame:
    """Return axes for values, widened to round ones."""
    return Frame(
        Axis(*_ends(across), LEFT, WIDTH - RIGHT), Axis(*_ends(up), HEIGHT - BOTTOM, TOP), across_word, up_word
    )


def _ends(values: Sequence[float]) -> Point:
    low, high = min(values), max(values)
    return rounded_out(low, high if high > low else low + 1.0)


def _tick(value: float) -> str:
    return number(value) if value == int(value) else significant(value)


def word_box(text: str, x: float, y: float, size: float = TEXT) -> Box:
    """Return the box of a text whose left middle is at x, y."""
    height = size * 1.2
    return Box(x, y - height / 2, text_width(text, size), height)
