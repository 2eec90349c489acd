"""Cells of tables about what is inside an enclosure: a figure with its uncertainty, and who says so."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from catalog.formats import ENCLOSURES
from catalog.shapes import Children
from frontend.contexts.provenance import Book
from frontend.contexts.tables import Cell, Table
from frontend.contexts.values import value_text


@dataclass(frozen=True, slots=True)
class Section:
    """A table under its title, what it is about, and sentences that follow it."""

    title: str
    about: str
    table: Table
    remarks: tuple[str, ...] = ()


class Inside:
    """Makes cells of the rows of one kind of thing inside an enclosure."""

    def __init__(self, found: Book, key: str) -> None:
        entry = ENCLOSURES.by_key[key]
        assert isinstance(entry, Children)
        self.book, self.key, self.layout, self.name = found, key, entry.format, entry.name_column
        named = Counter(one.source for name, one in found.figures.items() if name.startswith(f"{key}."))
        self.main = found.sources[named.most_common(1)[0][0] if named else found.main]

    def section(self, title: str, about: str, table: Table, remarks: Iterable[str] = ()) -> Section:
        """Return a section that says who says so, unless a cell says otherwise."""
        said = f"{about}. Figures from {self.main.code}, {self.main.kind}, unless a cell says otherwise."
        return Section(title, said, table, tuple(remarks))

    def cell(self, row: Any, key: str, column: str = "") -> Cell:
        """Return one figure with its uncertainty, and its source where that is not the table's."""
        prefix = f"{self.key}.{getattr(row, self.name)}."
        field = self.layout.columns[column or key]
        value, u = getattr(row, field.name), self.book.uncertainty(self.layout, key, field, prefix)
        source = self.book.source_of(self.layout, key, prefix)
        return Cell(value_text(field, value, u), quiet="" if source is self.main else source.code)
