"""A million candidates, every one judged at its best settings, on two cores; and the same search with pruning."""

from __future__ import annotations

from dataclasses import asdict

from tests.bench.demo import demo_data, set_up
from tests.bench.mix import Mix, demo_mix
from tests.bench.results import Result
from tests.bench.workers import WORKERS, run_mix, workers


def million_candidates() -> Result:
    """Seconds for all candidates of the mix, without pruning, from workers that have their kernels loaded."""
    with demo_data() as environment:
        set_up(environment)
        mix = demo_mix()
    with workers(mix) as pool:
        every, pruned = run_mix(pool, mix, prune=False), run_mix(pool, mix, prune=True)
    if every.judged < 1e6:
        raise ValueError(f"the mix has {every.judged} candidates to judge; 1000000 are asked for")
    detail = _described(mix) | {
        "workers": WORKERS,
        "every_one_judged": every.summary(),
        "with_pruning": pruned.summary(),
    }
    return Result("million_candidates", round(every.wall_s, 2), "s", detail=detail)


def _described(mix: Mix) -> dict[str, object]:
    """Say which candidates these are."""
    brief, parts = mix.brief, mix.parts()
    return {
        "brief": f"ten-drive sample brief at {brief.noise_target_dba:g} dBA and {brief.limit_drive_c:g} degC of drives",
        "kinds_of_enclosures": len({part.kind for part in parts}),
        "fitting_candidates": mix.size,
        "enclosures": [asdict(part) | {"candidates": part.candidates} for part in parts],
    }
