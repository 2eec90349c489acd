"""What a study was answered from, the answer, and the pieces of work that lead to it."""

from __future__ import annotations

from datetime import datetime
from typing import Any, ClassVar

from django.db import models
from django.db.models import Q

from advisor.querysets.outcomes import ChunkQuerySet, OutcomeQuerySet, SnapshotQuerySet
from advisor.states import ANSWERING, UNFINISHED, ChunkState, State

HASH_LENGTH = 64


class Snapshot(models.Model):
    """What a study may choose from, as it was when someone asked; named by the hash of its content."""

    digest = models.CharField(primary_key=True, max_length=HASH_LENGTH, help_text="SHA-256 of the content.")
    content = models.BinaryField(help_text="The engine's catalogue as JSON, compressed by zlib.")
    created_at = models.DateTimeField(help_text="When it was first asked for.")

    objects = SnapshotQuerySet.as_manager()

    def __str__(self) -> str:
        return self.digest[:12]


class Leased(models.Model):
    """Work that one worker at a time holds: its token is good until somebody else is given the work.

    A lease that has run out may still be finished by its holder; what counts is the token, not the time.
    """

    attempts = models.PositiveSmallIntegerField(default=0, help_text="How often a worker has begun it.")
    lease_token = models.UUIDField(null=True, blank=True, help_text="Known to the worker that holds it.")
    lease_until = models.DateTimeField(null=True, blank=True, help_text="When others may take it.")
    queued_at = models.DateTimeField(null=True, blank=True, help_text="When it was last handed to the broker.")
    last_error = models.TextField(blank=True, default="", help_text="Why the last attempt did not end well.")

    # Columns of work that nobody holds and that is to be handed out anew.
    FREED: ClassVar[dict[str, Any]] = {"lease_token": None, "lease_until": None, "queued_at": None}

    class Meta:
        abstract = True

    def is_held(self, now: datetime) -> bool:
        """Tell whether a worker holds this work under a lease that has not run out."""
        return self.lease_until is not None and self.lease_until >= now


class Outcome(Leased):
    """The answer to one question: a brief, over one state of the catalogue, by one version of the model.

    Whoever asks the same shares it. Its lease is held by the worker that merges its chunks.
    """

    key = models.CharField(max_length=HASH_LENGTH, help_text="SHA-256 of brief, catalogue and model version.")
    brief = models.TextField(help_text="The engine's brief as JSON, without its title.")
    snapshot = models.ForeignKey(Snapshot, models.PROTECT, related_name="+", help_text="What it is answered from.")
    model_version = models.CharField(max_length=32, help_text="Version of the model that answers.")
    state = models.CharField(max_length=16, choices=State, default=State.QUEUED, help_text="How far it has come.")
    chunk_total = models.PositiveIntegerField(help_text="Number of its enclosures.")
    candidate_total = models.PositiveBigIntegerField(help_text="Number of its candidates.")
    record = models.BinaryField(null=True, blank=True, help_text="What people see, as JSON, compressed by zlib.")
    front = models.BinaryField(null=True, blank=True, help_text="Builds that no other beats, as JSON, compressed.")
    failure = models.TextField(blank=True, default="", help_text="Why there is no answer.")
    created_at = models.DateTimeField(help_text="When it was first asked for.")
    started_at = models.DateTimeField(null=True, blank=True, help_text="When a worker first began it.")
    finished_at = models.DateTimeField(null=True, blank=True, help_text="When it was answered or given up.")

    objects = OutcomeQuerySet.as_manager()

    class Meta:
        ordering = ["created_at", "pk"]
        indexes = [
            # the sweep: unfinished outcomes in order of arrival, however many are finished
            models.Index(fields=["created_at"], condition=Q(state__in=UNFINISHED), name="outcome_unfinished"),
        ]
        constraints = [
            models.UniqueConstraint(fields=["key"], condition=Q(state__in=ANSWERING), name="outcome_one_answer"),
            models.CheckConstraint(condition=Q(state__in=State.values), name="outcome_state_known"),
            models.CheckConstraint(
                condition=Q(state=State.DONE, record__isnull=False) | ~Q(state=State.DONE) & Q(record__isnull=True),
                name="outcome_record_when_done",
            ),
            models.CheckConstraint(
                condition=Q(state=State.FAILED) & ~Q(failure="") | ~Q(state=State.FAILED) & Q(failure=""),
                name="outcome_reason_when_failed",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.key[:12]} ({self.state})"

    @property
    def is_unfinished(self) -> bool:
        """Whether it is still being worked on, or waits to be."""
        return self.state in UNFINISHED


class Chunk(Leased):
    """All candidates of one enclosure: the piece of an outcome that one worker scores."""

    outcome = models.ForeignKey(Outcome, models.CASCADE, related_name="chunks")
    enclosure = models.CharField(max_length=64, help_text="Code of the enclosure.")
    size = models.PositiveBigIntegerField(help_text="Number of its candidates.")
    state = models.CharField(max_length=16, choices=ChunkState, default=ChunkState.WAITING, help_text="How far it is.")
    scored = models.PositiveBigIntegerField(default=0, help_text="Candidates that its worker has dealt with.")
    result = models.BinaryField(null=True, blank=True, help_text="What was found, as JSON, compressed by zlib.")

    objects = ChunkQuerySet.as_manager()

    FREED = Leased.FREED | {"state": ChunkState.WAITING}

    class Meta:
        ordering = ["outcome", "-size", "enclosure"]
        constraints = [
            models.UniqueConstraint(fields=["outcome", "enclosure"], name="chunk_once_per_outcome"),
            models.CheckConstraint(condition=Q(state__in=ChunkState.values), name="chunk_state_known"),
            models.CheckConstraint(
                condition=Q(state=ChunkState.RUNNING, lease_token__isnull=False, lease_until__isnull=False)
                | ~Q(state=ChunkState.RUNNING) & Q(lease_token__isnull=True, lease_until__isnull=True),
                name="chunk_lease_when_running",
            ),
            models.CheckConstraint(
                condition=Q(state=ChunkState.DONE, result__isnull=False)
                | ~Q(state=ChunkState.DONE) & Q(result__isnull=True),
                name="chunk_result_when_done",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.enclosure} of outcome {self.outcome_id} ({self.state})"
