"""Whose a part is, how it stands with the catalogue, and what the person who looks may do about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from advisor.access.objects import may_add_public
from catalog.models import Part
from frontend.contexts.values import day_text

if TYPE_CHECKING:
    from advisor.access.roles import Person


@dataclass(frozen=True, slots=True)
class Standing:
    """A part's standing: in words with a shape, and which steps are open."""

    words: str
    state: str
    contributor: str
    decline_note: str
    is_own: bool
    may_offer: bool
    may_withdraw: bool
    may_decide: bool


def standing_of(row: Part, person: Person) -> Standing:
    """Return a part's standing as a person sees it, who was allowed to look."""
    is_own = row.owner_id is not None and row.owner_id == person.pk
    offered = row.offered_at is not None
    words, state = _words(row, is_own)
    return Standing(
        words,
        state,
        row.contributor,
        row.decline_note if is_own else "",
        is_own,
        is_own and not offered,
        is_own and offered,
        offered and may_add_public(person),
    )


def _words(row: Any, is_own: bool) -> tuple[str, str]:
    if row.owner_id is None:
        return "In the public catalogue", "good"
    if row.offered_at is not None:
        whose = "Yours" if is_own else "A member's"
        return f"{whose}, on offer to the catalogue since {day_text(row.offered_at.date())}", "warn"
    if row.decline_note:
        return "Yours alone; the catalogue declined it", "bad"
    return "Yours alone: nobody else sees it", "open"
