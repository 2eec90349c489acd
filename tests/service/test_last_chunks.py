"""Of two workers that end the last two chunks at one moment, one merges; `make chaos` holds more of them to it."""

import pytest

from tests.service.last_chunks import Merged, TwoWorkers

pytestmark = pytest.mark.slow

TIMES = 10


def test_two_last_chunks_are_merged_once(service, monkeypatch):
    workers = TwoWorkers(monkeypatch)
    once = Merged(leases=1, merges=1, attempts=1, state="done", record=workers.alone())
    assert [workers.race() for _ in range(TIMES)] == [once] * TIMES
