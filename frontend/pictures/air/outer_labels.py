"""Labels outside of the enclosure: the names of its faces, and beside them what passes through them."""

from __future__ import annotations

from frontend.pictures.air.canvas import EDGES
from frontend.pictures.air.drawing import Label, Line
from frontend.pictures.air.figures import Stream
from frontend.pictures.air.page import BOLD, Page, stream_lines
from frontend.pictures.boxes import Box, free_place, shortened, spread, text_width


def name_faces(page: Page) -> None:
    """Name the faces, in words of the enclosure and, where it is turned, of the room."""
    names, outline = page.canvas.housing.face_names(), page.canvas.outline
    for edge, looks in zip(EDGES, page.canvas.view.edges, strict=True):
        own = names[looks]
        said = own if own == looks else f"{own} (now {looks})"
        length, depth = text_width(said, page.size) + 6, page.size + 3
        upright = edge in ("left", "right")
        size = (depth, length) if upright else (length, depth)
        clear = page.canvas.form.out + 2 * page.canvas.form.badge + 6
        for away in (2.0, *(clear + 20 * n for n in range(6))):
            room = _beyond(page, edge, away, depth, length)
            box = free_place(size, _middle(outline, room, upright), room, page.taken, step=3.0)
            if box is not None:
                page.add(Label(box, (Line(said),), page.size, "middle", face=True, turned=upright))
                break


def _beyond(page: Page, edge: str, away: float, depth: float, length: float) -> Box:
    """Return a strip outside of a face, so far from it, longer than the face by a word at both ends."""
    outline, width = page.canvas.outline, page.canvas.form.width
    if edge in ("left", "right"):
        x = outline.x - away - depth if edge == "left" else outline.right + away
        return Box(x, outline.y - length - 4, depth, outline.h + 2 * length + 8)
    y = outline.y - away - depth if edge == "top" else outline.bottom + away
    low, high = max(2.0, outline.x - length), min(width - 2, outline.right + length)
    return Box(low, y, high - low, depth)


def _middle(outline: Box, room: Box, upright: bool) -> tuple[float, float]:
    return (room.middle[0], outline.middle[1]) if upright else (outline.middle[0], room.middle[1])


def label_edge(page: Page, edge: str) -> None:
    """Set the labels of one face's streams side by side, or one over the other, near their arrows."""
    wordy = page.canvas.form.wordy
    mine = [one for one in page.figures.streams if _ends_at(page, one, edge) and stream_lines(one, wordy)]
    here = [(one, page.streams.ends[one.number][1]) for one in mine]
    upright = edge in ("left", "right")
    outline = page.canvas.outline
    clear = page.canvas.form.out + 2 * page.canvas.form.badge + 7
    margin = (outline.x if edge == "left" else page.canvas.form.width - outline.right) - clear
    variants = [stream_lines(one, wordy) for one in mine]
    chosen = [found[0] for found in variants]
    if upright:
        chosen = [[_cut(page, line, margin) for line in lines] for lines in chosen]
    sizes = [page.box_of(lines) for lines in chosen]
    if not upright and sum(w + 10 for w, _ in sizes) > page.canvas.form.width:
        chosen = [found[-1] for found in variants]
        sizes = [page.box_of(lines) for lines in chosen]
    over = max(14.0, (sum(h + 5 for _, h in sizes) - outline.h) / 2)
    low, high = (outline.y - over, outline.bottom + over) if upright else (4.0, page.canvas.form.width - 4)
    wanted = [point[1] if upright else point[0] for _, point in here]
    places = spread(wanted, [(h if upright else w) + (5 if upright else 10) for w, h in sizes], low, high)
    for (_, point), lines, size, along in zip(here, chosen, sizes, places, strict=True):
        page.add(_beside_at(page, edge, point, lines, size, along))


def _ends_at(page: Page, stream: Stream, edge: str) -> bool:
    return page.streams.ends.get(stream.number, ("",))[0] == edge


def _cut(page: Page, line: Line, most: float) -> Line:
    return Line(shortened(line.text, page.size * (BOLD if line.strong else 1.0), most), line.strong, line.wrong_way)


def _beside_at(
    page: Page, edge: str, point: tuple[float, float], lines: list[Line], size: tuple[float, float], along: float
) -> Label:
    (x, y), (w, h) = point, size
    corner = {
        "left": (x - w, along - h / 2),
        "right": (x, along - h / 2),
        "top": (along - w / 2, y - h),
        "bottom": (along - w / 2, y),
    }[edge]
    box = Box(round(corner[0], 1), round(corner[1], 1), round(w, 1), round(h, 1))
    while any(box.overlaps(other) for other in page.taken):
        box = Box(box.x, box.y + (-4 if edge == "top" else 4), box.w, box.h)
    anchor = {"left": "end", "right": "start"}.get(edge, "middle")
    leader = None
    if edge in ("left", "right") and abs(box.middle[1] - y) > h / 2:
        nearest = box.bottom if box.middle[1] < y else box.y
        leader = (x, y, x + (-8 if edge == "left" else 8), nearest)
    return Label(box, tuple(lines), page.size, anchor, leader=leader)
