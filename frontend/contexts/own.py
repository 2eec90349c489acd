"""One's own parts, with how each stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.urls import reverse

from advisor.access.objects import parts_owned
from catalog.kinds import KINDS, Kind
from frontend.contexts.lists import noun_of, title_of
from frontend.contexts.standing import Standing, standing_of

if TYPE_CHECKING:
    from advisor.access.roles import Person


@dataclass(frozen=True, slots=True)
class OwnPart:
    """One part in the list."""

    name: str
    code: str
    address: str
    change: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class OwnKind:
    """A kind with one's own parts of it, and where one is added."""

    kind: Kind
    title: str
    noun: str
    parts: tuple[OwnPart, ...]
    add: str


def own_kinds(person: Person) -> tuple[OwnKind, ...]:
    """Return every kind of part with a person's own: one query each."""
    return tuple(_kinds(person))


def _kinds(person: Person) -> Iterator[OwnKind]:
    for kind in KINDS:
        if kind.layout.is_part:
            parts = tuple(
                OwnPart(
                    row.name,
                    row.code,
                    reverse("pages:part", args=[kind, row.code]),
                    reverse("pages:own-change", args=[kind, row.code]),
                    standing_of(row, person),
                )
                for row in parts_owned(kind.layout.model, person)
            )
            yield OwnKind(kind, title_of(kind), noun_of(kind), parts, reverse("pages:own-add", args=[kind]))
