"""Scoring a mix enclosure by enclosure in two worker processes, as a machine with two cores runs a study."""

from __future__ import annotations

import multiprocessing
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing.pool import Pool

from advisor.engine.inputs import Brief, Catalogue
from advisor.engine.search.contest import SETTING_CODES
from advisor.engine.search.outcome import EnclosureOutcome
from advisor.engine.search.score import score_enclosure
from tests.bench.mix import Mix

WORKERS = 2


@dataclass(frozen=True)
class Run:
    """A mix scored: seconds on the clock and of processors, counts of candidates, flow networks solved."""

    wall_s: float
    processor_s: float
    considered: int
    accepted: int
    pruned: int
    rejected: Counter[str]
    flow_solves: int

    @property
    def judged(self) -> int:
        """Candidates whose settings were all gone through."""
        return self.accepted + sum(self.rejected[code] for code in SETTING_CODES)

    def summary(self) -> dict[str, object]:
        """Return the run as a result's detail holds it."""
        return {
            "seconds": round(self.wall_s, 2), "processor_seconds": round(self.processor_s, 2), "judged": self.judged,
            "accepted": self.accepted, "pruned": self.pruned, "rejected": dict(self.rejected.most_common()),
            "flow_networks_solved": self.flow_solves,
        }  # fmt: skip


@contextmanager
def workers(mix: Mix) -> Iterator[Pool]:
    """Start the workers, each with the catalogue and its kernels loaded."""
    with multiprocessing.get_context("spawn").Pool(WORKERS, _begin, (mix,)) as pool:
        pool.map(_load_kernels, range(WORKERS), chunksize=1)
        yield pool


def run_mix(pool: Pool, mix: Mix, prune: bool) -> Run:
    """Score all enclosures of a mix, the largest first."""
    tasks = [(mix.brief, mix.catalogue, part.enclosure, prune) for part in mix.parts()]
    start = time.perf_counter()
    scored = list(pool.imap_unordered(_score, tasks, chunksize=1))
    wall_s = time.perf_counter() - start
    outcomes = [outcome for outcome, _ in scored]
    rejected: Counter[str] = Counter()
    for outcome in outcomes:
        rejected.update(outcome.rejected)
    total = {
        name: sum(getattr(outcome, name) for outcome in outcomes)
        for name in ("considered", "accepted", "pruned", "flow_solves")
    }
    return Run(wall_s, sum(seconds for _, seconds in scored), rejected=rejected, **total)


_known: list[Mix] = []


def _begin(mix: Mix) -> None:
    _known.append(mix)


def _load_kernels(_: int) -> None:
    """Judge the smallest enclosure, so that every kernel is in memory."""
    mix = _known[0]
    smallest = mix.parts()[-1].enclosure
    for prune in (True, False):
        _score((mix.brief, mix.catalogue, smallest, prune))


def _score(task: tuple[Brief, Catalogue, str, bool]) -> tuple[EnclosureOutcome, float]:
    brief, catalogue, code, prune = task
    enclosure = next(one for one in catalogue.enclosures if one.code == code)
    start = time.process_time()
    outcome = score_enclosure(brief, catalogue, enclosure, prune=prune)
    return outcome, time.process_time() - start
