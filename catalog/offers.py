"""An own part on its way into the public catalogue: offered by its owner, then accepted or declined by a curator.

Whoever asks for a part that is not theirs, or not on offer, is told that it does not exist.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING, Any, TypeVar

from django.db import transaction

from catalog.consistency import Problem
from catalog.formats import PARTS, kind_of
from catalog.importing.known import hold_codes, known_now
from catalog.importing.stored import refusals_of
from catalog.models import Part
from catalog.models.columns import Code, Text
from catalog.ownership import PREFIX, is_own_code

if TYPE_CHECKING:
    from django.contrib.auth.models import User

P = TypeVar("P", bound=Part)


class OfferRefused(Exception):
    """A step that cannot be taken; ``problems`` say of which value, why, and what to do instead."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


@transaction.atomic
def offer(*, part: P, by: User, now: datetime, contributor: str | None = None) -> P:
    """Offer one's own part to the catalogue; offered once more, it keeps its place in the queue.

    ``contributor`` is the name under which the owner wants to be thanked in public: the user name unless told, nobody
    where it is empty.
    """
    own = _held(type(part).objects.owned_by(by), part)
    own.contributor = _checked(own, "contributor", by.get_username() if contributor is None else contributor)
    own.offered_at, own.decline_note = own.offered_at or now, ""
    own.save(update_fields=["contributor", "offered_at", "decline_note"])
    return own


@transaction.atomic
def withdraw(*, part: P, by: User) -> P:
    """Take back the offer of one's own part."""
    own = _held(type(part).objects.owned_by(by), part)
    if own.offered_at is None:
        raise OfferRefused([Problem("offered", False, "is so already: the part is not on offer", "a part on offer")])
    own.offered_at = None
    own.save(update_fields=["offered_at"])
    return own


@transaction.atomic
def accept(*, part: P, code: str) -> P:
    """Take an offered part into the public catalogue under a code of its own; its contributor stays named."""
    hold_codes()  # before the row, as everyone does, so that no two wait for each other
    offered = _held(type(part).objects.offered(), part)
    offered.code = _checked(offered, "code", code)
    problems = list(_in_the_way(offered))
    if problems:
        raise OfferRefused(problems)
    offered.owner = offered.offered_at = None
    offered.save(update_fields=["code", "owner", "offered_at"])
    return offered


@transaction.atomic
def decline(*, part: P, note: str) -> P:
    """Leave an offered part to its owner, with a note why."""
    offered = _held(type(part).objects.offered(), part)
    if not note.strip():
        raise OfferRefused([Problem("note", note, "is empty", "a sentence for the owner: why, and what would help")])
    offered.decline_note, offered.offered_at = _checked(offered, "decline_note", note, "note"), None
    offered.save(update_fields=["decline_note", "offered_at"])
    return offered


def _held(among: Any, part: P) -> P:
    """Return the row as it is now, and keep it from changing until the step is done."""
    return among.select_for_update().get(pk=part.pk)


def _checked(part: Part, column: str, value: Any, called: str = "") -> Any:
    field = type(part)._meta.get_field(column)
    assert isinstance(field, Code | Text)
    reason = field.check_value(value)
    if reason:
        raise OfferRefused([Problem(called or column, value, reason, field.accepted)])
    return value


def _in_the_way(part: Part) -> Iterable[Problem]:
    """Yield what the catalogue's files could not say of a part, once it has its public code."""
    for refusal in refusals_of(part, known_now(), own=False):
        yield Problem(refusal.field, refusal.value, refusal.reason, refusal.accepted)
    layout = PARTS[kind_of(type(part))]
    if type(part).objects.public().coded(part.code).exists():
        yield Problem("code", part.code, f"is the code of a public {layout.noun} already", "a code of its own")
    for name, column in layout.columns.items():
        # names that only own parts use, such as an air path's, would mean nothing to others
        value = getattr(part, column.attname)
        if isinstance(column, Code) and name != "code" and is_own_code(value or ""):
            accepted = f"a name that does not begin with {PREFIX}"
            yield Problem(layout.key_of(name), value, "is a name among own parts", accepted)
