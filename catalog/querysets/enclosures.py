"""Questions to the enclosures and to what is inside them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

from django.db import models
from django.db.models import Exists, OuterRef, Q

from catalog.querysets.parts import PartQuerySet


class EnclosureQuerySet(PartQuerySet):
    """Enclosures."""

    def with_wiring(self) -> Self:
        """Fetch zones, openings, bay groups, seats and sound shares along: one query each, however many rows."""
        return self.prefetch_related("zones", "openings", "bay_groups", "seats", "sound_shares")

    def containing(self, inside: InsideQuerySet) -> Self:
        """Return the enclosures that at least one of some rows inside belongs to."""
        return self.filter(Exists(inside.filter(enclosure=OuterRef("pk"))))


class InsideQuerySet(models.QuerySet):
    """Rows that belong to one enclosure each."""

    def of_enclosures(self, keys: Iterable[int]) -> Self:
        """Return the rows of the enclosures with these primary keys."""
        return self.filter(enclosure__in=keys)

    def with_keys(self, keys: Iterable[int]) -> Self:
        """Return the rows with these primary keys."""
        return self.filter(pk__in=keys)

    def meeting(self, condition: Q) -> Self:
        """Return the rows that meet a condition."""
        return self.filter(condition)
