"""A question that somebody asked."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from advisor.models.outcomes import HASH_LENGTH, Outcome
from advisor.querysets.studies import StudyQuerySet
from advisor.states import State


class Study(models.Model):
    """A brief that one person sent; the outcome behind it may answer others too."""

    # All 128 bits are random (`advisor.submit` draws them), since whoever holds a guest's address may read the study.
    id = models.UUIDField(primary_key=True, editable=False)
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.CASCADE,
        null=True,
        blank=True,
        related_name="studies",
        help_text="Whose it is; empty for a guest's, which is open to whoever holds its address.",
    )
    guest = models.CharField(
        max_length=HASH_LENGTH, blank=True, default="", help_text="Digest by which a guest's studies are counted."
    )
    outcome = models.ForeignKey(Outcome, models.PROTECT, related_name="studies", help_text="What answers it.")
    title = models.CharField(max_length=120, blank=True, default="", help_text="A name for people.")
    brief_given = models.JSONField(help_text="The brief as the person sent it.")
    warnings = models.JSONField(default=list, blank=True, help_text="What its writer should know: field and message.")
    idempotency_key = models.CharField(
        max_length=200, blank=True, default="", help_text="Word of the sender's; sent again, it means this same study."
    )
    created_at = models.DateTimeField(help_text="When it was sent.")
    cancelled_at = models.DateTimeField(null=True, blank=True, help_text="When its sender lost interest.")

    objects = StudyQuerySet.as_manager()

    class Meta:
        ordering = ["-created_at", "-id"]
        verbose_name_plural = "studies"
        indexes = [
            # a person's own list, newest first, and how many of them are unfinished
            models.Index(fields=["owner", "-created_at", "-id"], name="study_of_owner"),
            models.Index(fields=["guest", "-created_at"], condition=~Q(guest=""), name="study_of_guest"),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["owner", "idempotency_key"],
                condition=Q(owner__isnull=False) & ~Q(idempotency_key=""),
                name="study_once_per_owner_and_key",
            ),
            models.UniqueConstraint(
                fields=["guest", "idempotency_key"],
                condition=Q(owner__isnull=True) & ~Q(idempotency_key=""),
                name="study_once_per_guest_and_key",
            ),
        ]

    def __str__(self) -> str:
        return self.title or str(self.id)

    @property
    def status(self) -> str:
        """One of ``State``: cancelled when its sender lost interest, else how far its outcome has come."""
        return State.CANCELLED if self.cancelled_at is not None else self.outcome.state
