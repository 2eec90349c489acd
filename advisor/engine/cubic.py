"""A cubic through points that keeps their shape: monotone where they are, without overshoot.

The same curve as ``scipy.interpolate.PchipInterpolator``, without that package's fifth of a second of imports.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike


@dataclass(frozen=True)
class ShapedCubic:
    """Piecewise cubic through points at rising ``knots`` (n,).

    ``pieces`` (n - 1, 4) are coefficients in powers of the distance from the left end of each piece. Beyond the points
    the outer pieces go on, so ask within them.

    Notes
    -----
    Slopes at inner points are the weighted harmonic mean of those of both neighbouring chords, 0 where these differ in
    sign; at the ends a parabola through three points, cut back to the chord's sign and to three times its slope.
    Source: Fritsch & Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304.

    >>> curve = shaped_cubic((0.0, 1.0, 3.0), (0.0, 1.0, 1.0))
    >>> curve((0.0, 0.5, 1.0, 2.0)).round(4).tolist()
    [0.0, 0.6667, 1.0, 1.0]
    """

    knots: np.ndarray
    pieces: np.ndarray

    def __call__(self, x: ArrayLike) -> np.ndarray:
        """Return the value of the curve at ``x``, in the shape of ``x``."""
        x = np.asarray(x, dtype=float)
        k = np.clip(np.searchsorted(self.knots, x, side="right") - 1, 0, len(self.pieces) - 1)
        d, c = x - self.knots[k], self.pieces[k]
        return np.asarray(c[..., 0] + c[..., 1] * d + c[..., 2] * (d * d) + c[..., 3] * (d * d * d))

    @property
    def end_slope(self) -> float:
        """Slope at the last point."""
        d, c = self.knots[-1] - self.knots[-2], self.pieces[-1]
        return float(c[1] + c[2] * d * 2 + c[3] * (d * d) * 3)


def shaped_cubic(x: Sequence[float] | np.ndarray, y: Sequence[float] | np.ndarray) -> ShapedCubic:
    """Lay a shape-preserving cubic through two or more points with rising ``x``."""
    knots, values = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    width = np.diff(knots)
    chord = np.diff(values) / width
    slope = _slopes(width, chord)
    bend = (slope[:-1] + slope[1:] - 2 * chord) / width
    pieces = np.stack([values[:-1], slope[:-1], (chord - slope[:-1]) / width - bend, bend / width], axis=1)
    return ShapedCubic(knots, pieces)


def _slopes(width: np.ndarray, chord: np.ndarray) -> np.ndarray:
    """Slope at every point, from the widths and slopes of the chords."""
    if len(chord) == 1:
        return np.repeat(chord, 2)
    slope = np.zeros(len(chord) + 1)
    before, after = chord[:-1], chord[1:]
    alike = np.flatnonzero(np.sign(before) * np.sign(after) > 0)
    left, right = 2 * width[1:] + width[:-1], width[1:] + 2 * width[:-1]
    mean = (left[alike] / before[alike] + right[alike] / after[alike]) / (left + right)[alike]
    slope[alike + 1] = 1.0 / mean
    slope[0] = _end_slope(width[0], width[1], chord[0], chord[1])
    slope[-1] = _end_slope(width[-1], width[-2], chord[-1], chord[-2])
    return slope


def _end_slope(width: float, next_width: float, chord: float, next_chord: float) -> float:
    slope = ((2 * width + next_width) * chord - width * next_chord) / (width + next_width)
    if np.sign(slope) != np.sign(chord):
        return 0.0
    if np.sign(chord) != np.sign(next_chord) and abs(slope) > 3 * abs(chord):
        return 3 * chord
    return float(slope)
