"""The catalogue back into the files that it is loaded from, block by block, in the units of data sheets."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from catalog.formats import FILES
from catalog.records import Note, Record
from catalog.references import public_records
from catalog.shapes import Children, Derived, Entry, Format, Group, Link, Scalar, Vector

_WIDTH = 120
_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 _./()-]*")
_RESERVED = {"true", "false", "null", "yes", "no", "on", "off", "y", "n"}


def export_catalog(*, folder: Path) -> list[Path]:
    """Write the whole catalogue below a folder and return the files; enclosures go to one file for each kind."""
    written = []
    for kind in FILES:
        blocks = export_blocks(kind)
        for name, group in _files(kind, blocks).items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text("\n".join(_text(block) for block in group), encoding="utf-8")
            written.append(path)
    return written


def export_blocks(kind: str) -> list[dict[str, Any]]:
    """Return every public row of a kind as a block, sorted by code; what is as by default is left out."""
    return [block_of(FILES[kind], record) for record in public_records(kind)]


def block_of(layout: Format, record: Record, whole: bool = False) -> dict[str, Any]:
    """Return one record as a block of its file; a ``whole`` one has every key, with null for what is not there."""
    block: dict[str, Any] = {}
    for entry in sorted(layout.entries, key=_order):
        value = _value(layout, entry, record, whole)
        if whole or value is not None:
            block[entry.key] = value
    if layout.is_part:
        sources = {figure: note.source for figure, note in record.notes.items() if note.source}
        stated = {figure: _stated(note) for figure, note in record.notes.items() if note.uncertainty is not None}
        noted = {"sources": sources, "uncertainty": stated}
        block |= {key: values for key, values in noted.items() if whole or values}
    return block


def _order(entry: Entry) -> int:
    """Names first, then who says so, then figures, then what hangs below."""
    first = ("code", "role", "name", "maker", "source", "kind", "form", "zone", "from", "to")
    return first.index(entry.key) if entry.key in first else len(first) + isinstance(entry, Children)


def _value(layout: Format, entry: Entry, record: Record, whole: bool) -> Any:
    """Return what stands under a key, None where the key is left out."""
    match entry:
        case Scalar():
            return record.columns[entry.column] if whole else _changed(layout, entry.column, record)
        case Link():
            return record.columns[entry.column] or entry.none_word or None
        case Derived():
            return record.columns[entry.key]
        case Vector():
            return [record.columns[column] for column in entry.columns]
        case Group():
            values = {key: _changed(layout, column, record) for key, column in entry.columns.items()}
            given = {key: value for key, value in values.items() if value is not None}
            if whole and (given or not entry.optional):
                return {key: record.columns[column] for key, column in entry.columns.items()}
            return None if entry.optional and not given else given
        case Children():
            blocks = [block_of(entry.format, child, whole) for child in record.children[entry.key]]
            return {block.pop(entry.keyed_by): block for block in blocks} if entry.keyed_by else blocks


def _changed(layout: Format, column: str, record: Record) -> Any:
    value = record.columns[column]
    return None if column in layout.defaults and layout.defaults[column] == value else value


def _stated(note: Note) -> float | str:
    assert note.uncertainty is not None
    return f"{note.uncertainty * 100:.12g} %" if note.relative else note.uncertainty


def _files(kind: str, blocks: Iterable[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    files: dict[str, list[dict[str, Any]]] = {}
    for block in blocks:
        name = f"{kind}/{block['kind']}.yaml" if kind == "enclosures" else f"{kind}.yaml"
        files.setdefault(name, []).append(block)
    return files


def _text(block: dict[str, Any]) -> str:
    """Return one block: a key a line, children an item a line."""
    lines = []
    for key, value in block.items():
        if isinstance(value, list) and value and isinstance(value[0], dict):
            lines += [f"  {key}:", *(_wrapped(f"    - {_inline(item)}") for item in value)]
        else:
            line = f"  {key}: {_inline(value)}"
            lines.append(_wrapped(line) if isinstance(value, list | dict) else line)
    return "- " + "\n".join(lines).lstrip() + "\n"


def _wrapped(line: str) -> str:
    """Break a list or mapping at its spaces, which YAML takes for one each."""
    indent = " " * (len(line) - len(line.lstrip()) + 3)
    return textwrap.fill(line, _WIDTH, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)


def _inline(value: Any) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case float():
            return _number(value)
        case str():
            return value if _is_plain(value) else json.dumps(value, ensure_ascii=False)
        case list():
            return f"[{', '.join(_inline(item) for item in value)}]"
        case dict():
            return f"{{{', '.join(f'{_inline(key)}: {_inline(item)}' for key, item in value.items())}}}"
        case _:
            return str(value)  # whole numbers and dates


def _number(value: float) -> str:
    """Return the shortest text that reads back as the same number, in any reader of YAML."""
    if value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    mantissa, _, exponent = repr(value).partition("e")
    return f"{mantissa if '.' in mantissa else mantissa + '.0'}e{exponent}" if exponent else mantissa


def _is_plain(word: str) -> bool:
    return _PLAIN.fullmatch(word) is not None and word.lower() not in _RESERVED and word == word.strip()
