"""What a picture of the air consists of: shapes with their places, ready for a template.

Coordinates are in units of the drawing, x to the right and y down from its upper left corner. ``warmth`` is a step of
the colour scale (``scales.warmth``), None where nothing was computed.
"""

from __future__ import annotations

from dataclasses import dataclass

from frontend.pictures.boxes import Box


@dataclass(frozen=True, slots=True)
class Form:
    """Sizes of a drawing: for a desktop, or for a phone on which text keeps its size."""

    code: str
    width: float
    tallest: float  # of the enclosure itself
    margin_x: float  # beside a face with openings
    margin_y: float
    wrong: float  # more beside a face where air goes the wrong way
    bare: float  # beside one without
    widest: float  # arrow
    out: float  # reach of an arrow outside a face, and on each side of an inner wall
    text: float
    badge: float
    slat: float
    wordy: bool


WIDE = Form("wide", 720, 400, 172, 74, 0, 34, 30, 34, 13, 8.5, 26, True)
NARROW = Form("narrow", 344, 300, 74, 50, 24, 24, 20, 20, 12, 8, 14, False)


@dataclass(frozen=True, slots=True)
class Region:
    """A zone's part of the section."""

    code: str
    box: Box
    warmth: int | None


@dataclass(frozen=True, slots=True)
class Badge:
    """A number or a letter in a circle, in a diamond where the air goes the wrong way."""

    x: float
    y: float
    text: str
    wrong_way: bool = False

    @property
    def diamond(self) -> str:
        """Corners of a diamond around it."""
        corners = (self.x, self.y - 12), (self.x + 12, self.y), (self.x, self.y + 12), (self.x - 12, self.y)
        return " ".join(f"{x:g},{y:g}" for x, y in corners)

    @property
    def left(self) -> float:
        return self.x - 8

    @property
    def top(self) -> float:
        return self.y - 8


@dataclass(frozen=True, slots=True)
class Arrow:
    """Air through an opening seen from the side; ``width`` follows the flow."""

    number: int
    points: str
    width: float
    warmth: int | None
    wrong_way: bool
    leak: bool
    box: Box
    badge: Badge


@dataclass(frozen=True, slots=True)
class Disc:
    """Air through an opening in the face before or behind the section; ``radius`` follows the flow."""

    number: int
    x: float
    y: float
    radius: float
    toward: bool  # toward the onlooker
    warmth: int | None
    wrong_way: bool
    box: Box
    badge: Badge

    @property
    def cross(self) -> str:
        """Two lines across it, as one sees the feathers of an arrow that flies away."""
        r = round(0.7 * self.radius, 1)
        return f"M{self.x - r:g} {self.y - r:g}l{2 * r:g} {2 * r:g}m0 {-2 * r:g}l{-2 * r:g} {2 * r:g}"


@dataclass(frozen=True, slots=True)
class Mark:
    """Something in a wall: ``fan``, ``filter``, ``gap``, or a bay, ``filled`` or ``empty``."""

    kind: str
    box: Box

    @property
    def cross(self) -> str:
        """The diagonals of a fan's frame."""
        x, y, w, h = (round(one, 1) for one in (self.box.x, self.box.y, self.box.w, self.box.h))
        return f"M{x:g} {y:g}l{w:g} {h:g}m0 {-h:g}l{-w:g} {h:g}"

    @property
    def weave(self) -> str:
        """Strokes across a filter, 4 units apart."""
        x, y, w, h = (round(one, 1) for one in (self.box.x, self.box.y, self.box.w, self.box.h))
        if h > w:
            return "".join(f"M{x:g} {y + n:g}h{w:g}" for n in range(2, int(h), 4))
        return "".join(f"M{x + n:g} {y:g}v{h:g}" for n in range(2, int(w), 4))


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a label."""

    text: str
    strong: bool = False
    wrong_way: bool = False


@dataclass(frozen=True, slots=True)
class Label:
    """Lines of text in their box; ``icon`` is the role of the part that they are about, drawn before them.

    A ``badge`` stands before the lines, or in place of the first where that is empty.
    """

    box: Box
    lines: tuple[Line, ...]
    size: float
    anchor: str = "start"
    icon: str = ""
    face: bool = False
    turned: bool = False
    leader: tuple[float, float, float, float] | None = None
    badge: Badge | None = None

    @property
    def placed(self) -> list[tuple[float, float, Line]]:
        """Lines with the points at which they start, end, or have their middle."""
        beside = 2 * self.size if self.badge and self.lines[0].text else 0
        room = self.box.x + (self.size + 5 if self.icon else 0) + beside
        x = {"start": room, "end": self.box.right, "middle": self.box.middle[0]}[self.anchor]
        step = self.box.h / len(self.lines)
        return [
            (round(x, 1), round(self.box.y + (n + 0.78) * step, 1), line)
            for n, line in enumerate(self.lines)
            if line.text
        ]


@dataclass(frozen=True, slots=True)
class AirDrawing:
    """A section with the air through it."""

    form: Form
    top: float
    height: float
    outline: Box
    regions: tuple[Region, ...]
    marks: tuple[Mark, ...]
    arrows: tuple[Arrow, ...]
    discs: tuple[Disc, ...]
    labels: tuple[Label, ...]

    @property
    def width(self) -> float:
        return self.form.width
