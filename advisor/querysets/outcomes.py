"""Questions to outcomes, to their chunks and to what they are answered from."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING, Self
from uuid import UUID

from django.db import models
from django.db.models import Case, Count, F, Q, Sum, When
from django.db.models.functions import Coalesce, Least

from advisor.states import ANSWERING, UNFINISHED, ChunkState

if TYPE_CHECKING:
    from advisor.models import Outcome

_DONE = Q(chunks__state=ChunkState.DONE)


class SnapshotQuerySet(models.QuerySet):
    """What studies may choose from."""

    def content_of(self, digest: str) -> bytes:
        """Return the content of a snapshot."""
        return bytes(self.values_list("content", flat=True).get(pk=digest))


class LeasedQuerySet(models.QuerySet):
    """Work that one worker at a time holds."""

    def held(self, pk: int, token: UUID) -> Self:
        """Return the work with a key while this token is good for it.

        The condition is on the row itself, so that an update is right even if the row changed while it waited.
        """
        return self.filter(pk=pk, lease_token=token)


class OutcomeQuerySet(LeasedQuerySet):
    """Outcomes."""

    def unfinished(self) -> Self:
        """Return the outcomes that wait or are worked on."""
        return self.filter(state__in=UNFINISHED)

    def locked(self) -> Self:
        """Hold rows until the transaction ends, without what was found, which may be large.

        On SQLite a transaction holds the whole database from its start. Whoever locks an outcome and changes its chunks
        locks the outcome first.
        """
        return self.select_for_update().without_finds()

    def locked_unfinished(self, pk: int) -> Outcome | None:
        """Return an outcome, locked, or None where it is finished."""
        return self.unfinished().locked().filter(pk=pk).first()

    def handed_out(self, pk: int, at: datetime) -> Self:
        """Return an outcome whose merge the broker was handed at a moment, and not again since."""
        return self.unfinished().filter(pk=pk, queued_at=at)

    def locked_answer(self, key: str) -> Outcome | None:
        """Return the outcome that answers a question, or will, locked."""
        return self.locked().filter(key=key, state__in=ANSWERING).first()

    def with_tally(self, now: datetime, patience_until: datetime) -> Self:
        """Count each outcome's chunks by what the sweep asks of them, and its candidates that are dealt with.

        ``patience_until`` is the moment before which a chunk that the broker has is no longer waited for.
        """
        running, queued = Q(chunks__state=ChunkState.RUNNING), Q(chunks__state=ChunkState.QUEUED)
        dealt_with = Case(
            When(_DONE, then=F("chunks__size")),
            When(running, then=Least(F("chunks__scored"), F("chunks__size"))),
            default=0,
            output_field=models.BigIntegerField(),
        )
        return self.without_finds().annotate(
            chunks_done=Count("chunks", filter=_DONE),
            chunks_waiting=Count("chunks", filter=Q(chunks__state=ChunkState.WAITING)),
            chunks_queued=Count("chunks", filter=queued),
            chunks_in_flight=Count("chunks", filter=running | queued),
            chunks_expired=Count("chunks", filter=running & Q(chunks__lease_until__lt=now)),
            chunks_stale=Count("chunks", filter=queued & Q(chunks__queued_at__lt=patience_until)),
            candidates_done=Coalesce(Sum(dealt_with), 0, output_field=models.BigIntegerField()),
        )

    def without_finds(self) -> Self:
        """Leave out what was found, which may be large."""
        return self.defer("record", "front")

    def front_of(self, pk: int) -> bytes | None:
        """Return the front of an outcome, None where it has none."""
        front = self.values_list("front", flat=True).get(pk=pk)
        return None if front is None else bytes(front)

    def record_of(self, pk: int) -> bytes:
        """Return the record of a finished outcome."""
        return bytes(self.values_list("record", flat=True).get(pk=pk))


class ChunkQuerySet(LeasedQuerySet):
    """Pieces of outcomes."""

    def of_outcome(self, outcome_id: int) -> Self:
        """Return the pieces of an outcome, the largest first."""
        return self.filter(outcome=outcome_id).order_by("-size", "enclosure")

    def of_enclosure(self, code: str) -> Self:
        """Return the pieces that hold an enclosure's candidates."""
        return self.filter(enclosure=code)

    def free(self) -> Self:
        """Return the pieces that a worker may begin."""
        return self.filter(state__in=(ChunkState.WAITING, ChunkState.QUEUED))

    def left(self) -> Self:
        """Return the pieces that are not done, without results."""
        return self.exclude(state=ChunkState.DONE).defer("result")

    def in_queue(self) -> Self:
        """Return the pieces that the broker was handed, of outcomes that still want them."""
        return self.filter(state=ChunkState.QUEUED, outcome__state__in=UNFINISHED)

    def longest_in_queue(self, before: datetime) -> Self:
        """Return the pieces that the broker was handed before a moment, the longest waiting first."""
        return self.in_queue().filter(queued_at__lt=before).order_by("queued_at", "pk")

    def with_keys(self, keys: Iterable[int]) -> Self:
        """Return the pieces with these primary keys."""
        return self.filter(pk__in=keys)

    def handed_out(self, codes: Iterable[str], at: datetime) -> Self:
        """Return the pieces of some enclosures that the broker was handed at a moment and nobody has begun since."""
        return self.filter(enclosure__in=codes, state=ChunkState.QUEUED, queued_at=at)

    def results(self, outcome_id: int) -> list[tuple[str, bytes]]:
        """Return code and result of every piece of an outcome."""
        rows = self.filter(outcome=outcome_id, state=ChunkState.DONE).order_by("enclosure")
        return [(code, bytes(result)) for code, result in rows.values_list("enclosure", "result")]
