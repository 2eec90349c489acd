"""Entries in a YAML file: a list of one or more, read with the care of the catalogue's own files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from advisor.brief.values import problem
from advisor.tape.reading import TapeReading, read_tape
from catalog.importing.plain_yaml import YamlError, read_items

LARGEST_BYTES = 256_000
ACCEPTED = "a YAML file of at most 256 kB in UTF-8 with a list of entries"


@dataclass(frozen=True, slots=True)
class FileEntry:
    """One entry of a file, the line on which it begins, and its fields as they stand there."""

    line: int
    reading: TapeReading
    given: Mapping[str, Any]


def read_tape_file(path: str | Path) -> list[FileEntry]:
    """Read a file with entries; whatever is wrong with it comes back as problems.

    Parameters
    ----------
    path : str or Path
    """
    try:
        with Path(path).open("rb") as file:
            content = file.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        return _failed(path, f"cannot be read ({getattr(error, 'strerror', None) or error})")
    if len(content) > LARGEST_BYTES:
        return _failed(path, f"is larger than {LARGEST_BYTES // 1000} kB")
    try:
        items = read_items(content.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        return _failed(path, f"is not UTF-8 (byte {error.start + 1})")
    except YamlError as error:
        return _failed(path, str(error))
    if not items:
        return _failed(path, "holds no entry")
    return [FileEntry(line, read_tape(value), value if isinstance(value, Mapping) else {}) for line, value in items]


def _failed(path: str | Path, why: str) -> list[FileEntry]:
    return [FileEntry(0, TapeReading(None, (problem("", Path(path).name, why, ACCEPTED),)), {})]
