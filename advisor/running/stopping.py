"""Ending an outcome before its answer is there, and attempts that did not end well."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from advisor.models import Chunk, Outcome, State
from advisor.running.leases import MOST_ATTEMPTS, Lease

NO_LEASE = {"lease_token": None, "lease_until": None}


def stop(outcome: Outcome, state: State, now: datetime, failure: str = "") -> None:
    """Cancel or fail an outcome that is locked; whoever works on it loses the lease and soon notices."""
    columns = Outcome.FREED | {"state": state, "failure": failure, "finished_at": now}
    for name, value in columns.items():
        setattr(outcome, name, value)
    outcome.save(update_fields=list(columns))
    Chunk.objects.of_outcome(outcome.pk).left().update(**Chunk.FREED)


def stop_worn_out(outcome: Outcome, enclosure: str, reason: str, now: datetime) -> None:
    """Fail an outcome that is locked, after the last attempt at one enclosure, or at the merge where none is named."""
    what = f"Enclosure {enclosure}" if enclosure else "The list of all enclosures"
    failure = f"{what} could not be worked out in {MOST_ATTEMPTS} attempts; the last one: {reason}."
    stop(outcome, State.FAILED, now, failure)


def fail(lease: Lease, reason: str, now: datetime) -> bool:
    """Fail the outcome whose work cannot be done however often it is tried; a lease that was lost changes nothing."""
    with transaction.atomic():
        outcome = Outcome.objects.locked_unfinished(lease.outcome_id)
        if outcome is None or lease.row() is None:
            return False
        stop(outcome, State.FAILED, now, reason)
        return True


def give_back(lease: Lease, reason: str, now: datetime) -> bool:
    """Let others try what one attempt did not bring to its end, or fail the outcome after the last attempt.

    It is handed out by the next sweep, or when another chunk of the outcome ends.
    """
    with transaction.atomic():
        outcome = Outcome.objects.locked_unfinished(lease.outcome_id)
        work = lease.row() if outcome else None
        if work is None:
            return False
        if work.attempts >= MOST_ATTEMPTS:
            stop_worn_out(outcome, getattr(work, "enclosure", ""), reason, now)
            return True
        return lease.change(last_error=reason, **work.FREED)
