"""Boxes of drawings and a plain search for free places: no two labels may overlap, on any machine's fonts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

# Widths of characters as shares of the font size. Those of a wide face (DejaVu Sans), so that others fit as well.
_NARROW, _WIDE = frozenset("ijl.,:;'|!()[]ftrI \u202f\u2009"), frozenset("mwMW@%\u2192")
_SHARES = {"narrow": 0.41, "wide": 1.0, "upper": 0.73, "other": 0.64}


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle of a drawing: upper left corner, width and height."""

    x: float
    y: float
    w: float
    h: float

    @property
    def right(self) -> float:
        return self.x + self.w

    @property
    def bottom(self) -> float:
        return self.y + self.h

    @property
    def middle(self) -> tuple[float, float]:
        return self.x + self.w / 2, self.y + self.h / 2

    def overlaps(self, other: Box, gap: float = 0.0) -> bool:
        """Whether the two share any area, or come closer than ``gap``."""
        return (
            self.x < other.right + gap
            and other.x < self.right + gap
            and self.y < other.bottom + gap
            and other.y < self.bottom + gap
        )

    def inside(self, other: Box) -> bool:
        """Whether this box lies wholly within another."""
        return self.x >= other.x and self.y >= other.y and self.right <= other.right and self.bottom <= other.bottom

    def grown(self, by: float) -> Box:
        """The box with ``by`` more on every side."""
        return Box(self.x - by, self.y - by, self.w + 2 * by, self.h + 2 * by)


def around(x: float, y: float, w: float, h: float) -> Box:
    """Return the box with its middle at x, y."""
    return Box(x - w / 2, y - h / 2, w, h)


def text_width(text: str, size: float) -> float:
    """Return an upper estimate of a text's width, in the unit of its size.

    >>> text_width("28 m", 10.0) < text_width("28 mm", 10.0)
    True
    """
    return size * sum(_SHARES[_kind(letter)] for letter in text)


def _kind(letter: str) -> str:
    if letter in _NARROW:
        return "narrow"
    return "wide" if letter in _WIDE or ord(letter) > 0x2E7F else "upper" if letter.isupper() else "other"


def shortened(text: str, size: float, most: float) -> str:
    """Return a text cut, with an ellipsis, to a greatest width.

    >>> shortened("front fans", 10.0, 200.0), shortened("front fans", 10.0, 40.0)
    ('front fans', 'front f…')
    """
    if text_width(text, size) <= most:
        return text
    while text and text_width(text + "…", size) > most:
        text = text[:-1].rstrip()
    return text + "…" if text else ""


def free_place(
    size: tuple[float, float],
    near: tuple[float, float],
    room: Box,
    taken: Sequence[Box],
    *,
    step: float = 4.0,
    gap: float = 0.0,
) -> Box | None:
    """Return the place in ``room`` whose middle is nearest to ``near`` and touches nothing taken; None without any.

    Places are tried on a grid, so that the same drawing always comes out the same.
    """
    w, h = size
    if room.w < w or room.h < h:
        return None
    xs = room.x + step * np.arange(int((room.w - w) // step) + 1)
    ys = room.y + step * np.arange(int((room.h - h) // step) + 1)
    blocked = np.zeros((len(ys), len(xs)), dtype=bool)
    if taken:
        left, top, right, bottom = np.array([(one.x, one.y, one.right, one.bottom) for one in taken]).T
        columns = xs.searchsorted(left - w - gap, "right").tolist(), xs.searchsorted(right + gap).tolist()
        rows = ys.searchsorted(top - h - gap, "right").tolist(), ys.searchsorted(bottom + gap).tolist()
        for x0, x1, y0, y1 in zip(*columns, *rows, strict=True):
            blocked[y0:y1, x0:x1] = True
    if blocked.all():
        return None
    away = (xs + w / 2 - near[0]) ** 2 + (ys[:, np.newaxis] + h / 2 - near[1]) ** 2
    row, column = divmod(int(np.where(blocked, np.inf, np.round(away, 3)).argmin()), len(xs))
    return Box(float(xs[column]), float(ys[row]), w, h)


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float]:
    """Return middles as near as can be to the wanted ones, in their order, each with its size to itself.

    What does not fit between ``low`` and ``high`` reaches beyond ``high``.

    >>> spread([10.0, 12.0, 50.0], [10.0, 10.0, 10.0], 0.0, 100.0)
    [6.0, 16.0, 50.0]
    """
    order = sorted(range(len(wanted)), key=lambda k: (wanted[k], k))
    groups: list[tuple[float, list[int]]] = []  # start of a run of touching places, and whose they are
    for k in order:
        groups.append((_kept(wanted[k] - sizes[k] / 2, sizes[k], low, high), [k]))
        while len(groups) > 1 and groups[-2][0] + _length(groups[-2][1], sizes) > groups[-1][0] + 1e-9:
            members = groups[-2][1] + groups[-1][1]
            del groups[-2:]
            groups.append((_start(members, wanted, sizes, low, high), members))
    found = [0.0] * len(wanted)
    for start, members in groups:
        for k in members:
            found[k] = start + sizes[k] / 2
            start += sizes[k]
    return found


def _length(members: Iterable[int], sizes: Sequence[float]) -> float:
    return sum(sizes[k] for k in members)


def _start(members: Sequence[int], wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> float:
    offset, total = 0.0, 0.0
    for k in members:
        total += wanted[k] - sizes[k] / 2 - offset
        offset += sizes[k]
    return _kept(total / len(members), offset, low, high)


def _kept(start: float, length: float, low: float, high: float) -> float:
    return max(low, min(start, high - length))
