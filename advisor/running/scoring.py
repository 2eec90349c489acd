"""What a worker does with a piece of work, from beginning to end."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime

from celery.exceptions import SoftTimeLimitExceeded
from django.conf import settings
from django.db.models import F
from django.utils import timezone

from advisor import study
from advisor.engine.errors import EngineError
from advisor.models import Chunk, ChunkState, Outcome, State
from advisor.reports.trimming import trimmed
from advisor.running.handing import carry_on, claim
from advisor.running.keeping import Keeper, LeaseLost
from advisor.running.leases import Lease
from advisor.running.plans import plan_of
from advisor.running.results import packed_record, packed_result, unpacked_result
from advisor.running.stopping import NO_LEASE, fail, give_back

logger = logging.getLogger(__name__)
Clock = Callable[[], datetime]


def score(outcome_id: int, enclosure: str, clock: Clock = timezone.now) -> None:
    """Score the chunk of an enclosure, unless somebody else has it, and merge the outcome if it was the last one."""
    lease = claim(outcome_id, enclosure, clock())
    if lease is not None:
        with _attempt(lease, clock) as keeper:
            finish_chunk(lease, _score(outcome_id, enclosure, keeper))
    merge(outcome_id, clock)


def merge(outcome_id: int, clock: Clock = timezone.now) -> None:
    """Merge an outcome whose chunks are all done, unless somebody else does; else hand out more of its chunks."""
    lease = carry_on(outcome_id, clock())
    if lease is not None:
        with _attempt(lease, clock):
            record, front = _merged(outcome_id)
            finish_merge(lease, record, clock(), front)


def finish_chunk(lease: Lease, result: bytes) -> bool:
    """Keep a chunk's result; where the lease was lost and others have begun or ended the chunk, nothing changes."""
    columns = {"state": ChunkState.DONE, "result": result, "scored": F("size"), "last_error": ""}
    return lease.change(**columns, **NO_LEASE)


def finish_merge(lease: Lease, record: bytes, now: datetime, front: bytes | None = None) -> bool:
    """Keep an outcome's record and front; where the lease was lost, nothing changes."""
    found = {"record": record, "front": front}
    return lease.change(state=State.DONE, finished_at=now, last_error="", **found, **NO_LEASE)


def _score(outcome_id: int, enclosure: str, keeper: Keeper) -> bytes:
    plan = plan_of(Outcome.objects.get(pk=outcome_id))
    return packed_result(study.score_chunk(plan, enclosure, keeper.progress))


def _merged(outcome_id: int) -> tuple[bytes, bytes]:
    plan = plan_of(Outcome.objects.get(pk=outcome_id))
    found = [unpacked_result(result, plan, code) for code, result in Chunk.objects.results(outcome_id)]
    record = trimmed(study.merge(plan, found), settings.STUDY_RECORD_BYTES)
    return packed_record(record), packed_record(study.front(found, settings.STUDY_FRONT_BYTES))


@contextmanager
def _attempt(lease: Lease, clock: Clock) -> Iterator[Keeper]:
    """Keep a lease during an attempt, and settle what follows where it does not end well.

    What the engine refuses, it refuses each time: that is the answer. Anything else is tried again, and shows up in the
    log as the failure of its task.
    """
    try:
        with Keeper(lease) as keeper:
            yield keeper
    except LeaseLost:
        logger.info("Work on outcome %d was stopped: nobody waits for it, or others do it.", lease.outcome_id)
    except EngineError as error:
        fail(lease, str(error), clock())
    except Exception as error:
        give_back(lease, _reason(error), clock())
        raise


def _reason(error: Exception) -> str:
    """Say why an attempt failed, to people who see no logs; the words of unknown errors are not for them."""
    if isinstance(error, SoftTimeLimitExceeded):
        return f"it took longer than {settings.CELERY_TASK_SOFT_TIME_LIMIT} s"
    return f"it ended with {type(error).__name__}, see the service's log"
