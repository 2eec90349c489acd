"""What workers are asked to do: thin wrappers, safe to run twice."""

from __future__ import annotations

from celery import shared_task
from celery.signals import worker_ready
from django.db import connections
from django.utils import timezone

from advisor.running import queue, scoring, sweeping


@shared_task(name=queue.SCORE_CHUNK)
def score_chunk(outcome_id: int, enclosure: str) -> None:
    """Score all candidates of one enclosure, and merge the outcome if it was the last one."""
    scoring.score(outcome_id, enclosure)


@shared_task(name=queue.MERGE)
def merge(outcome_id: int) -> None:
    """Merge an outcome whose chunks are done and whose worker died before it was merged."""
    scoring.merge(outcome_id)


@worker_ready.connect
def sweep_at_start(**_: object) -> None:
    """Find what was left undone while no worker ran."""
    sweeping.sweep(timezone.now())
    connections.close_all()
