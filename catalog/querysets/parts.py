"""Questions to any kind of part."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

from django.db import models


class PartQuerySet(models.QuerySet):
    """Parts of one kind."""

    def visible(self) -> Self:
        """Return the parts that a study may choose from, sorted by code: all of them, as long as none is private."""
        return self.order_by("code")

    def with_codes(self, codes: Iterable[str]) -> Self:
        """Return the parts with these codes."""
        return self.filter(code__in=codes)

    def resting_on(self, kind: str) -> Self:
        """Return the parts whose figures are ``measured``, ``declared`` or ``estimated`` unless noted otherwise."""
        return self.filter(source__kind=kind)
