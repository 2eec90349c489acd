"""Many studies at once: people who send them, workers, and readers that poll while all that writes is busy."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from typing import Any
from urllib.request import urlopen

from django.db import connection
from django.utils import timezone

from advisor.brief import read_brief
from advisor.models import Chunk, Outcome, Study
from advisor.submit import status_of, submit_study
from tests.service.machine import Service

SENDERS = 2
POLL_EVERY_S = 0.15  # fewer than the service grants to one reader
TROUBLE = ("locked", "Traceback", "OperationalError", "Internal Server Error")
SMALL = {"processor_watts": 65, "board_form": "micro_atx", "drive_count": 3, "layout": "single_parity"}


def briefs(count: int, base: Mapping[str, Any] = SMALL) -> list[dict[str, Any]]:
    """Return briefs that differ in where the reader sits and how loud it may be."""
    return [
        dict(base) | {"noise_target_dba": 35 + k % 10, "seat_distance_m": 1 + 0.1 * (k // 10)} for k in range(count)
    ]


def send(given: Mapping[str, Any]) -> Study:
    reading = read_brief(given)
    return submit_study(brief=reading.brief, given=given, warnings=reading.warnings, owner=None, now=timezone.now())


def send_all(given: Sequence[Mapping[str, Any]]) -> list[Study]:
    """Let several people send briefs at the same time, each on a connection of its own."""

    def some(own: Sequence[Mapping[str, Any]]) -> list[Study]:
        try:
            return [send(one) for one in own]
        finally:
            connection.close()

    with ThreadPoolExecutor(SENDERS) as senders:
        return [study for sent in senders.map(some, (given[k::SENDERS] for k in range(SENDERS))) for study in sent]


class Reader:
    """Polls studies over HTTP, one after the other, and notes what it was told."""

    def __init__(self, port: int) -> None:
        self.address = f"http://127.0.0.1:{port}/api/v1/studies/"
        self.told: list[str] = []

    @contextmanager
    def polling(self) -> Iterator[None]:
        """Poll from another thread meanwhile; what goes wrong there is raised at the end."""
        end = threading.Event()
        with ThreadPoolExecutor(1) as threads:
            polled = threads.submit(self._poll, end)
            try:
                yield
            finally:
                end.set()
        polled.result()

    def _poll(self, end: threading.Event) -> None:
        try:
            while not end.wait(POLL_EVERY_S):
                for key in Study.objects.values_list("pk", flat=True).order_by("?")[:1]:
                    with urlopen(f"{self.address}{key}/", timeout=60) as answer:
                        self.told.append(json.load(answer)["status"])
        finally:
            connection.close()


def wait_until_done(studies: Sequence[Study], patience_s: float) -> float:
    """Ask for every study until it is done; return the seconds that took."""
    begun, left = time.monotonic(), list(studies)
    while left:
        told = {study: status_of(study, timezone.now()).status for study in left}
        assert set(told.values()) <= {"queued", "running", "done"}, told
        left = [study for study, status in told.items() if status != "done"]
        assert time.monotonic() - begun < patience_s, f"{len(left)} of {len(studies)} left after {patience_s} s"
        time.sleep(POLL_EVERY_S)
    return time.monotonic() - begun


def trouble(service: Service) -> list[str]:
    """Return the lines of all logs that tell of a lock, or of any other error."""
    lines = [line for program in service.programs for line in program.words().splitlines()]
    return [line for line in lines if any(word in line for word in TROUBLE)]


def attempts() -> set[int]:
    """Return how often each chunk and each merge was begun."""
    rows = (Chunk.objects, Outcome.objects)
    return {number for manager in rows for number in manager.values_list("attempts", flat=True)}
