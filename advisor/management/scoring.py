"""Scoring a study in threads while a person watches."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor, as_completed
from contextlib import contextmanager
from typing import Any, TextIO

from tqdm import tqdm

from advisor import study
from advisor.engine.inputs import Brief, Catalogue
from advisor.engine.search.outcome import EnclosureOutcome

Report = Callable[[int], None]


class _Stopped(Exception):
    """Raised in threads that score on after the study was given up."""


def answer(brief: Brief, catalogue: Catalogue, *, jobs: int, stream: TextIO) -> dict[str, Any]:
    """Score a brief over a catalogue and return the record of the study.

    ``stream`` gets a progress bar where it is a terminal, else one line at the start and one at the end.
    """
    plan = study.plan(brief, catalogue)
    sizes = {code: study.chunk_size(plan, code) for code in plan.chunks}
    with _progress(sum(sizes.values()), len(sizes), stream) as report, ThreadPoolExecutor(jobs) as pool:
        outcomes = _scored(plan, sizes, pool, report)
        return study.merge(plan, outcomes, each=pool.map)


def _scored(
    plan: study.Plan, sizes: dict[str, int], pool: ThreadPoolExecutor, report: Report
) -> list[EnclosureOutcome]:
    """Score all chunks, the largest first, and stop every thread where one fails or the person stops it."""
    stop = threading.Event()
    largest_first = sorted(plan.chunks, key=lambda code: -sizes[code])
    waiting = [pool.submit(_chunk, plan, code, sizes[code], report, stop) for code in largest_first]
    try:
        return [done.result() for done in as_completed(waiting)]
    except BaseException:
        stop.set()
        pool.shutdown(wait=False, cancel_futures=True)
        raise


def _chunk(plan: study.Plan, code: str, size: int, report: Report, stop: threading.Event) -> EnclosureOutcome:
    told = 0

    def progress(count: int) -> None:
        nonlocal told
        if stop.is_set():
            raise _Stopped
        count = min(count, size - told)
        told += count
        report(count)

    outcome = study.score_chunk(plan, code, progress)
    progress(size - told)
    return outcome


@contextmanager
def _progress(total: int, enclosures: int, stream: TextIO) -> Iterator[Report]:
    """Show how many candidates are dealt with."""
    if not stream.isatty():
        start = time.monotonic()
        stream.write(f"Scoring {total} builds in {enclosures} enclosures ...\n")
        yield lambda count: None
        stream.write(f"Done in {time.monotonic() - start:.1f} s.\n")
        return
    lock = threading.Lock()
    with tqdm(total=total, file=stream, unit="build", unit_scale=True, desc="Scoring") as bar:

        def report(count: int) -> None:
            with lock:
                bar.update(count)

        yield report
