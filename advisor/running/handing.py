"""Handing out work: which chunk may be begun next, and who merges.

Only a few chunks of one outcome are with the broker at a time, and each that ends brings the next one. So studies that
arrive one after the other take turns, chunk by chunk: one with thousands of enclosures keeps nobody waiting for more
than a few of them, and no worker looks for work while there is some.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from functools import partial

from django.conf import settings
from django.db import transaction

from advisor.engine.version import MODEL_VERSION
from advisor.models import Chunk, ChunkState, Outcome, State
from advisor.running.leases import MOST_ATTEMPTS, Lease, take
from advisor.running.queue import BrokerAway, Work
from advisor.running.stopping import stop_worn_out

LOST = "its worker ended, or lost touch, before it was done"


def most_in_flight() -> int:
    """Return how many chunks of one outcome are queued or running: enough for two machines with as many workers."""
    return 2 * settings.WORKERS


def begin(outcome_id: int, now: datetime) -> list[Work]:
    """Hand out the first work of an outcome that was just recorded."""
    with transaction.atomic():
        outcome = Outcome.objects.locked_unfinished(outcome_id)
        if outcome is None:
            return []
        left = list(Chunk.objects.of_outcome(outcome_id).left())
        return hand_out(outcome, left, now) if left else hand_out_merge(outcome, now)


def claim(outcome_id: int, enclosure: str, now: datetime) -> Lease | None:
    """Begin the chunk of an enclosure; return None where there is nothing to begin.

    A message may come twice, late, or for a study that nobody waits for any more. A chunk whose lease has run out is
    begun again only after a sweep has counted that attempt and put it back.
    """
    with transaction.atomic():
        outcome = _locked(outcome_id)
        chunk = Chunk.objects.of_outcome(outcome_id).of_enclosure(enclosure).free().first() if outcome else None
        if chunk is None:
            return None
        lease = take(chunk, outcome_id, now)
        chunk.state, chunk.scored = ChunkState.RUNNING, 0
        chunk.save(update_fields=["state", "scored", "attempts", "lease_token", "lease_until"])
        _start(outcome, now)
        return lease


def carry_on(outcome_id: int, now: datetime) -> Lease | None:
    """Hand out what may be begun next; where all chunks are done, return the lease of the merge, once.

    The outcome is locked, so that of two workers that end the last two chunks one sees both done and gets the merge. It
    is merged under a lease and not under the lock, since on SQLite a lock holds the whole database.
    """
    with transaction.atomic():
        outcome = _locked(outcome_id)
        if outcome is None:
            return None
        left = list(Chunk.objects.of_outcome(outcome_id).left())
        if left:
            hand_out(outcome, left, now)
            return None
        if outcome.is_held(now):
            return None
        if outcome.attempts >= MOST_ATTEMPTS:
            stop_worn_out(outcome, "", outcome.last_error or LOST, now)
            return None
        lease = take(outcome, outcome_id, now)
        outcome.save(update_fields=["attempts", "lease_token", "lease_until"])
        _start(outcome, now)
        return lease


def hand_out(outcome: Outcome, left: Sequence[Chunk], now: datetime) -> list[Work]:
    """Mark the next chunks of a locked outcome, and tell the broker once that is committed."""
    waiting = [chunk for chunk in left if chunk.state == ChunkState.WAITING]
    room = most_in_flight() - (len(left) - len(waiting))
    chosen = waiting[: max(room, 0)]
    if chosen:
        keys = [chunk.pk for chunk in chosen]
        Chunk.objects.free().with_keys(keys).update(state=ChunkState.QUEUED, queued_at=now)
    return _tell_later([Work(outcome.pk, chunk.enclosure) for chunk in chosen], now)


def hand_out_merge(outcome: Outcome, now: datetime) -> list[Work]:
    """Mark the merge of a locked outcome, and tell the broker once that is committed."""
    outcome.queued_at = now
    outcome.save(update_fields=["queued_at"])
    return _tell_later([Work(outcome.pk)], now)


def _locked(outcome_id: int) -> Outcome | None:
    """Return an unfinished outcome, locked; one of another version of the model is for the sweep to end."""
    outcome = Outcome.objects.locked_unfinished(outcome_id)
    return outcome if outcome is not None and outcome.model_version == MODEL_VERSION else None


def _start(outcome: Outcome, now: datetime) -> None:
    if outcome.state == State.QUEUED:
        outcome.state, outcome.started_at = State.RUNNING, now
        outcome.save(update_fields=["state", "started_at"])


def _tell_later(work: list[Work], at: datetime) -> list[Work]:
    if work:
        transaction.on_commit(partial(_tell, work, at))
    return work


def _tell(work: list[Work], at: datetime) -> None:
    """Tell the broker; what it could not be told is as before, so that the next sweep finds it at once."""
    for number, one in enumerate(work):
        try:
            one.send()
        except BrokerAway:
            untold = [other.enclosure for other in work[number:]]
            if one.enclosure:
                Chunk.objects.of_outcome(one.outcome_id).handed_out(untold, at).update(**Chunk.FREED)
            else:
                Outcome.objects.handed_out(one.outcome_id, at).update(queued_at=None)
            return
