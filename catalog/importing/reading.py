"""From a folder, or one file of it, to blocks."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from catalog.consistency import NOTHING
from catalog.formats import FILES
from catalog.importing.plain_yaml import YamlError, read_items
from catalog.importing.refusals import LoadRefused, Place, Refusal, nearest

_FOLDER = "enclosures"  # many files, one for each kind of enclosure
_LARGEST_BYTES = 10_000_000


@dataclass(frozen=True, slots=True)
class CatalogFile:
    """One file as read; ``kind`` is a key of ``formats.FILES``."""

    name: str
    kind: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Block:
    """One item of a file."""

    kind: str
    file: str
    line: int
    value: Any


def read_files(path: Path) -> list[CatalogFile]:
    """Read every catalogue file of a folder, or the one file named; nothing is understood yet."""
    refusals: list[Refusal] = []
    files = []
    for name, file in _listed(path):
        kind = _FOLDER if file.parent.name == _FOLDER else file.stem
        content = _content(name, file, kind, refusals)
        if content is not None:
            files.append(CatalogFile(name, kind, content))
    if refusals:
        raise LoadRefused(refusals)
    return files


def digest(files: list[CatalogFile]) -> str:
    """Return a digest of names and contents."""
    parts = (f"{file.name}\0{len(file.content)}\0".encode() + file.content for file in files)
    return hashlib.sha256(b"".join(parts)).hexdigest()


def blocks_of(files: list[CatalogFile]) -> tuple[list[Block], list[Refusal]]:
    """Split files into blocks; a file that is not readable as a list gives a refusal instead."""
    blocks, refusals = [], []
    for file in files:
        try:
            items = read_items(file.content.decode("utf-8-sig"))
        except UnicodeDecodeError as error:
            line = file.content.count(b"\n", 0, error.start) + 1
            reason = f"is not UTF-8 text at byte {error.start}: save the file as UTF-8"
            refusals.append(Refusal(Place(file.name, line), "", NOTHING, reason))
        except YamlError as error:
            refusals.append(Refusal(Place(file.name), "", NOTHING, str(error)))
        else:
            blocks.extend(Block(file.kind, file.name, line, value) for line, value in items)
    return blocks, refusals


def _listed(path: Path) -> Iterator[tuple[str, Path]]:
    try:
        if path.is_file():
            listed = [path]
        else:
            inner = path / _FOLDER
            listed = sorted(path.iterdir()) + (sorted(inner.iterdir()) if inner.is_dir() else [])
    except OSError as error:
        reason = f"cannot be read: {error.strerror}; name a folder with catalogue files, or one such file"
        raise LoadRefused([Refusal(Place(str(path)), "", NOTHING, reason)]) from None
    found = [file for file in listed if file.suffix in (".yaml", ".yml") and not file.is_dir()]
    if not found:
        reason = f"has no catalogue files; a catalogue has {', '.join(f'{kind}.yaml' for kind in FILES)}"
        raise LoadRefused([Refusal(Place(str(path)), "", NOTHING, reason)])
    base = path.parent if path.is_file() else path
    return ((file.relative_to(base).as_posix(), file) for file in found)


def _content(name: str, file: Path, kind: str, refusals: list[Refusal]) -> bytes | None:
    if kind not in FILES:
        hint = nearest(kind, FILES)
        refusals.append(Refusal(Place(name), "", NOTHING, "is not a file of a catalogue", hint))
        return None
    try:
        size = file.stat().st_size
        if size > _LARGEST_BYTES:
            reason = f"has {size} bytes; split it: a file may have {_LARGEST_BYTES}"
            refusals.append(Refusal(Place(name), "", NOTHING, reason))
            return None
        if not file.is_file():
            refusals.append(Refusal(Place(name), "", NOTHING, "is not a regular file"))
            return None
        return file.read_bytes()
    except OSError as error:
        refusals.append(Refusal(Place(name), "", NOTHING, f"cannot be read: {error.strerror}"))
        return None
