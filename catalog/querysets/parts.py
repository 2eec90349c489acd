"""Questions to any kind of part, to makers and to sources."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Self, TypeAlias

from django.db import models
from django.db.models import Count, Q, Value

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser, User

    Person: TypeAlias = User | AnonymousUser


class KeyedQuerySet(models.QuerySet):
    """Rows that files name by a code."""

    def with_keys(self, keys: Iterable[int]) -> Self:
        """Return the rows with these primary keys."""
        return self.filter(pk__in=keys)

    def coded(self, code: str) -> Self:
        """Return the row with a code, if there is one."""
        return self.filter(code=code)

    def coded_among(self, codes: Iterable[str]) -> Self:
        """Return the rows with one of these codes."""
        return self.filter(code__in=codes)

    def named(self, name: str) -> Self:
        """Return the rows called so."""
        return self.filter(name=name)

    def meeting(self, *conditions: Q) -> Self:
        """Return the rows that meet every condition."""
        return self.filter(*conditions)


class PartQuerySet(KeyedQuerySet):
    """Parts of one kind: public ones, which have no owner, and those of single people."""

    def public(self) -> Self:
        """Return the parts of the public catalogue, sorted by code."""
        return self.filter(owner=None).order_by("code")

    def private(self) -> Self:
        """Return everybody's own parts."""
        return self.filter(owner__isnull=False)

    def owned_by(self, person: Person) -> Self:
        """Return one person's own parts, sorted by code; a guest has none."""
        return self.filter(owner_id=person.pk).exclude(owner=None).order_by("code")

    def offered(self) -> Self:
        """Return what people offer to the catalogue, the longest waiting first."""
        return self.filter(offered_at__isnull=False).order_by("offered_at", "code")

    def in_keeping(self) -> Self:
        """Return what curators look after: public parts, and own ones while they are on offer."""
        return self.filter(Q(owner=None) | Q(offered_at__isnull=False))

    def visible(self, to: Person | None = None) -> Self:
        """Return the parts that a person may choose from, sorted by code: public ones and the person's own."""
        mine = Q(owner_id=to.pk) if to is not None and to.pk is not None else Q(owner=None)
        return self.filter(Q(owner=None) | mine).order_by("code")


def counts_of(rows: Mapping[str, models.QuerySet]) -> dict[str, int]:
    """Return how many rows there are under each word, in one query."""
    counted = [
        some.order_by()
        .annotate(word=Value(word))
        .values("word")
        .annotate(count=Count("pk"))
        .values_list("word", "count")
        for word, some in rows.items()
    ]
    return dict(counted[0].union(*counted[1:], all=True))
