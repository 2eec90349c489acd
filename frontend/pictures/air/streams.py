"""Where each stream of air is drawn: through a face, through an inner wall, or toward the onlooker and away."""

from __future__ import annotations

from advisor.engine.inputs import OUTSIDE
from frontend.pictures.air.canvas import EDGES, OUTWARD, Canvas
from frontend.pictures.air.crossings import draw_through_wall
from frontend.pictures.air.drawing import Badge, Disc
from frontend.pictures.air.figures import AirFigures, Stream
from frontend.pictures.air.pen import Pen, Streams, pitch_of
from frontend.pictures.air.shapes import Point, Widths, widths
from frontend.pictures.boxes import around, free_place, spread
from frontend.pictures.housing import OpeningPlace
from frontend.pictures.scales import warmth

LEAST_LEAK = 0.03  # seams that carry less than this share of what comes in stand in the table only


def drawn_streams(figures: AirFigures) -> list[Stream]:
    """Return the streams that are drawn: all but faint seams."""
    comes_in = sum(one.flow_m3s or 0.0 for one in figures.streams if one.source == OUTSIDE)
    least = LEAST_LEAK * max(comes_in, 1e-12)
    return [one for one in figures.streams if one.kind != "leak" or (one.flow_m3s or 0.0) > least]


def place_streams(canvas: Canvas, figures: AirFigures) -> Streams:
    """Return all streams where they are drawn; what lies in the plane comes first, the rest where there is room."""
    found, drawn = Streams(), drawn_streams(figures)
    pen = Pen(canvas, figures, _fitting(canvas, drawn, widths(drawn, canvas.form)))
    openings = {one.code: one for one in canvas.housing.openings}
    for edge in EDGES:
        here = [one for one in drawn if _edge_of(canvas, openings[one.code]) == edge]
        _draw_through_face(pen, edge, here, openings, found)
    inner = [one for one in drawn if OUTSIDE not in (one.source, one.target)]
    for one in sorted(inner, key=lambda one: (-(one.flow_m3s or 0.0), one.number)):
        draw_through_wall(pen, one, openings[one.code], found)
    for one in drawn:
        if one not in inner and not _edge_of(canvas, openings[one.code]):
            _draw_out_of_plane(pen, one, openings[one.code], found)
    return found


def _edge_of(canvas: Canvas, opening: OpeningPlace) -> str:
    return canvas.edge_of(opening) if OUTSIDE in (opening.from_zone, opening.to_zone) else ""


def _fitting(canvas: Canvas, drawn: list[Stream], scale: Widths) -> Widths:
    """Make all arrows narrower where those of one face would not stand side by side."""
    openings = {one.code: one for one in canvas.housing.openings}
    widest = scale.widest
    for edge in EDGES:
        length = canvas.outline.w if edge in ("top", "bottom") else canvas.outline.h
        here = [one for one in drawn if _edge_of(canvas, openings[one.code]) == edge]
        while widest > 4.0 and sum(pitch_of(canvas, Widths(widest, scale.greatest_m3s), one) for one in here) > length:
            widest *= 0.9
    return Widths(widest, scale.greatest_m3s)


def _along(edge: str, point: Point) -> float:
    return point[0] if edge in ("top", "bottom") else point[1]


def _draw_through_face(
    pen: Pen, edge: str, streams: list[Stream], openings: dict[str, OpeningPlace], found: Streams
) -> None:
    """Draw the streams of one face side by side, each as near to its place as the others allow."""
    canvas, form, outline = pen.canvas, pen.canvas.form, pen.canvas.outline
    low, high = (outline.x, outline.right) if edge in ("top", "bottom") else (outline.y, outline.bottom)
    wanted = [_wanted(canvas, edge, one, openings[one.code]) for one in streams]
    places = spread(wanted, [pitch_of(canvas, pen.widths, one) for one in streams], low, high)
    nx, ny = OUTWARD[edge]
    for stream, along in zip(streams, places, strict=True):
        x = {"left": outline.x, "right": outline.right}.get(edge, along)
        y = {"top": outline.y, "bottom": outline.bottom}.get(edge, along)
        outer, within = (x + nx * form.out, y + ny * form.out), (x - nx * form.out * 0.8, y - ny * form.out * 0.8)
        tail, tip = (outer, within) if stream.source == OUTSIDE else (within, outer)
        beyond = form.out + (13.0 if stream.wrong_way else form.badge + 1.5)
        badge = (x + nx * beyond, y + ny * beyond)
        found.add(pen.arrow(stream, tail, tip, pen.widths.of(stream), badge), form)
        clear = beyond + (14.0 if stream.wrong_way else form.badge + 4.0)
        found.ends[stream.number] = (edge, (x + nx * clear, y + ny * clear))


def _wanted(canvas: Canvas, edge: str, stream: Stream, opening: OpeningPlace) -> float:
    """Where along its face a stream would be drawn; halves of an opening are half its height apart."""
    aside = {"upper": -0.25, "lower": 0.25}.get(stream.half, 0.0) * max(canvas.reach(opening))
    return _along(edge, canvas.at(opening.position)) + aside


def _draw_out_of_plane(pen: Pen, stream: Stream, opening: OpeningPlace, found: Streams) -> None:
    """Draw a stream toward the onlooker or away as a disc, with its number beside or below it."""
    canvas, form = pen.canvas, pen.canvas.form
    inside = stream.target if stream.source == OUTSIDE else stream.source
    radius = max(5.0, pen.widths.of(stream) * 0.6)
    badge = 25.0 if stream.wrong_way else 2 * form.badge + 1
    near, room = canvas.at(opening.position), canvas.zones[inside].grown(-2.0)
    beside, below = (
        (2 * radius + badge + 3, max(2 * radius + 2, badge)),
        (max(2 * radius + 2, badge), 2 * radius + badge + 3),
    )
    places = (
        free_place(size, near, room, taken, step=3.0)
        for taken in (found.taken, found.badges)
        for size in (beside, below)
    )
    box = next((place for place in places if place), around(near[0], near[1], *beside))
    (x, y), flat = box.middle, box.w > box.h
    disc = Disc(
        stream.number,
        round(box.x + radius + 1 if flat else x, 1),
        round(y if flat else box.y + radius + 1, 1),
        round(radius, 2),
        (opening.looks == canvas.view.toward) == (stream.target == OUTSIDE),
        warmth(stream.temperature_c, pen.figures.intake_c),
        stream.wrong_way,
        box,
        Badge(
            round(box.right - badge / 2 if flat else x, 1),
            round(y if flat else box.bottom - badge / 2, 1),
            str(stream.number),
            stream.wrong_way,
        ),
    )
    found.discs.append(disc)
    found.taken.append(box)
