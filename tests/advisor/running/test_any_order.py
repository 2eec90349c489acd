"""Whatever happens in whatever order, each chunk is done once, the outcome is merged once, and all comes to an end."""

from collections import Counter

import pytest
from django.db import transaction
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.models import Chunk, State
from advisor.running import handing, queue
from advisor.running.leases import MOST_ATTEMPTS
from advisor.running.queue import BrokerAway
from advisor.running.scoring import finish_chunk, finish_merge
from advisor.running.sweeping import sweep
from tests.advisor.asking import at, chunks, fresh, make_outcome

EVENTS = ("take", "take", "end", "end", "die", "wait", "wait_long", "sweep", "forget", "double", "leave", "back")
SIZES = {"f": 60, "e": 50, "d": 40, "c": 30, "b": 20, "a": 10}


class World:
    """A broker, workers that hold leases, and a clock, all in one thread."""

    def __init__(self):
        self.seconds, self.away = 0, False
        self.messages, self.held = [], []
        self.ended = Counter()
        self.outcome = make_outcome(**SIZES)

    def send(self, work):
        if self.away:
            raise BrokerAway
        self.messages.append(work)

    def depth(self):
        if self.away:
            raise BrokerAway
        return len(self.messages)

    def take(self):
        """A worker takes the next message and begins, if there is anything to begin."""
        if self.messages and not self.away:
            work, now = self.messages.pop(0), at(self.seconds)
            lease = handing.claim(work.outcome_id, work.enclosure, now) if work.enclosure else None
            self._hold(lease or handing.carry_on(work.outcome_id, now))

    def _hold(self, lease):
        self.held += [lease] if lease else []

    def end(self):
        """The worker that began first ends its work, however late, and goes on."""
        if self.held:
            self._end(self.held.pop(0))

    def _end(self, lease):
        if lease.model is Chunk:
            kept = finish_chunk(lease, lease.token.bytes)
        else:
            kept = finish_merge(lease, lease.token.bytes, at(self.seconds))
        self.ended[lease.model, lease.pk] += kept
        self._hold(handing.carry_on(lease.outcome_id, at(self.seconds)))

    def die(self):
        """The worker that began last is killed."""
        if self.held:
            self.held.pop()

    def wait(self):
        self.seconds += 10

    def wait_long(self):
        self.seconds += 40

    def sweep(self):
        sweep(at(self.seconds))

    def forget(self):
        self.messages.clear()

    def double(self):
        self.messages *= 2

    def leave(self):
        self.away = True

    def back(self):
        self.away = False

    def calm(self):
        """From now on nothing goes wrong: workers take and end, and the sweep runs."""
        self.back()
        for _ in range(60):
            while self.messages or self.held:
                self.take()
                self.end()
            if not fresh(self.outcome).is_unfinished:
                return
            self.seconds += 15
            self.sweep()


@pytest.mark.slow
@pytest.mark.django_db
@settings(max_examples=60)
@given(events=st.lists(st.sampled_from(EVENTS), max_size=40))
def test_each_is_done_once_and_all_ends(events):
    with pytest.MonkeyPatch.context() as patch, transaction.atomic():
        world = World()
        # nothing is ever committed here, so the broker is told when it would be
        patch.setattr(handing.transaction, "on_commit", lambda tell: tell())
        patch.setattr(queue.Work, "send", lambda work: world.send(work))
        patch.setattr(queue, "depth", world.depth)
        handing.begin(world.outcome.pk, at(0))
        for event in events:
            getattr(world, event)()
        world.calm()
        check(world)
        transaction.set_rollback(True)


def check(world):
    outcome, pieces = fresh(world.outcome), chunks(world.outcome).values()
    assert max(world.ended.values(), default=0) <= 1
    assert max(piece.attempts for piece in [outcome, *pieces]) <= MOST_ATTEMPTS
    if outcome.state == State.DONE:
        assert all(world.ended[Chunk, piece.pk] == 1 for piece in pieces)
        assert {piece.state for piece in pieces} == {"done"}
        assert world.ended[type(outcome), outcome.pk] == 1
    else:
        assert outcome.state == State.FAILED and "in 3 attempts" in outcome.failure
        assert any(piece.attempts == MOST_ATTEMPTS for piece in [outcome, *pieces])
