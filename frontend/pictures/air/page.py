"""Labels as they come to stand one after the other, and what the label of a stream says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from frontend.pictures.air.canvas import Canvas
from frontend.pictures.air.drawing import Label, Line
from frontend.pictures.air.figures import AirFigures, Stream
from frontend.pictures.air.pen import Streams
from frontend.pictures.boxes import Box, text_width
from frontend.templatetags.quantities import flow, flow_number, quantity

WRONG_WAY, WRONG_WAY_NARROW = ("wrong way",), ("wrong", "way")
BOLD = 1.06  # how much wider bold letters are
_LETTER = 17.0


@dataclass
class Page:
    """A drawing with the labels that stand so far; ``taken`` is where no other may come."""

    canvas: Canvas
    figures: AirFigures
    streams: Streams
    taken: list[Box]
    labels: list[Label]

    @property
    def size(self) -> float:
        return self.canvas.form.text

    def add(self, label: Label) -> None:
        self.labels.append(label)
        self.taken.append(label.box)

    def box_of(self, lines: Sequence[Line], icon: bool = False, badge: bool = False) -> tuple[float, float]:
        """Return the size of lines, behind an icon or a badge; an empty first line leaves its room to a badge."""
        width = max(text_width(line.text, self.size) * (BOLD if line.strong else 1.0) for line in lines)
        width += (self.size + 5 if icon else 0) + (2 * self.size if badge else 0)
        height = len(lines) * self.size * 1.22
        return (width, height) if lines[0].text else (max(width, _LETTER), max(height, _LETTER))


def stream_lines(stream: Stream, wordy: bool) -> list[list[Line]]:
    """Return what a stream's label may say, the fullest first."""
    words = WRONG_WAY if wordy else WRONG_WAY_NARROW
    wrong = [Line(word, strong=True, wrong_way=True) for word in words] if stream.wrong_way else []
    if stream.flow_m3s is None:
        return [[Line(stream.said)]] if wordy else []
    if not wordy:
        return [[Line(flow_number(stream.flow_m3s)), *wrong], *([wrong] if wrong else [])]
    amount = flow(stream.flow_m3s)
    named = [Line(stream.said), Line(amount, strong=True), *wrong]
    if stream.fans:
        speed = "at rest" if not stream.speed_rpm else quantity(stream.speed_rpm, "rpm")
        fans = f"{stream.fans} × {speed}" if stream.fans > 1 else speed
        named = [named[0], Line(amount, strong=True), Line(fans), *wrong]
    return [named, [Line(amount, strong=True), *wrong], *([wrong] if wrong else [])]
