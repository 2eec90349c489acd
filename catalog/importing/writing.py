"""Records into rows: only what is new or differs is written."""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import dataclass
from typing import Any

from django.contrib.contenttypes.models import ContentType
from django.db import models

from catalog.models import FigureNote
from catalog.records import Record, records_of
from catalog.shapes import Children, Format, Link


@dataclass(frozen=True, slots=True)
class Changes:
    """How many rows of a kind a load added, changed, removed and left alone."""

    added: int = 0
    changed: int = 0
    removed: int = 0
    same: int = 0

    def __str__(self) -> str:
        return f"{self.added} added, {self.changed} changed, {self.removed} removed, {self.same} as before"


def write_kind(layout: Format, wanted: list[Record], prune: bool, kept: Container[str] = ()) -> Changes:
    """Bring the public rows of a kind to what the records say.

    Rows that no record names stay unless pruned, and where their codes are among those ``kept``.
    """
    existing = {record.columns["code"]: (key, record) for key, record in records_of(layout).items()}
    new, changed = [], []
    for record in wanted:
        key, old = existing.pop(record.columns["code"], (None, None))
        if old is None:
            new.append((_row(layout, record), record))
        elif old != record:
            changed.append((_row(layout, record, key), record))
    rows = layout.model._default_manager
    rows.bulk_create([row for row, _ in new])
    for row, _ in changed:
        row.save(force_update=True, update_fields=list(layout.columns))
    _write_below(layout, new, changed)
    removed = [key for code, (key, _) in existing.items() if code not in kept] if prune else []
    rows.with_keys(removed).delete()
    same = len(wanted) - len(new) - len(changed)
    return Changes(len(new), len(changed), len(removed), same)


Written = list[tuple[models.Model, Record]]


def write_record(layout: Format, record: Record, key: int | None = None, **ownership: Any) -> models.Model:
    """Write one record over the row with a primary key, whose owner stays, or as a new row with an owner."""
    row = _row(layout, record, key, **ownership)
    if key is None:
        row.save(force_insert=True)
        _write_below(layout, [(row, record)], [])
    else:
        row.save(force_update=True, update_fields=list(layout.columns))
        _write_below(layout, [], [(row, record)])
    return row


def _row(layout: Format, record: Record, key: int | None = None, **links: Any) -> models.Model:
    values = {field.attname: record.columns[name] for name, field in layout.columns.items()}
    return layout.model(pk=key, **{**values, **links})


def _write_below(layout: Format, new: Written, changed: Written) -> None:
    written = [*new, *changed]
    if not written:
        return
    keys: dict[str, dict[tuple[int, str], int]] = {}
    for entry in layout.children:
        keys[entry.key] = _write_children(entry, written, keys)
    if layout.is_part:
        _write_notes(layout, written, [row.pk for row, _ in changed])


def _write_children(
    entry: Children, written: Written, keys: dict[str, dict[tuple[int, str], int]]
) -> dict[tuple[int, str], int]:
    """Write one kind of children of many parts; return their primary keys by parent and name."""
    name, children = entry.name_column, entry.format.model._default_manager
    rows = []
    for parent, record in written:
        for order, child in enumerate(record.children[entry.key]):
            links = _links(entry.format, child, parent.pk, keys)
            rows.append(_row(entry.format, child, enclosure_id=parent.pk, order=order, **links))
    wanted = {(row.enclosure_id, getattr(row, name)) for row in rows}
    owned = children.of_enclosures([parent.pk for parent, _ in written])
    stale = [key for parent, code, key in owned.values_list("enclosure", name, "pk") if (parent, code) not in wanted]
    owned.with_keys(stale).delete()
    rows.sort(
        key=lambda row: getattr(row, "kind", "") == "supply"
    )  # free the place of the one supply before it is taken
    updated = [field.name for field in entry.format.columns.values() if field.name != name]
    children.bulk_create(
        rows, update_conflicts=True, unique_fields=["enclosure", name], update_fields=["order", *updated]
    )
    return {(parent, code): key for parent, code, key in owned.values_list("enclosure", name, "pk")}


def _links(
    layout: Format, child: Record, parent: int, keys: dict[str, dict[tuple[int, str], int]]
) -> dict[str, int | None]:
    links = {}
    for entry in layout.entries:
        if isinstance(entry, Link):
            code = child.columns[entry.column]
            links[f"{entry.column}_id"] = None if code is None else keys[entry.among][parent, code]
    return links


def _write_notes(layout: Format, written: Written, changed: Iterable[int]) -> None:
    kind = ContentType.objects.get_for_model(layout.model)
    FigureNote.objects.of_model(kind.model).on_parts(changed).delete()
    FigureNote.objects.bulk_create(
        FigureNote(
            content_type=kind,
            object_id=row.pk,
            figure=figure,
            source_id=note.source,
            uncertainty=note.uncertainty,
            relative=note.relative,
        )
        for row, record in written
        for figure, note in record.notes.items()
    )
