"""Finding work that fell by the way: a worker died, the broker forgot, or nobody was told."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime, timedelta

from django.db import transaction

from advisor.engine.version import MODEL_VERSION
from advisor.models import Chunk, ChunkState, Outcome, State
from advisor.querysets.outcomes import OutcomeQuerySet
from advisor.running import queue
from advisor.running.handing import LOST, hand_out, hand_out_merge, most_in_flight
from advisor.running.leases import MOST_ATTEMPTS
from advisor.running.queue import BrokerAway, Work
from advisor.running.stopping import stop, stop_worn_out

EVERY_S = 15.0
# What the broker was handed so long ago is compared with what it still has.
PATIENCE = timedelta(seconds=15)
OUTDATED = (
    "The service was changed to model version {} while this study was under way, and answers of two versions are never "
    "mixed. Submit it again."
)


def sweep(now: datetime) -> list[Work]:
    """Put back what is held by nobody any more, hand out what may be begun, and return it."""
    unfinished = list(tallied(now).unfinished())
    if not any(needs_care(one, now) for one in unfinished):
        return []
    missing = _missing(unfinished)
    if missing is None:
        # nothing can be handed out now, so only what nobody holds any more is put back
        return [work for one in unfinished if one.chunks_expired for work in _restore(one.pk, now, set(), tell=False)]
    lost = _lost(missing, now)
    needy = [one.pk for one in unfinished if one.pk in lost or needs_care(one, now, stale=False)]
    return [work for pk in needy for work in _restore(pk, now, lost[pk])]


def tallied(now: datetime) -> OutcomeQuerySet:
    """Return outcomes in order of arrival, with counts of their chunks."""
    return Outcome.objects.with_tally(now, now - PATIENCE)


def needs_care(outcome: Outcome, now: datetime, stale: bool = True) -> bool:
    """Tell whether an outcome, counted by ``with_tally``, may have work that fell by the way.

    ``stale`` says whether what the broker has had for a while counts as such.
    """
    waits = outcome.chunks_waiting > 0 and outcome.chunks_in_flight < most_in_flight()
    return (
        outcome.model_version != MODEL_VERSION
        or outcome.chunks_expired > 0
        or waits
        or _merge_is_due(outcome, now)
        or (stale and outcome.chunks_stale > 0)
    )


def _merge_is_due(outcome: Outcome, now: datetime) -> bool:
    """Tell whether all is scored, and no worker has begun to merge or is about to."""
    told = outcome.queued_at is not None and outcome.queued_at >= now - PATIENCE
    return outcome.chunks_done == outcome.chunk_total and not outcome.is_held(now) and not told


def _missing(unfinished: Sequence[Outcome]) -> int | None:
    """Return how many chunks the broker should have and does not; None while it cannot be asked.

    Where workers are busy a message may wait for long. It is said again only if it is gone, or the queue would grow.
    """
    try:
        waiting = queue.depth()
    except BrokerAway:
        return None
    return sum(one.chunks_queued for one in unfinished) - waiting


def _lost(missing: int, now: datetime) -> dict[int, set[int]]:
    """Return the chunks that the broker has forgotten, by outcome: those that it was handed first."""
    found: dict[int, set[int]] = defaultdict(set)
    if missing > 0:
        for chunk in Chunk.objects.longest_in_queue(now - PATIENCE)[:missing]:
            found[chunk.outcome_id].add(chunk.pk)
    return found


def _restore(outcome_id: int, now: datetime, lost: set[int], tell: bool = True) -> list[Work]:
    """Put back what one outcome has lost, and hand out what may be begun unless the broker cannot be told."""
    with transaction.atomic():
        outcome = Outcome.objects.locked_unfinished(outcome_id)
        if outcome is None:
            return []
        if outcome.model_version != MODEL_VERSION:
            stop(outcome, State.FAILED, now, OUTDATED.format(MODEL_VERSION))
            return []
        left = list(Chunk.objects.of_outcome(outcome_id).left())
        worn_out = [chunk for chunk in left if not _put_back(chunk, now, lost)]
        if worn_out:
            stop_worn_out(outcome, worn_out[0].enclosure, LOST, now)
        if worn_out or not tell:
            return []
        return hand_out(outcome, left, now) if left else hand_out_merge(outcome, now)


def _put_back(chunk: Chunk, now: datetime, lost: set[int]) -> bool:
    """Let a chunk wait again if nobody holds it; return False where it has had its last attempt."""
    if chunk.state == ChunkState.RUNNING and not chunk.is_held(now):
        if chunk.attempts >= MOST_ATTEMPTS:
            return False
        # Its worker may end it at this very moment, and then it is done.
        if Chunk.objects.held(chunk.pk, chunk.lease_token).update(last_error=LOST, **Chunk.FREED):
            chunk.state = ChunkState.WAITING
    elif chunk.state == ChunkState.QUEUED and chunk.pk in lost:
        Chunk.objects.free().with_keys([chunk.pk]).update(**Chunk.FREED)
        chunk.state = ChunkState.WAITING
    return True
