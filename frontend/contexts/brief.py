"""The page on which a brief is filled in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.forms import BoundField

from advisor.access.objects import parts_to_choose_from
from advisor.brief.fields import FIELD_OF
from catalog.formats import PARTS
from catalog.models import Enclosure
from frontend.forms.brief import DRIVES, BriefForm
from frontend.forms.subjects import FIRST, SUBJECTS, THEN, Filled, Subject
from frontend.forms.typed import texts_of
from frontend.starting_points import POINTS, StartingPoint

if TYPE_CHECKING:
    from advisor.access.roles import Person

_UNITS = {"m2": "m²"}


@dataclass(frozen=True, slots=True)
class Question:
    """One entry of the form with its unit."""

    field: BoundField
    unit: str


@dataclass(frozen=True, slots=True)
class Fold:
    """A subject that is folded away: what is in force, how much of it is not the default, how much is wrong."""

    title: str
    line: str
    changed: int
    wrong: int
    questions: tuple[Question, ...]
    note: str


@dataclass(frozen=True, slots=True)
class PartName:
    """A part to pick by its code."""

    code: str
    name: str
    kind: str


@dataclass(frozen=True, slots=True)
class BriefPage:
    """The form laid out; ``begun`` is the starting point, ``changes`` the title of the study, that it began with."""

    form: BriefForm
    first: tuple[Question, ...]
    drives: tuple[Question, ...]
    then: tuple[Question, ...]
    folds: tuple[Fold, ...]
    parts: tuple[PartName, ...]
    points: tuple[StartingPoint, ...]
    begun: str
    changes: str
    has_enclosures: bool


def brief_page(form: BriefForm, person: Person, *, begun: str = "", changes: str = "") -> BriefPage:
    """Return the page of a form, for a person who may choose from these parts."""
    parts = tuple(_parts(person))
    values = {name: form[name].value() for name in form.fields}
    return BriefPage(
        form,
        _questions(form, FIRST),
        _questions(form, DRIVES),
        _questions(form, THEN),
        tuple(_fold(form, subject, values) for subject in SUBJECTS),
        parts,
        POINTS,
        begun,
        changes,
        any(part.kind == Enclosure._meta.verbose_name for part in parts),
    )


def _questions(form: BriefForm, names: tuple[str, ...]) -> tuple[Question, ...]:
    return tuple(Question(form[name], _unit(form, name)) for name in names)


def _unit(form: BriefForm, name: str) -> str:
    field = FIELD_OF.get(name)
    if field is None:
        return ""
    currency = str(form["currency"].value() or "").strip()[:3]
    if name == "budget":
        return currency
    return f"{currency} {field.unit}" if name == "energy_price" else _UNITS.get(field.unit, field.unit)


def _fold(form: BriefForm, subject: Subject, values: Mapping[str, Any]) -> Fold:
    default = texts_of({})
    changed = sum(_plain(values[name]) != _plain(default[name]) for name in subject.names)
    wrong = sum(bool(form[name].errors) for name in subject.names)
    line = " · ".join(one for one in subject.line(Filled(values)) if one)
    return Fold(subject.title, line, changed, wrong, _questions(form, subject.names), subject.note)


def _plain(value: object) -> object:
    """Return an entry's content to compare: what is empty in one way is empty in any."""
    if isinstance(value, list):
        return sorted(one for one in value if one) or ""
    return value or ""


def _parts(person: Person) -> Iterator[PartName]:
    for layout in PARTS.values():
        rows = parts_to_choose_from(layout.model, person).values_list("code", "name")
        kind = layout.model._meta.verbose_name
        yield from (PartName(code, name, str(kind)) for code, name in rows)
