"""Keeping a study's record below the size that is stored."""

from __future__ import annotations

import json
from typing import Any


def trimmed(record: dict[str, Any], most_bytes: int) -> dict[str, Any]:
    """Return a record that is no longer than so many bytes of JSON, with a note on what was left out.

    Alternatives go first, those of the last entries before those of the first ones; then nearest misses, the furthest
    ones first. Entries and counts always stay.
    """
    over = size(record) - most_bytes
    if over <= 0:
        return record
    entries, misses = [dict(entry) for entry in record["shortlist"]], list(record["nearest_misses"])
    note = "This list was too long to keep whole: some alternatives or nearest misses were left out."
    over += size(note)
    for entry in reversed(entries):
        if over > 0:
            over -= size(entry["alternatives"])
            entry["alternatives"] = []
    while misses and over > 0:
        over -= size(misses.pop())
    return record | {"shortlist": entries, "nearest_misses": misses, "notes": [*record["notes"], note]}


def size(value: Any) -> int:
    """Return the length of a value as compact JSON in UTF-8 [bytes]."""
    return len(json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode())
