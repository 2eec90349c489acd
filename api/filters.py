"""Filters and orders of the catalogue's lists, made from its columns, so that a new column has them too.

``price=95`` asks for a value, ``price_min`` and ``price_max`` for a range with both ends in it; words take several with
commas between. What is asked of the inside of an enclosure (``openings.kind=fan_mount&openings.fan_size_mm=140``) must
hold for one and the same opening.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from django.db.models import Q, QuerySet, TextField
from django.db.models.functions import Cast
from django.db.models.lookups import Contains

from advisor.brief.values import Refused, problem
from api.errors import Invalid
from api.kinds import Kind
from api.query_values import (
    Value,
    a_day,
    a_flag,
    a_number,
    a_phrase,
    a_whole_number,
    codes,
    one_word_of,
    words_of,
)
from api.schema.operation import Parameter
from catalog.models import Maker
from catalog.models.columns import Checked, Choice, Code, Count, Day, Flag, Quantity, Text
from catalog.models.lists import Words
from catalog.models.vocabulary import SourceKind
from catalog.shapes import Children, Format, Group, Link, Scalar, Vector

OWNERS = ("catalogue", "mine", "offered")


@dataclass(frozen=True, slots=True)
class Filter:
    """One query parameter: its value, the condition that it makes, and below which key the condition is to hold."""

    name: str
    help: str
    value: Value
    condition: Callable[[Any], Q]
    inside: str = ""

    @property
    def parameter(self) -> Parameter:
        return Parameter(self.name, self.value.schema(self.help))


@cache
def filters_of(kind: Kind) -> dict[str, Filter]:
    """Return every filter of a kind by its name."""
    found = [_search(kind.layout), *_origin(kind.layout), *_filters(kind.layout)]
    for entry in kind.layout.children:
        found += _filters(entry.format, entry)
    return {one.name: one for one in found}


@cache
def orders_of(kind: Kind) -> dict[str, str]:
    """Return the columns that a list can be sorted by, by their keys."""
    links = {entry.key: entry.column + "_id" for entry in kind.layout.entries if isinstance(entry, Link)}
    return {key: column.name for key, column in _single(kind.layout)} | links


def order_value(kind: Kind) -> Value:
    """Return the value of ``ordering``: a key, with a dash before it to go down."""
    return one_word_of([word for key in orders_of(kind) for word in (key, f"-{key}")])


def owner_value() -> Value:
    """Return the value of ``owner``."""
    return one_word_of(OWNERS)


def read(name: str, given: str, value: Value) -> Any:
    """Return what the text of a parameter stands for, or raise ``Invalid``."""
    try:
        return value.read(given)
    except Refused as why:
        raise Invalid([problem(name, given, str(why), value.accepted)]) from None


def matching(kind: Kind, rows: QuerySet, given: Mapping[str, str]) -> QuerySet:
    """Return the rows that meet every filter among the parameters, or raise ``Invalid`` with all that are refused."""
    problems, own, inside = [], [], {}
    for name, one in filters_of(kind).items():
        if name not in given:
            continue
        try:
            condition = one.condition(one.value.read(given[name]))
        except Refused as why:
            problems.append(problem(name, given[name], str(why), one.value.accepted))
        else:
            if one.inside:
                inside[one.inside] = inside.get(one.inside, Q()) & condition
            else:
                own.append(condition)
    if problems:
        raise Invalid(problems)
    rows = rows.meeting(*own)
    for entry in kind.layout.children:
        if entry.key in inside:
            rows = rows.containing(entry.format.model._default_manager.meeting(inside[entry.key]))
    return rows


def _filters(layout: Format, within: Children | None = None) -> Iterator[Filter]:
    prefix = f"{within.key}." if within else ""
    place = f"Of one of its {within.key.replace('_', ' ')}: " if within else ""
    for key, column in (*_single(layout), *_lists(layout)):
        for suffix, help, value, lookup in _ways(column):
            condition = _condition(column, lookup)
            told = f"{place}{help}{column.help_text}"
            yield Filter(f"{prefix}{key}{suffix}", told, value, condition, within.key if within else "")


def _single(layout: Format) -> Iterator[tuple[str, Checked]]:
    """Yield the columns with one value each, by the keys that people know; parts of a vector go by their own names."""
    for entry in layout.entries:
        match entry:
            case Scalar():
                found = {entry.key: entry.column}
            case Vector():
                found = {column: column for column in entry.columns}
            case Group():
                found = {f"{entry.key}.{key}": column for key, column in entry.columns.items()}
            case _:
                found = {}
        for key, name in found.items():
            column = layout.columns[name]
            if isinstance(column, Quantity | Count | Flag | Day | Text | Code | Choice):
                yield key, column


def _lists(layout: Format) -> Iterator[tuple[str, Checked]]:
    return ((name, column) for name, column in layout.columns.items() if isinstance(column, Words))


def _ways(column: Checked) -> Iterator[tuple[str, str, Value, str]]:
    """Yield how a column can be asked: the end of the parameter's name, words before the help, value and lookup."""
    match column:
        case Quantity() | Count() | Day():
            value = a_day() if isinstance(column, Day) else a_number()
            exact = a_whole_number() if isinstance(column, Count) else value
            yield "", "Just this. ", exact, ""
            yield "_min", "At least this. ", value, "__gte"
            yield "_max", "At most this. ", value, "__lte"
        case Flag():
            yield "", "", a_flag(), ""
        case Choice():
            yield "", "", words_of(column.words), "__in"
        case Code():
            yield "", "", codes(), "__in"
        case Words():
            yield "", "Holds this. ", one_word_of(column.words), "holds"


def _condition(column: Checked, lookup: str) -> Callable[[Any], Q]:
    if lookup == "holds":  # the words are in quotes within the text of the list, on every database
        return lambda word: Q(Contains(Cast(column.name, TextField()), f'"{word}"'))
    return lambda value: Q(**{column.name + lookup: value})


def _origin(layout: Format) -> Iterator[Filter]:
    if layout.is_part:
        name = a_phrase(Maker._meta.get_field("name").max_length or 0)
        kinds = words_of(SourceKind.values)
        yield Filter("maker", "Name of its maker.", name, lambda value: Q(maker=value))
        yield Filter("source", "Where its figures come from.", codes(), lambda value: Q(source__in=value))
        yield Filter("source_kind", "How its figures came about.", kinds, lambda value: Q(source__kind__in=value))


def _search(layout: Format) -> Filter:
    """Every word must be somewhere in the texts, in whatever case."""
    texts = [name for name, column in layout.columns.items() if isinstance(column, Text | Code)]
    texts += ["maker__name"] if layout.is_part else []

    def condition(phrase: str) -> Q:
        found = Q()
        for word in phrase.split():
            anywhere = Q()
            for name in texts:
                anywhere |= Q(**{f"{name}__icontains": word})
            found &= anywhere
        return found

    return Filter("search", "Words that must all be in its code, names or notes.", a_phrase(), condition)
