"""A table as a page shows it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """The head of a column; ``numeric`` ones are set to the right."""

    words: str
    numeric: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell's words; ``address`` makes them a link, ``quiet`` is a second, smaller line."""

    words: str
    address: str = ""
    quiet: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A captioned table; the first cell of each row is the row's head. ``empty`` is said where there is no row."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    empty: str = ""

    @property
    def lines(self) -> list[list[tuple[Column, Cell]]]:
        """Cells with their columns, row by row."""
        return [list(zip(self.columns, row, strict=True)) for row in self.rows]
