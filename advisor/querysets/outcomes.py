"""Questions to outcomes, to their chunks and to what they are answered from."""

from __future__ import annotations

from django.db import models


class SnapshotQuerySet(models.QuerySet):
    """What studies may choose from."""


class OutcomeQuerySet(models.QuerySet):
    """Outcomes."""


class ChunkQuerySet(models.QuerySet):
    """Pieces of outcomes."""
