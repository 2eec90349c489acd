"""The shapes that keys of a catalogue block come in, and how a whole kind of block is put together from them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from django.db import models

from catalog.models import Part
from catalog.models.columns import Checked
from catalog.models.lists import Points
from catalog.models.rules import Rule

# Columns that no block fills: keys, places in lists, and whose part it is, which is not for files to say.
_BOOKKEEPING = {"id", "enclosure", "order", "owner", "offered_at", "decline_note", "contributor"}


@dataclass(frozen=True)
class Scalar:
    """One value in one column."""

    key: str
    column: str


@dataclass(frozen=True)
class Vector:
    """A list of numbers, each in a column of its own."""

    key: str
    columns: tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """A mapping whose keys are columns; an ``optional`` one may be left out as a whole.

    ``main`` is the column that stands for the group where a source or an uncertainty is noted for it.
    """

    key: str
    columns: dict[str, str]
    main: str
    optional: bool = False
    defaults: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Link:
    """The code of a like-named row: of the same block's ``among``, or of a table of its own where that is empty."""

    key: str
    column: str
    among: str = ""
    none_word: str = ""


@dataclass(frozen=True)
class Derived:
    """A key that repeats what other keys say, for the reader; the loader checks that it does."""

    key: str


@dataclass(frozen=True)
class Children:
    """Blocks within the block: a list, or a mapping by the column ``keyed_by``."""

    key: str
    format: Format
    name_column: str = "code"
    keyed_by: str = ""


Entry = Scalar | Vector | Group | Link | Derived | Children


@dataclass(frozen=True, eq=False)
class Format:
    """The layout of one kind of block; each is made once and known by that."""

    noun: str
    model: type[models.Model]
    entries: tuple[Entry, ...]

    @cached_property
    def by_key(self) -> dict[str, Entry]:
        return {entry.key: entry for entry in self.entries}

    @cached_property
    def columns(self) -> dict[str, models.Field]:
        """Every column that a block fills, by name."""
        return {field.name: field for field in self.model._meta.concrete_fields if field.name not in _BOOKKEEPING}

    @cached_property
    def defaults(self) -> dict[str, Any]:
        """What a column holds when its key is left out."""
        return {name: field.get_default() for name, field in self.columns.items() if field.has_default() or field.null}

    @property
    def rules(self) -> tuple[Rule, ...]:
        return getattr(self.model, "RULES", ())

    @property
    def children(self) -> Iterator[Children]:
        return (entry for entry in self.entries if isinstance(entry, Children))

    @cached_property
    def outside(self) -> Format:
        """The same layout without what is inside: children, and what repeats them."""
        return Format(self.noun, self.model, tuple(e for e in self.entries if not isinstance(e, Children | Derived)))

    @property
    def is_part(self) -> bool:
        return issubclass(self.model, Part)

    def key_of(self, column: str) -> str:
        """Return the key under which people find a column, with a dot below a group."""
        for entry in self.entries:
            if isinstance(entry, Scalar | Link) and entry.column == column:
                return entry.key
            if isinstance(entry, Vector) and column in entry.columns:
                return entry.key
            if isinstance(entry, Group) and column in entry.columns.values():
                inner = next(key for key, name in entry.columns.items() if name == column)
                return f"{entry.key}.{inner}"
        return column

    def figure_column(self, key: str) -> Checked | None:
        """Return the column whose unit and spread a figure's key has, None if no figure is called so."""
        entry = self.by_key.get(key)
        names = {
            Scalar: lambda: entry.column,
            Group: lambda: entry.main,
            Vector: lambda: entry.columns[0],
        }
        name = names[type(entry)]() if type(entry) in names else ""
        column = self.columns.get(name)
        return column if isinstance(column, Checked) and (column.unit or column.spread or _is_number(column)) else None


def _is_number(column: Checked) -> bool:
    return isinstance(column, models.FloatField | models.IntegerField | Points)


def layout(noun: str, model: type[models.Model], *special: Entry) -> Format:
    covered: set[str] = set()
    for entry in special:
        match entry:
            case Scalar() | Link():
                covered.add(entry.column)
            case Vector():
                covered.update(entry.columns)
            case Group():
                covered.update(entry.columns.values())
    plain = [
        Scalar(column.name, column.name)
        for column in model._meta.concrete_fields
        if column.name not in covered | _BOOKKEEPING
    ]
    return Format(noun, model, (*plain, *special))
