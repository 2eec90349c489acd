"""Where words and figures stand: beside the faces for what passes there, else in the zone that they are about."""

from __future__ import annotations

from collections.abc import Sequence

from frontend.pictures.air.canvas import EDGES, Canvas
from frontend.pictures.air.drawing import Label, Line
from frontend.pictures.air.figures import AirFigures, Stream
from frontend.pictures.air.inner_labels import label_part, label_within, label_zone
from frontend.pictures.air.outer_labels import label_edge, name_faces
from frontend.pictures.air.page import WRONG_WAY, Page
from frontend.pictures.air.pen import Streams
from frontend.pictures.boxes import Box


def place_labels(canvas: Canvas, figures: AirFigures, streams: Streams, blocked: Sequence[Box]) -> list[Label]:
    """Return all labels; what finds no room is left to the table beside the picture."""
    page = Page(canvas, figures, streams, [*streams.taken, *blocked], [])
    name_faces(page)
    for edge in EDGES:
        label_edge(page, edge)
    for zone in figures.zones:
        label_zone(page, zone, streams.taken)
    unsaid = [one for one in figures.streams if one.wrong_way and not _said(page, one)]
    for part in figures.parts:
        label_part(page, part)
    for stream in figures.streams:
        if not stream.wrong_way:
            label_within(page, stream)
    _listed(page, unsaid)
    return page.labels


def _said(page: Page, stream: Stream) -> bool:
    """Whether a stream's words have a place beside a face or, now, in one of its zones."""
    return stream.number in page.streams.ends or label_within(page, stream)


def _listed(page: Page, streams: Sequence[Stream]) -> None:
    """Say below the enclosure which other streams go the wrong way."""
    if not streams:
        return
    numbers = ", ".join(str(one.number) for one in streams)
    lines = [Line(f"{' '.join(WRONG_WAY)}: {numbers}", strong=True, wrong_way=True)]
    w, h = page.box_of(lines)
    low = max([page.canvas.outline.bottom, *(box.bottom for box in page.taken)]) + 6
    left = max(2.0, (page.canvas.form.width - w) / 2)
    page.add(Label(Box(round(left, 1), round(low, 1), round(w, 1), round(h, 1)), tuple(lines), page.size, "middle"))
