"""Questions to any kind of part, to makers and to sources."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

from django.db import models


class KeyedQuerySet(models.QuerySet):
    """Rows that files name by a code."""

    def with_keys(self, keys: Iterable[int]) -> Self:
        """Return the rows with these primary keys."""
        return self.filter(pk__in=keys)


class PartQuerySet(KeyedQuerySet):
    """Parts of one kind."""

    def visible(self) -> Self:
        """Return the parts that a study may choose from, sorted by code: all of them, as long as none is private."""
        return self.order_by("code")
