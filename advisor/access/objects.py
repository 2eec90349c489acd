"""Whose part, study or token it is: what each person may see and change.

Every function returns the rows that a person may use for one purpose. Whatever is not among them is answered as if it
did not exist: look a code or an id up among these rows, and raise the same "not found" for a stranger's as for none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.access.roles import Role, role_of
from advisor.models import ApiToken, Study
from catalog.models import Part
from catalog.querysets.parts import PartQuerySet

if TYPE_CHECKING:
    from advisor.access.roles import Person
    from advisor.querysets.accounts import ApiTokenQuerySet
    from advisor.querysets.studies import StudyQuerySet


def parts_to_choose_from(model: type[Part], person: Person) -> PartQuerySet:
    """Return the parts of a kind that a person's studies and lists hold: public ones and the person's own."""
    return model.objects.visible(to=person)


def parts_seen(model: type[Part], person: Person) -> PartQuerySet:
    """Return the parts of a kind that a person may look at: a curator also at those on offer."""
    seen = model.objects.visible(to=person)
    return seen | model.objects.offered() if _is_curator(person) else seen


def parts_changed(model: type[Part], person: Person) -> PartQuerySet:
    """Return the parts of a kind that a person may change or remove: one's own, and for curators public ones."""
    return model.objects.visible(to=person) if _is_curator(person) else parts_owned(model, person)


def may_add_public(person: Person) -> bool:
    """Return whether a person may add parts to the public catalogue; other people add parts of their own."""
    return _is_curator(person)


def parts_owned(model: type[Part], person: Person) -> PartQuerySet:
    """Return a person's own parts, which that person alone may offer or withdraw."""
    return model.objects.owned_by(person)


def parts_on_offer(model: type[Part], person: Person) -> PartQuerySet:
    """Return the parts that a person may accept into the catalogue or decline."""
    return model.objects.offered() if _is_curator(person) else model.objects.none()


def studies_listed(person: Person) -> StudyQuerySet:
    """Return a person's own studies; a guest has no list, only addresses."""
    return Study.objects.owned_by(person) if person.is_authenticated else Study.objects.none()


def studies_open(person: Person) -> StudyQuerySet:
    """Return the studies that a person may look at and cancel who knows their address: guests' and one's own."""
    return Study.objects.open_to(person if person.is_authenticated else None)


def tokens_of(person: Person) -> ApiTokenQuerySet:
    """Return the tokens of a person's programs."""
    return ApiToken.objects.owned_by(person) if person.is_authenticated else ApiToken.objects.none()


def _is_curator(person: Person) -> bool:
    return role_of(person) >= Role.CURATOR
