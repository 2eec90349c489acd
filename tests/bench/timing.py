"""Times that other work on the machine spoils least."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable


def median_s(work: Callable[[], object], repeats: int) -> float:
    """Median duration [s] of some repeats."""
    return statistics.median(durations_s(work, repeats))


def durations_s(work: Callable[[], object], repeats: int) -> list[float]:
    """Duration [s] of each repeat."""
    found = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return found
