"""How far a study, the outcome behind it and each piece of that outcome can be."""

from __future__ import annotations

from django.db import models


class State(models.TextChoices):
    """Of a study, or of the outcome behind it."""

    QUEUED = "queued", "queued"
    RUNNING = "running", "running"
    DONE = "done", "done"
    FAILED = "failed", "failed"
    CANCELLED = "cancelled", "cancelled"


class ChunkState(models.TextChoices):
    """Of one enclosure of an outcome."""

    WAITING = "waiting", "waiting for its turn"
    QUEUED = "queued", "handed to the broker"
    RUNNING = "running", "held by a worker"
    DONE = "done", "done"


UNFINISHED = (State.QUEUED, State.RUNNING)
# An outcome in one of these answers whoever asks the same; after any other the question is asked anew.
ANSWERING = (*UNFINISHED, State.DONE)
