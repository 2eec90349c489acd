"""Questions to the enclosures."""

from __future__ import annotations

from typing import Self

from catalog.querysets.parts import PartQuerySet


class EnclosureQuerySet(PartQuerySet):
    """Enclosures."""

    def with_wiring(self) -> Self:
        """Fetch zones, openings, bay groups, seats and sound shares along: one query each, however many rows."""
        return self.prefetch_related("zones", "openings", "bay_groups", "seats", "sound_shares")
