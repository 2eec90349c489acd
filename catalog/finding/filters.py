"""Filters and orders of lists of the catalogue, made from its columns, so that a new column has them too.

``price=95`` asks for a value, ``price_min`` and ``price_max`` for a range with both ends in it; words take several with
commas between. What is asked of the inside of an enclosure (``openings.kind=fan_mount&openings.fan_size_mm=140``) must
hold for one and the same opening.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from django.db.models import Q, QuerySet, TextField
from django.db.models.functions import Cast
from django.db.models.lookups import Contains

from catalog.consistency import Problem
from catalog.finding.values import (
    NotRead,
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
from catalog.models import Maker
from catalog.models.columns import Checked, Choice, Code, Count, Day, Flag, Quantity, Text
from catalog.models.lists import Words
from catalog.models.vocabulary import SourceKind
from catalog.shapes import Children, Format, Group, Link, Scalar, Vector

OWNERS = ("catalogue", "mine", "offered")


class NotAsked(Exception):
    """Something cannot be asked for so; ``problems`` say of which name, why and what is accepted."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(one) for one in self.problems))


@dataclass(frozen=True, slots=True)
class Filter:
    """One thing to ask for: its value, the condition that it makes, and below which key the condition is to hold.

    ``key`` is the column's as people know it, ``way`` how it is asked: ``""`` for just this, ``_min``, ``_max``.
    """

    name: str
    help: str
    value: Value
    condition: Callable[[Any], Q]
    inside: str = ""
    key: str = ""
    way: str = ""


@cache
def filters_of(layout: Format) -> dict[str, Filter]:
    """Return every filter of a kind by its name."""
    found = [_search(layout), *_origin(layout), *_filters(layout)]
    for entry in layout.children:
        found += _filters(entry.format, entry)
    return {one.name: one for one in found}


@cache
def orders_of(layout: Format) -> dict[str, str]:
    """Return the columns that a list can be sorted by, by their keys."""
    links = {entry.key: entry.column + "_id" for entry in layout.entries if isinstance(entry, Link)}
    return {key: column.name for key, column in _single(layout)} | links


def order_value(layout: Format) -> Value:
    """Return the value of ``ordering``: a key, with a dash before it to go down."""
    return one_word_of([word for key in orders_of(layout) for word in (key, f"-{key}")])


def order_columns(layout: Format, word: str) -> tuple[str, ...]:
    """Return the columns to sort by for an order that was read: the one asked for, then the code."""
    column = orders_of(layout)[word.lstrip("-")]
    column = f"-{column}" if word.startswith("-") else column
    return (column,) if column.lstrip("-") == "code" else (column, "code")


def owner_value() -> Value:
    """Return the value of ``owner``."""
    return one_word_of(OWNERS)


def read(name: str, given: str, value: Value) -> Any:
    """Return what the text given under a name stands for, or raise ``NotAsked``."""
    try:
        return value.read(given)
    except NotRead as why:
        raise NotAsked([Problem(name, given, str(why), value.accepted)]) from None


def matching(layout: Format, rows: QuerySet, given: Mapping[str, str]) -> QuerySet:
    """Return the rows that meet every filter among what is given, or raise ``NotAsked`` with all that are refused."""
    problems, own, inside = [], [], {}
    for name, one in filters_of(layout).items():
        if name not in given:
            continue
        try:
            condition = one.condition(one.value.read(given[name]))
        except NotRead as why:
            problems.append(Problem(name, given[name], str(why), one.value.accepted))
        else:
            if one.inside:
                inside[one.inside] = inside.get(one.inside, Q()) & condition
            else:
                own.append(condition)
    if problems:
        raise NotAsked(problems)
    rows = rows.meeting(*own)
    for entry in layout.children:
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
            inside = within.key if within else ""
            yield Filter(f"{prefix}{key}{suffix}", told, value, condition, inside, f"{prefix}{key}", suffix)


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
        yield Filter("maker", "Name of its maker.", name, lambda value: Q(maker=value), key="maker")
        yield Filter("source", "Where its figures come from.", codes(), lambda value: Q(source__in=value), key="source")
        yield Filter(
            "source_kind",
            "How its figures came about.",
            kinds,
            lambda value: Q(source__kind__in=value),
            key="source_kind",
        )


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

    return Filter("search", "Words that must all be in its code, names or notes.", a_phrase(), condition, key="search")
