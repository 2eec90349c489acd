"""Holding work: a lease of thirty seconds that its worker renews, and a token without which nothing is changed."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import datetime, timedelta

from advisor.models.outcomes import Leased

LEASE = timedelta(seconds=30)
MOST_ATTEMPTS = 3


@dataclass(frozen=True, slots=True)
class Lease:
    """A worker's right to finish one chunk, or to merge one outcome."""

    model: type[Leased]
    pk: int
    outcome_id: int
    token: uuid.UUID

    def row(self) -> Leased | None:
        """Return the work, if it is still held under this lease."""
        return self.model.objects.held(self.pk, self.token).first()

    def change(self, **columns: object) -> bool:
        """Change the work in one conditional update; return whether it was still held under this lease."""
        return self.model.objects.held(self.pk, self.token).update(**columns) == 1

    def renew(self, now: datetime, **columns: object) -> bool:
        """Hold the work for another while; return False where it was lost."""
        return self.change(lease_until=now + LEASE, **columns)


def take(work: Leased, outcome_id: int, now: datetime) -> Lease:
    """Put work that is free, of an outcome that is locked, under a new lease; the caller saves the row."""
    work.lease_token, work.lease_until = uuid.uuid4(), now + LEASE
    work.attempts += 1
    return Lease(type(work), work.pk, outcome_id, work.lease_token)
