"""One question of two people, a part that is edited meanwhile, and a worker that dies, with real processes."""

import os
import signal

import pytest
from django.utils import timezone

from advisor import study
from advisor.assembly import catalogue
from advisor.brief import read_brief
from advisor.models import Chunk, ChunkState, Outcome
from advisor.project import processes
from advisor.running.leases import LEASE
from advisor.running.sweeping import sweep
from advisor.submit import cancel_study, status_of
from catalog.models import Fan
from tests.service import many
from tests.service.undisturbed import undisturbed

pytestmark = pytest.mark.slow

(GIVEN,) = many.briefs(1)
PATIENCE_S = 60.0


def record_alone():
    """The record over the catalogue as it is now."""
    return undisturbed(study.plan(read_brief(GIVEN).brief, catalogue()))


def record_of(asked):
    return Outcome.objects.record_of(asked.outcome_id)


def test_one_of_two_who_ask_the_same_cancels_and_the_other_is_answered(service):
    mine, theirs = many.send(GIVEN), many.send(GIVEN)
    service.start_workers(1)
    assert cancel_study(mine, timezone.now())
    many.wait_until_done([theirs], PATIENCE_S)
    assert status_of(mine, timezone.now()).status == "cancelled"
    assert (Outcome.objects.count(), many.attempts()) == (1, {1})
    assert record_of(theirs) == record_alone()


def test_a_part_that_is_edited_meanwhile_changes_only_the_next_study(service):
    before = record_alone()
    first = many.send(GIVEN)
    Fan.objects.update(price=77.0)
    second = many.send(GIVEN)
    service.start_workers(2)
    many.wait_until_done([first, second], PATIENCE_S)
    assert first.outcome_id != second.outcome_id
    assert record_of(first) == before
    assert record_of(second) == record_alone() != before


def test_what_a_killed_worker_held_is_done_by_the_next_one(service):
    """The lease is made to run out; `make chaos` waits for it."""
    workers = service.start_workers(1)
    scorers = workers.children()
    asked = many.send(GIVEN)
    piece = Chunk.objects.of_outcome(asked.outcome_id)
    assert processes.wait_until(lambda: piece.get().state == ChunkState.RUNNING, PATIENCE_S)
    os.kill(scorers[0], signal.SIGKILL)
    assert processes.wait_until(lambda: set(workers.children()) - set(scorers), PATIENCE_S)
    assert piece.get().state == ChunkState.RUNNING
    sweep(timezone.now() + LEASE)
    many.wait_until_done([asked], PATIENCE_S)
    assert (piece.get().attempts, Outcome.objects.get().attempts) == (2, 1)
    assert record_of(asked) == record_alone()
