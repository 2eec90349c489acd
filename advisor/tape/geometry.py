"""Boxes: the chambers of an enclosure, the faces that they border on, and where things on a face are.

Axes as in the catalogue: x to the right, y to the rear, z up, in mm from the lower front left corner.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

# Axis across which a face lies, and whether it is at the axis' far end.
SIDES = {"left": (0, 0), "right": (0, 1), "front": (1, 0), "rear": (1, 1), "bottom": (2, 0), "top": (2, 1)}
FACES = ("front", "rear", "left", "right", "top", "bottom")
MM2_CM2 = 0.01

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """A block of space between two corners [mm]."""

    low: Point
    high: Point

    @property
    def size(self) -> Point:
        """Extent along x, y and z [mm]."""
        x, y, z = (high - low for low, high in zip(self.low, self.high, strict=True))
        return x, y, z

    @property
    def middle(self) -> Point:
        """Centre [mm]."""
        x, y, z = ((low + high) / 2 for low, high in zip(self.low, self.high, strict=True))
        return x, y, z

    def across(self, face: str) -> tuple[float, float]:
        """Extents [mm] along the two directions in which a face lies: level first, then upright where one is."""
        level, upright = (length for axis, length in enumerate(self.size) if axis != SIDES[face][0])
        return level, upright

    def area_cm2(self, face: str) -> float:
        """Area [cm2] of a face."""
        level, upright = self.across(face)
        return level * upright * MM2_CM2

    def centre(self, face: str) -> Point:
        """Centre of a face [mm]."""
        axis, far = SIDES[face]
        point = list(self.middle)
        point[axis] = (self.high if far else self.low)[axis]
        return point[0], point[1], point[2]

    def touches(self, face: str, outer: Box) -> bool:
        """Tell whether it reaches a face of the box around it."""
        axis, far = SIDES[face]
        end, wall = ((one.high if far else one.low)[axis] for one in (self, outer))
        return abs(end - wall) < 1e-9

    def cut(self, axis: int, at: float) -> tuple[Box, Box]:
        """Cut it across an axis at a coordinate; the lower part first."""
        low, high = list(self.low), list(self.high)
        low[axis] = high[axis] = at
        return replace(self, high=(high[0], high[1], high[2])), replace(self, low=(low[0], low[1], low[2]))

    def slice_behind(self, face: str, depth: float) -> tuple[Box, Box]:
        """Return the layer of a depth behind a face, and the rest."""
        axis, far = SIDES[face]
        lower, upper = self.cut(axis, self.high[axis] - depth if far else self.low[axis] + depth)
        return (upper, lower) if far else (lower, upper)


def chambers_of(width: float, height: float, depth: float, divider: tuple[str, float, str] | None) -> dict[str, Box]:
    """Return the chambers ``main`` (the board's) and, with a divider (direction, place [mm], board's side), ``second``.

    >>> chambers_of(300.0, 400.0, 400.0, ("upright", 200.0, "left"))["second"].size
    (100.0, 400.0, 400.0)
    """
    whole = Box((0.0, 0.0, 0.0), (width, depth, height))
    if divider is None:
        return {"main": whole}
    direction, at, board_side = divider
    lower, upper = whole.cut(0 if direction == "upright" else 2, at)
    board_first = board_side in ("left", "below")
    return {"main": lower if board_first else upper, "second": upper if board_first else lower}
