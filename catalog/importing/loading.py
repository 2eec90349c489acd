"""One load: read, parse, check, compare, write; all of it or nothing."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from django.db import transaction
from django.db.models import ProtectedError
from django.utils.text import slugify

from catalog.built_in import BUILT_IN
from catalog.consistency import NOTHING
from catalog.formats import FILES, PARTS
from catalog.importing.checking import Parsed, check_together
from catalog.importing.known import built_in_only, hold_codes, known_now
from catalog.importing.parsing import BlockParser
from catalog.importing.reading import Block, CatalogFile, blocks_of, digest, read_files
from catalog.importing.refusals import LoadRefused, Place, Refusal
from catalog.importing.writing import Changes, write_kind
from catalog.models import CatalogLoad
from catalog.querysets.parts import PartQuerySet
from catalog.records import Record
from catalog.references import public_records, references_of


@dataclass(frozen=True, slots=True)
class LoadReport:
    """What a load did, by kind; ``unread`` tells that files and catalogue were as the last load left them."""

    changes: dict[str, Changes] = field(default_factory=dict)
    unread: bool = False

    def total(self, what: str) -> int:
        return sum(getattr(changes, what) for changes in self.changes.values())

    def __str__(self) -> str:
        if self.unread:
            return "0 added, 0 changed, 0 removed: files and catalogue are as the last load left them"
        lines = [f"{kind}: {changes}" for kind, changes in self.changes.items() if changes != Changes()]
        total = ", ".join(f"{self.total(what)} {what}" for what in ("added", "changed", "removed"))
        return "\n".join([*lines, total])


@transaction.atomic
def load_catalog(*, path: Path, at: datetime, prune: bool = False) -> LoadReport:
    """Load a folder of catalogue files, or one of them.

    Parameters
    ----------
    path : Path
        The folder, or one file of it.
    at : datetime
        Now.
    prune : bool
        Whether to remove what was loaded before and no file names any more.

    Raises
    ------
    LoadRefused
        With every bad value of every file; the catalogue is as before.
    """
    if prune and path.is_file():
        raise LoadRefused([Refusal(Place(str(path)), "", NOTHING, "is one file: prune only with the whole folder")])
    hold_codes()
    files = read_files(path)
    if not prune and _is_last_load(files):
        return LoadReport(unread=True)
    parsed = _parse_all(files, prune)
    records: dict[str, list[Record]] = {kind: [] for kind in FILES}
    for block in parsed:
        records[block.kind].append(block.record)
    report = LoadReport(_write_all(records, prune))
    counts = {what: report.total(what) for what in ("added", "changed", "removed")}
    CatalogLoad.objects.create(loaded_at=at, files_sha256=digest(files), catalog_sha256=catalog_digest(), **counts)
    return report


def catalog_digest() -> str:
    """Return a digest of everything that catalogue files can say, as the database has it."""
    sha = hashlib.sha256()
    for kind in FILES:
        plain = [_plain(record) for record in public_records(kind)]
        sha.update(json.dumps([kind, plain], sort_keys=True, default=str).encode())
    return sha.hexdigest()


def _plain(record: Record) -> list[object]:
    children = {key: [_plain(child) for child in children] for key, children in record.children.items()}
    notes = {figure: (note.source, note.uncertainty, note.relative) for figure, note in record.notes.items()}
    return [record.columns, children, notes]


def _is_last_load(files: list[CatalogFile]) -> bool:
    last = CatalogLoad.objects.latest_first().first()
    return last is not None and last.files_sha256 == digest(files) and last.catalog_sha256 == catalog_digest()


def _parse_all(files: list[CatalogFile], prune: bool) -> list[Parsed]:
    blocks, refusals = blocks_of(files)
    if refusals:
        raise LoadRefused(refusals)  # what a file that cannot be read would have said, nobody knows
    parsed = []
    for block in blocks:
        parser = BlockParser(FILES[block.kind], _place(block))
        record = parser.parse(block.value)
        refusals += parser.refusals
        parsed.append(Parsed(block.kind, parser.place, record, whole=not parser.refusals))
    known = built_in_only() if prune else known_now()
    if not any(file.kind == "makers" for file in files):
        parsed += _implied_makers(parsed, known.makers)
    refusals += check_together(parsed, known)
    if refusals:
        raise LoadRefused(refusals)
    return parsed


def _implied_makers(parsed: list[Parsed], known: set[str]) -> list[Parsed]:
    """Register makers as parts name them, where no file lists them."""
    layout = FILES["makers"]
    places = {str(block.record.columns.get("maker") or ""): block.place for block in parsed}
    implied = []
    for name in sorted(set(places) - known - {""}):
        parser = BlockParser(layout, places[name])
        record = parser.parse({"code": slugify(name)[:64] or "maker", "name": name})
        implied.append(Parsed("makers", places[name], record, whole=not parser.refusals))
    return implied


def _place(block: Block) -> Place:
    code = block.value.get("code", "") if isinstance(block.value, dict) else ""
    return Place(block.file, block.line, FILES[block.kind].noun, code)


def _write_all(records: dict[str, list[Record]], prune: bool) -> dict[str, Changes]:
    changes = {kind: write_kind(FILES[kind], records[kind], prune=False) for kind in ("sources", "makers")}
    try:
        changes |= {kind: write_kind(layout, records[kind], prune) for kind, layout in PARTS.items()}
        if prune:
            changes |= {kind: _pruned(kind, records[kind], changes[kind]) for kind in ("sources", "makers")}
    except ProtectedError as error:
        needed = ", ".join(sorted(str(row) for row in error.protected_objects))[:200]
        refusal = Refusal(Place("catalogue"), "", NOTHING, f"cannot be pruned of what is still needed by {needed}")
        raise LoadRefused([refusal]) from None
    return changes


def _pruned(kind: str, records: list[Record], before: Changes) -> Changes:
    """Remove sources and makers last, when no part rests on them any more; those of own parts stay."""
    kept = {*BUILT_IN[kind], *references_of(PartQuerySet.private).of_kind(kind)}
    removed = write_kind(FILES[kind], records, prune=True, kept=kept).removed
    return Changes(before.added, before.changed, removed, before.same)
