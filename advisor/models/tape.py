"""What a person entered of an own enclosure, kept beside what was derived, so that it can be entered again."""

from __future__ import annotations

from django.db import models

from catalog.models import Enclosure


class TapeRecord(models.Model):
    """An entry as it was given: field names to values, before defaults. It goes with its enclosure."""

    enclosure = models.OneToOneField(
        Enclosure,
        models.CASCADE,
        primary_key=True,
        related_name="tape_record",
        help_text="The enclosure that was derived from it.",
    )
    given = models.JSONField(help_text="The entry as it was given.")

    def __str__(self) -> str:
        return f"entry of {self.enclosure_id}"
