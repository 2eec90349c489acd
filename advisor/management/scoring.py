"""Scoring a study in several processes while a person watches."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait
from contextlib import contextmanager
from itertools import repeat
from multiprocessing.sharedctypes import Synchronized
from typing import Any, TextIO

from tqdm import tqdm

from advisor import study
from advisor.engine.inputs import Brief, Catalogue
from advisor.engine.search.outcome import EnclosureOutcome

Report = Callable[[int], None]
LOOK_S = 0.1  # between two looks at how far the processes are


def answer(brief: Brief, catalogue: Catalogue, *, jobs: int, stream: TextIO) -> dict[str, Any]:
    """Score a brief over a catalogue and return the record of the study.

    ``stream`` gets a progress bar where it is a terminal, else one line at the start and one at the end. Database
    connections must be closed before, since the processes would share them.
    """
    plan = study.plan(brief, catalogue)
    sizes = {code: study.chunk_size(plan, code) for code in plan.chunks}
    with _progress(sum(sizes.values()), len(sizes), stream) as report:
        # where a process cannot be copied, others would have to read and compile all over again
        if jobs == 1 or "fork" not in multiprocessing.get_all_start_methods():
            return study.merge(plan, [_chunk_here(plan, code, size, report) for code, size in sizes.items()])
        with _crew(plan, jobs) as crew:
            return study.merge(plan, crew.scored(sizes, report), each=crew.each)


def _chunk_here(plan: study.Plan, code: str, size: int, report: Report) -> EnclosureOutcome:
    told = 0

    def progress(count: int) -> None:
        nonlocal told
        count = min(count, size - told)
        told += count
        report(count)

    outcome = study.score_chunk(plan, code, progress)
    progress(size - told)
    return outcome


class Crew:
    """Processes that score a plan. Each holds the plan as it was when they were copied from this process."""

    def __init__(self, plan: study.Plan, jobs: int) -> None:
        fork = multiprocessing.get_context("fork")
        self.plan = plan
        self.done: Synchronized[int] = fork.Value("q", 0)
        self.pool = ProcessPoolExecutor(jobs, fork, initializer=_begin, initargs=(plan, self.done))

    def scored(self, sizes: dict[str, int], report: Report) -> list[EnclosureOutcome]:
        """Score all chunks, the largest first."""
        largest_first = sorted(self.plan.chunks, key=lambda code: -sizes[code])
        waiting = {self.pool.submit(_chunk, code, sizes[code]) for code in largest_first}
        outcomes, told = [], 0
        while waiting:
            finished, waiting = wait(waiting, timeout=LOOK_S, return_when=FIRST_COMPLETED)
            outcomes += [one.result() for one in finished]
            report(self.done.value - told)
            told = self.done.value
        return outcomes

    def each(self, method: Callable[[Any], Any], items: Sequence[Any]) -> Iterable[Any]:
        """Apply a method of ``study.Builds`` to items, each process with builds of its own."""
        return self.pool.map(_tell, repeat(method.__name__), items)


@contextmanager
def _crew(plan: study.Plan, jobs: int) -> Iterator[Crew]:
    """Start processes and end them, at once where something fails or the person stops it."""
    others = set(multiprocessing.active_children())
    gc.freeze()  # what is there already is never collected in the copies, so that its memory stays shared
    crew = Crew(plan, jobs)
    try:
        yield crew
    except BaseException:
        for process in set(multiprocessing.active_children()) - others:
            process.terminate()
        raise
    finally:
        gc.unfreeze()
        crew.pool.shutdown(cancel_futures=True)


# What a scoring process works on: the plan with its builds, and the count of candidates that all processes share.
_builds: study.Builds
_done: Synchronized[int]


def _begin(plan: study.Plan, done: Synchronized[int]) -> None:
    """Prepare a process that scores; a terminal's interrupt goes to all, and the first process ends the others."""
    global _builds, _done
    _builds, _done = study.Builds(plan), done
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _chunk(code: str, size: int) -> EnclosureOutcome:
    def report(count: int) -> None:
        with _done.get_lock():
            _done.value += count

    return _chunk_here(_builds.plan, code, size, report)


def _tell(method: str, item: Any) -> Any:
    return getattr(_builds, method)(item)


class _Bar(tqdm):  # type: ignore[type-arg]
    monitor_interval = 0  # without a thread of its own, since this process is copied while the bar is shown


@contextmanager
def _progress(total: int, enclosures: int, stream: TextIO) -> Iterator[Report]:
    """Show how many candidates are dealt with."""
    if not stream.isatty():
        start = time.monotonic()
        stream.write(f"Scoring {total} builds in {enclosures} enclosures ...\n")
        yield lambda count: None
        stream.write(f"Done in {time.monotonic() - start:.1f} s.\n")
        return
    with _Bar(total=total, file=stream, unit="build", unit_scale=True, desc="Scoring") as bar:

        def report(count: int) -> None:
            bar.update(count)

        yield report
