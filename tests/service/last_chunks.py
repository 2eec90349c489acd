"""Two workers that end the last two chunks of an outcome at one moment: both see both done, one may merge."""

from __future__ import annotations

import threading
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import pytest
from django.db import connection
from django.utils import timezone

from advisor import study
from advisor.models import Chunk, Outcome, State, Study
from advisor.running import scoring
from tests.advisor.asking import ask, outcome_of
from tests.engine.record import found
from tests.service.undisturbed import undisturbed

PATIENCE_S = 60.0


@dataclass(frozen=True)
class Merged:
    """What two workers did to one outcome: how often they began to merge, and what was kept."""

    leases: int
    merges: int
    attempts: int
    state: str
    record: bytes


class TwoWorkers:
    """Workers that wait for each other after their results are committed and before they look who merges."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.catalogue = replace(found.catalogue(), enclosures=found.catalogue().enclosures[:2])
        self.counted: Counter[str] = Counter()
        self._carry_on, self._merge = scoring.carry_on, study.merge
        patch.setattr(scoring, "carry_on", self._carry_on_together)
        patch.setattr(study, "merge", self._counted_merge)

    def alone(self) -> bytes:
        """Return the record that is kept where one worker does all."""
        return undisturbed(study.plan(found.brief(), self.catalogue))

    def race(self) -> Merged:
        """Ask once more, and let each worker do one of the two chunks on a connection of its own."""
        asked = ask(timezone.now(), catalogue=self.catalogue)
        codes = [chunk.enclosure for chunk in Chunk.objects.of_outcome(asked.outcome_id)]
        self.counted.clear()
        self.both = threading.Barrier(len(codes), lambda: self._see_both_done(asked.outcome_id), PATIENCE_S)
        with ThreadPoolExecutor(len(codes)) as workers:
            ends = [workers.submit(self._work, asked.outcome_id, code) for code in codes]
        assert [end.result() for end in ends] == [None, None]
        return self._told(outcome_of(asked))

    def _told(self, outcome: Outcome) -> Merged:
        record = Outcome.objects.record_of(outcome.pk) if outcome.state == State.DONE else b""
        told = Merged(self.counted["lease"], self.counted["merge"], outcome.attempts, outcome.state, record)
        Study.objects.all().delete()
        Outcome.objects.all().delete()
        return told

    def _work(self, outcome_id: int, code: str) -> None:
        try:
            scoring.score(outcome_id, code)
        finally:
            connection.close()

    def _see_both_done(self, outcome_id: int) -> None:
        assert not Chunk.objects.of_outcome(outcome_id).left().exists()

    def _carry_on_together(self, *arguments):
        self.both.wait()
        lease = self._carry_on(*arguments)
        self.counted["lease"] += lease is not None
        return lease

    def _counted_merge(self, *arguments):
        self.counted["merge"] += 1
        return self._merge(*arguments)
