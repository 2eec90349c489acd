"""A part as plain data, the same whether a file or the database said it, so that the two can be compared."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from django.db import models

from catalog.models import Enclosure, FigureNote
from catalog.shapes import Derived, Format, Group, Link, Vector


@dataclass(frozen=True, slots=True)
class Note:
    """Another source or uncertainty of one figure; ``relative`` tells a share from a value in the figure's unit."""

    source: str | None
    uncertainty: float | None
    relative: bool


@dataclass(frozen=True, slots=True)
class Record:
    """The columns of one row, by name; links hold codes, None for none. ``children`` come by key of the format."""

    columns: dict[str, Any]
    children: dict[str, list[Record]] = field(default_factory=dict)
    notes: dict[str, Note] = field(default_factory=dict)


def records_of(layout: Format) -> dict[int, Record]:
    """Read a kind of the public catalogue, by primary key in order of code: a constant number of queries."""
    notes = _notes_of(layout) if layout.is_part else {}
    return {row.pk: record_of(row, layout, notes.get(row.pk, {})) for row in rows_of(layout)}


def rows_of(layout: Format) -> models.QuerySet:
    """Return the public rows of a kind with what hangs below them; nobody's own parts are among them."""
    rows = layout.model._default_manager.public() if layout.is_part else layout.model._default_manager.all()
    return rows.with_wiring() if layout.model is Enclosure else rows


def record_of(row: models.Model, layout: Format, notes: dict[str, Note]) -> Record:
    """Turn one row, with its children fetched, into a record."""
    codes = {
        entry.key: {child.pk: getattr(child, entry.name_column) for child in getattr(row, entry.key).all()}
        for entry in layout.children
    }
    children = {
        entry.key: [Record(_columns_of(child, entry.format, codes)) for child in getattr(row, entry.key).all()]
        for entry in layout.children
    }
    return Record(_columns_of(row, layout, codes), children, notes)


def notes_on(row: models.Model) -> dict[str, Note]:
    """Return the notes on one part, by figure; fetch ``notes`` along to have them of many parts at once."""
    return {note.figure: _note(note) for note in row.notes.all()}  # type: ignore[attr-defined]


def value_of(layout: Format, record: Record, key: str) -> Any:
    """Return what a record holds under a key: a value, a list of several columns, or a mapping."""
    entry = layout.by_key[key]
    if isinstance(entry, Group):
        return {inner: record.columns[column] for inner, column in entry.columns.items()}
    if isinstance(entry, Vector):
        return [record.columns[column] for column in entry.columns]
    return record.columns[getattr(entry, "column", key)]


def _columns_of(row: models.Model, layout: Format, codes: dict[str, dict[int, str]]) -> dict[str, Any]:
    values = {name: getattr(row, column.attname) for name, column in layout.columns.items()}
    for entry in layout.entries:
        if isinstance(entry, Link) and entry.among:
            key = values[entry.column]
            values[entry.column] = None if key is None else codes[entry.among][key]
        elif isinstance(entry, Derived):
            values[entry.key] = getattr(row, entry.key)
    return values


def _notes_of(layout: Format) -> dict[int, dict[str, Note]]:
    notes: dict[int, dict[str, Note]] = {}
    for note in FigureNote.objects.of_model(layout.model._meta.model_name or ""):
        notes.setdefault(note.object_id, {})[note.figure] = _note(note)
    return notes


def _note(note: FigureNote) -> Note:
    return Note(note.source_id, note.uncertainty, note.relative)
