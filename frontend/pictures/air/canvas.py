"""A section drawn to scale: where the outline and the zones are on the drawing."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from frontend.pictures.air.drawing import Form
from frontend.pictures.boxes import Box
from frontend.pictures.housing import Housing, OpeningPlace, Triple
from frontend.pictures.section import View, zone_boxes

EDGES = ("left", "right", "top", "bottom")
# Direction out of the enclosure at each edge.
OUTWARD = {"left": (-1, 0), "right": (1, 0), "top": (0, -1), "bottom": (0, 1)}


@dataclass(frozen=True)
class Canvas:
    """Where everything is: ``scale`` in units of the drawing for a metre."""

    form: Form
    view: View
    housing: Housing
    scale: float
    outline: Box
    zones: dict[str, Box]

    def at(self, position: Triple) -> tuple[float, float]:
        """Return a position of the enclosure on the drawing."""
        u, v = self.view.project(position, self.housing.size)
        return self.outline.x + u * self.scale, self.outline.y + v * self.scale

    def reach(self, opening: OpeningPlace) -> tuple[float, float]:
        """Return how far an opening reaches across and down."""
        across, down = self.view.lengths(opening.extent)
        return across * self.scale, down * self.scale

    def edge_of(self, opening: OpeningPlace) -> str:
        return self.view.edge_of(opening.looks)

    def wall(self, one: Box, other: Box) -> Wall | None:
        """Return the wall that two zones share, None where they do not touch."""
        low, high = max(one.y, other.y), min(one.bottom, other.bottom)
        if high - low > 1.0 and min(abs(one.right - other.x), abs(other.right - one.x)) < 0.1:
            sign = 1 if abs(one.right - other.x) < 0.1 else -1
            return Wall(one.right if sign > 0 else one.x, low, high, (sign, 0))
        low, high = max(one.x, other.x), min(one.right, other.right)
        if high - low > 1.0 and min(abs(one.bottom - other.y), abs(other.bottom - one.y)) < 0.1:
            sign = 1 if abs(one.bottom - other.y) < 0.1 else -1
            return Wall(one.bottom if sign > 0 else one.y, low, high, (0, sign))
        return None


@dataclass(frozen=True, slots=True)
class Wall:
    """A straight stretch of wall, ``low`` to ``high`` along it, and the direction across it."""

    at: float
    low: float
    high: float
    across: tuple[int, int]

    @property
    def stands(self) -> bool:
        """Whether it is upright on the drawing."""
        return self.across[0] != 0

    def point(self, along: float) -> tuple[float, float]:
        return (self.at, along) if self.stands else (along, self.at)

    def along(self, point: tuple[float, float]) -> float:
        return point[1] if self.stands else point[0]


def canvas(
    housing: Housing, view: View, form: Form, open_edges: Collection[str], wrong_edges: Collection[str] = ()
) -> Canvas:
    """Return the canvas, with margins where labels of openings come to stand, wider ones for words about wrong ways."""
    left, right = (
        (form.margin_x if edge in open_edges else form.bare) + (form.wrong if edge in wrong_edges else 0.0)
        for edge in ("left", "right")
    )
    top = form.margin_y if "top" in open_edges else form.bare
    across, down = view.lengths(housing.size)
    scale = min((form.width - left - right) / across, form.tallest / down)
    x = left + (form.width - left - right - scale * across) / 2
    outline = Box(round(x, 1), top, round(scale * across, 1), round(scale * down, 1))
    zones = {
        code: Box(outline.x + box.x * scale, outline.y + box.y * scale, box.w * scale, box.h * scale)
        for code, box in zone_boxes(housing, view, (3 * form.badge) / scale).items()
    }
    return Canvas(form, view, housing, scale, outline, zones)
