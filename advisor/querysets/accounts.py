"""Questions to what belongs to accounts."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Self

from django.db import models

if TYPE_CHECKING:
    from django.contrib.auth.models import User


class ApiTokenQuerySet(models.QuerySet):
    """Tokens of programs."""

    def owned_by(self, owner: User) -> Self:
        """Return the tokens of a person."""
        return self.filter(owner=owner)

    def named(self, prefix: str) -> Self:
        """Return the token that begins so."""
        return self.filter(prefix=prefix)

    def working(self, now: datetime) -> Self:
        """Return the tokens that have not expired, of accounts that are not closed."""
        return self.filter(expires_at__gt=now, owner__is_active=True)

    def with_digest(self, digest: str) -> Self:
        """Return the token of this digest, its owner along."""
        return self.filter(digest=digest).select_related("owner")
