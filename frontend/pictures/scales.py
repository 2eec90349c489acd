"""Scales of drawings: steps of the colour for warmth, round ticks, places along an axis."""

from __future__ import annotations

import math
from dataclasses import dataclass

WARMTH_STEPS = 10
KELVIN_PER_STEP = 1.0


def warmth(temperature_c: float | None, intake_c: float | None) -> int | None:
    """Return the step of the colour scale: 0 is the room's air, 9 is 9 K above it or more.

    >>> warmth(23.0, 23.0), warmth(26.1, 23.0), warmth(60.0, 23.0), warmth(None, 23.0)
    (0, 3, 9, None)
    """
    if temperature_c is None or intake_c is None:
        return None
    return min(WARMTH_STEPS - 1, max(0, int((temperature_c - intake_c) / KELVIN_PER_STEP)))


@dataclass(frozen=True, slots=True)
class Axis:
    """Values from ``low`` to ``high`` along a line from ``start`` to ``end``."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Return where a value is; beyond the ends it is at the end.

        >>> Axis(0.0, 10.0, 100.0, 0.0).at(2.5)
        75.0
        """
        share = (min(max(value, self.low), self.high) - self.low) / (self.high - self.low)
        return round(self.start + share * (self.end - self.start), 2)

    def ticks(self, most: int = 6) -> list[float]:
        """Return round values within the axis."""
        return round_values(self.low, self.high, most)


def round_values(low: float, high: float, most: int = 6) -> list[float]:
    """Return at most so many round values from low to high, a step of 1, 2 or 5 apart.

    >>> round_values(0.0, 94.0), round_values(22.0, 48.0, 4)
    ([0.0, 20.0, 40.0, 60.0, 80.0], [30.0, 40.0])
    """
    step = _step((high - low) / max(most - 1, 1))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [round(n * step, 10) for n in range(first, last + 1)]


def _step(least: float) -> float:
    power = 10.0 ** math.floor(math.log10(least))
    return next(factor * power for factor in (1, 2, 5, 10) if factor * power >= least * (1 - 1e-9))


def rounded_out(low: float, high: float, most: int = 6) -> tuple[float, float]:
    """Return the range widened to round values.

    >>> rounded_out(3.0, 94.0)
    (0.0, 100.0)
    """
    step = _step(max(high - low, 1e-9) / max(most - 1, 1))
    return math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
