"""The form by which a list of the catalogue is searched: any figure, any word, one field each or a range."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from catalog.consistency import Problem
from catalog.finding.filters import Filter, filters_of
from catalog.finding.values import Value
from catalog.importing.refusals import printable
from catalog.kinds import Kind
from catalog.models.vocabulary import SourceKind
from catalog.shapes import Format
from frontend.contexts.columns import help_of, keys_of, label_of, unit_of, word_of
from frontend.templatetags.words import sentence_case

ALWAYS = ("search",)
LONGEST_SHOWN = 200


@dataclass(frozen=True, slots=True)
class Choice:
    """A word of a field, as the address has it and as people read it."""

    value: str
    words: str
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """One input: ``word`` tells the ends of a range apart."""

    name: str
    word: str
    value: str
    error: str
    choices: tuple[Choice, ...] = ()
    decimal: bool = False

    @property
    def said(self) -> str:
        """What is chosen, in words."""
        return next((one.words for one in self.choices if one.chosen), self.value[:LONGEST_SHOWN])

    @property
    def id(self) -> str:
        return "find-" + self.name.replace(".", "-")


@dataclass(frozen=True, slots=True)
class Asked:
    """A figure that can be asked for, with its inputs: one, or two for a range."""

    key: str
    label: str
    unit: str
    entries: tuple[Entry, ...]
    help: str = ""

    @property
    def is_range(self) -> bool:
        return len(self.entries) > 1

    @property
    def said(self) -> str:
        """What is asked of it, in words, empty where nothing is."""
        given = [f"{entry.word} {entry.said}".strip() for entry in self.entries if entry.value]
        return f"{self.label.lower()} {' '.join(given)} {self.unit}".strip() if given else ""

    @property
    def errors(self) -> list[Entry]:
        return [entry for entry in self.entries if entry.error]


@dataclass(frozen=True, slots=True)
class More:
    """Figures that can be added to the form, under what they belong to."""

    words: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class Finder:
    """The form: what is asked or always there, and what can be added."""

    asked: tuple[Asked, ...]
    more: tuple[More, ...]

    @property
    def said(self) -> str:
        """What is asked, in one line."""
        return ", ".join(one.said for one in self.asked if one.said)

    @property
    def errors(self) -> list[tuple[Asked, Entry]]:
        return [(one, entry) for one in self.asked for entry in one.errors]


def finder(
    kind: Kind, given: Mapping[str, str], usual: Collection[str], added: str, errors: Mapping[str, str]
) -> Finder:
    """Return the form of a kind's list: the usual keys, those with a value, and one that is added."""
    by_key = {key: tuple(ways) for key, ways in groupby(filters_of(kind.layout).values(), lambda one: one.key)}
    shown = [*ALWAYS, *usual, added, *(key for key, ways in by_key.items() if any(one.name in given for one in ways))]
    keys = [key for key in dict.fromkeys(shown) if key in by_key]
    asked = tuple(_asked(kind.layout, key, by_key[key], given, errors) for key in keys)
    return Finder(asked, tuple(_more(kind.layout, [key for key in by_key if key not in keys])))


def refused_words(problem: Problem) -> str:
    """Return why something cannot be asked for, to stand beside its field."""
    return printable(f"{problem.value!s:.60} {problem.reason}; accepted: {problem.accepted}.")


def label_within(key: str, layout: Format) -> str:
    """Return the label of a key, with what it is inside of."""
    first, _, rest = key.partition(".")
    within = next((entry for entry in layout.children if entry.key == first), None)
    return f"{sentence_case(within.format.noun)}: {label_of(rest).lower()}" if within else label_of(key)


def _asked(
    layout: Format, key: str, ways: Iterable[Filter], given: Mapping[str, str], errors: Mapping[str, str]
) -> Asked:
    column = _column(layout, key)
    by_way = {one.way: one for one in ways}
    # A range says all that a single value would, unless such a value is asked for already.
    wanted = [way for way in by_way if way or "_min" not in by_way or by_way[""].name in given]
    words = {"_min": "from", "_max": "to", "": "just" if len(wanted) > 1 else ""}
    entries = tuple(_entry(layout, by_way[way], words[way], given, errors) for way in wanted)
    help = help_of(column) if column is not None else by_way[""].help if key == "search" else ""
    unit = unit_of(column) if column is not None else ""
    return Asked(key, label_within(key, layout), unit, entries, help)


def _entry(layout: Format, one: Filter, word: str, given: Mapping[str, str], errors: Mapping[str, str]) -> Entry:
    value = given.get(one.name, "")
    choices = tuple(_choices(layout, one.key, one.value, value))
    decimal = one.value.form in ("number", "whole")
    return Entry(one.name, word, value, errors.get(one.name, ""), choices, decimal)


def _choices(layout: Format, key: str, value: Value, chosen: str) -> Iterator[Choice]:
    if value.form not in ("flag", "words", "word"):
        return
    yield Choice("", "any", not chosen)
    words = ("true", "false") if value.form == "flag" else tuple(word for word in value.choices if word)
    for word in words:
        yield Choice(word, _word(layout, key, value, word), word == chosen)
    if chosen and chosen not in words:  # several in one address
        yield Choice(chosen, chosen[:LONGEST_SHOWN].replace(",", " or "), True)


def _word(layout: Format, key: str, value: Value, word: str) -> str:
    if value.form == "flag":
        return {"true": "yes", "false": "no"}[word]
    if key == "source_kind":
        return str(dict(SourceKind.choices)[word])
    column = _column(layout, key)
    return word if column is None else word_of(column, word)


def _column(layout: Format, key: str):  # noqa: ANN202 - a column of any kind
    first, _, rest = key.partition(".")
    within = next((entry.format for entry in layout.children if entry.key == first), None)
    if within is not None:
        layout, key = within, rest
    name = dict(keys_of(layout)).get(key)
    return layout.columns[name] if name else None


def _more(layout: Format, keys: Iterable[str]) -> Iterator[More]:
    inside = {entry.key: entry for entry in layout.children}
    groups: dict[str, list[Choice]] = {}
    for key in keys:
        first, _, rest = key.partition(".")
        words = f"One of its {first.replace('_', ' ')}" if first in inside else "The part"
        groups.setdefault(words, []).append(Choice(key, label_of(rest if first in inside else key)))
    for words, choices in groups.items():
        yield More(words, tuple(sorted(choices, key=lambda one: one.words)))
