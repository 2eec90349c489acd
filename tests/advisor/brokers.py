"""A broker within the test: it keeps what it was told, and forgets it or cannot be reached when it is told to."""

from contextlib import contextmanager

import pytest

from advisor.running import queue, scoring
from advisor.running.queue import BrokerAway


class Broker:
    """What waits in the queue, as ``Work``; ``commit`` lets what happens within it be told once it is done."""

    def __init__(self, capture):
        self.waiting = []
        self.away = False
        self._capture = capture

    @contextmanager
    def commit(self):
        with self._capture(execute=True):
            yield

    def send(self, work):
        if self.away:
            raise BrokerAway("away")
        self.waiting.append(work)

    def depth(self):
        if self.away:
            raise BrokerAway("away")
        return len(self.waiting)

    def told(self):
        """Take everything out of the queue, as codes of enclosures."""
        codes = [work.enclosure for work in self.waiting]
        self.waiting.clear()
        return codes

    def work(self, clock):
        """Do all work, as one worker would, until nothing waits."""
        while self.waiting:
            work = self.waiting.pop(0)
            with self.commit():
                if work.enclosure:
                    scoring.score(work.outcome_id, work.enclosure, clock)
                else:
                    scoring.merge(work.outcome_id, clock)


@pytest.fixture
def broker(db, monkeypatch, django_capture_on_commit_callbacks):
    made = Broker(django_capture_on_commit_callbacks)
    monkeypatch.setattr(queue.Work, "send", lambda work: made.send(work))
    monkeypatch.setattr(queue, "depth", made.depth)
    return made


@pytest.fixture(autouse=True)
def two_workers(settings):
    """Four chunks of an outcome may be in flight."""
    settings.WORKERS = 2
