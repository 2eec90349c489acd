"""Questions to the studies of people."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self

from django.db import models
from django.db.models import Count, Q

from advisor.states import UNFINISHED, ChunkState

if TYPE_CHECKING:
    from uuid import UUID

    from django.contrib.auth.models import User

    from advisor.models import Outcome


class StudyQuerySet(models.QuerySet):
    """Studies."""

    def owned_by(self, owner: User) -> Self:
        """Return the studies of a person."""
        return self.filter(owner=owner)

    def open_to(self, person: User | None) -> Self:
        """Return the studies that whoever knows their address may see: guests', and the person's own."""
        return self.filter(Q(owner=None) | Q(owner=person))

    def of_guest(self, guest: str) -> Self:
        """Return the studies that a guest sent."""
        return self.filter(owner=None, guest=guest)

    def of_sender(self, owner: User | None, guest: str) -> Self:
        """Return the studies of a person, or of a guest where there is no person."""
        return self.of_guest(guest) if owner is None else self.owned_by(owner)

    def sent_with(self, idempotency_key: str) -> Self:
        """Return the studies that were sent with a word of the sender's."""
        return self.filter(idempotency_key=idempotency_key)

    def uncancelled(self) -> Self:
        """Return the studies whose senders still want to know."""
        return self.filter(cancelled_at=None)

    def unfinished(self) -> Self:
        """Return the studies that wait for their answer."""
        return self.uncancelled().filter(outcome__state__in=UNFINISHED)

    def waiting_for(self, outcome: Outcome) -> Self:
        """Return the studies that an outcome answers, or will, whose senders still want to know."""
        return self.uncancelled().filter(outcome=outcome)

    def with_id(self, identity: UUID) -> Self:
        """Return the study with an identity."""
        return self.filter(pk=identity)

    def with_outcome(self) -> Self:
        """Fetch each study's outcome along, without what was found, which may be large."""
        return self.select_related("outcome").defer("outcome__record", "outcome__front")

    def with_progress(self) -> Self:
        """Count along how many pieces of each study's outcome are done."""
        done = Q(outcome__chunks__state=ChunkState.DONE)
        return self.with_outcome().annotate(chunks_done=Count("outcome__chunks", filter=done))
