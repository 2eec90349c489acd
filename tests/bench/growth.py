"""How the time to judge candidates grows with their number, when all kinds of parts grow together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from tests.bench.demo import demo_data, set_up
from tests.bench.mix import Mix, demo_mix
from tests.bench.results import Result
from tests.bench.workers import Run, run_mix, workers

SIZES = (1e4, 1e5, 1e6)
REPEATS = (5, 3, 1)
_KINDS = ("fans", "coolers", "supplies", "drives")


@dataclass(frozen=True)
class Sized:
    """A thinned mix and how often it is run."""

    mix: Mix
    repeats: int


def candidates_growth() -> Result:
    """Exponent of time against the number of judged candidates from 10^4 to 10^6: a straight line in logarithms."""
    with demo_data() as environment:
        set_up(environment)
        whole = demo_mix()
    sized = [Sized(thinned(whole, size), repeats) for size, repeats in zip(SIZES, REPEATS, strict=True)]
    with workers(whole) as pool:
        every, pruned = ([_median_run(run_mix(pool, one.mix, prune) for _ in range(one.repeats)) for one in sized]
                         for prune in (False, True))  # fmt: skip
    judged = [run.judged for run in every]
    seconds = [run.wall_s for run in every]
    exponent = _slope(judged, seconds)
    detail = {
        "growth": "the same share of fans, coolers, supplies and drives, in the same enclosures",
        "judged": judged,
        "seconds": [round(one, 3) for one in seconds],
        "flow_networks_solved": [run.flow_solves for run in every],
        "exponent_by_decade": [round(_slope(judged[k : k + 2], seconds[k : k + 2]), 3) for k in range(len(judged) - 1)],
        "with_pruning": {
            "seconds": [round(run.wall_s, 3) for run in pruned],
            "flow_networks_solved": [run.flow_solves for run in pruned],
            "exponent": round(_slope(judged, [run.wall_s for run in pruned]), 3),
        },
    }
    return Result("candidates_growth", round(exponent, 3), "exponent", detail=detail)


def _median_run(runs: Iterable[Run]) -> Run:
    listed = sorted(runs, key=lambda run: run.wall_s)
    return listed[len(listed) // 2]


def _slope(sizes: list[int], seconds: list[float]) -> float:
    return float(np.polyfit(np.log(sizes), np.log(seconds), 1)[0])


def thinned(mix: Mix, size: float) -> Mix:
    """Return the same share of every kind of part, such that about ``size`` candidates fit; enclosures all stay."""
    if size >= mix.size:
        return mix
    low, high = 0.0, 1.0
    near = mix
    for _ in range(14):
        share = 0.5 * (low + high)
        tried = _share_of(mix, share)
        if abs(np.log((tried.size or 1) / size)) < abs(np.log(near.size / size)):
            near = tried
        low, high = (share, high) if tried.size < size else (low, share)
    return near


def _share_of(mix: Mix, share: float) -> Mix:
    fewer = {kind: _spread(getattr(mix.catalogue, kind), share) for kind in _KINDS}
    return Mix(mix.brief, replace(mix.catalogue, **fewer))


def _spread(parts: tuple, share: float) -> tuple:
    """Pick a share of some parts, evenly over their sizes, forms and codes; at least one."""
    ordered = sorted(parts, key=lambda part: (getattr(part, "size_m", 0.0), getattr(part, "form", ""), part.code))
    count = max(1, round(share * len(ordered)))
    picked = {round((k + 0.5) * len(ordered) / count - 0.5) for k in range(count)}
    return tuple(sorted((ordered[k] for k in picked), key=lambda part: part.code))
