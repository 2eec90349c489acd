"""Two workers that end the last two chunks at one moment, on PostgreSQL, where neither waits for the other's write."""

import time

from django.db import connection

from tests.service.last_chunks import Merged, TwoWorkers

TIMES = 200


def test_two_last_chunks_are_merged_once(on_postgres, monkeypatch, measured):
    assert connection.vendor == "postgresql"
    workers = TwoWorkers(monkeypatch)
    once = Merged(leases=1, merges=1, attempts=1, state="done", record=workers.alone())
    begun = time.monotonic()
    merged = [workers.race() for _ in range(TIMES)]
    measured(f"{merged.count(once)} of {TIMES} merged once, in {time.monotonic() - begun:.0f} s")
    assert merged == [once] * TIMES
