"""The version of a part that somebody looks at, so that nobody decides about one that has changed since."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from catalog.exporting import block_of
from catalog.kinds import Kind
from catalog.records import notes_on, record_of


def version_of(kind: Kind, row: Any) -> str:
    """Return a digest of everything that a part's block says, and since when it is on offer."""
    block = block_of(kind.layout, record_of(row, kind.layout, notes_on(row)), whole=True)
    said = json.dumps([block, row.offered_at], default=str, sort_keys=True)
    return hashlib.sha256(said.encode()).hexdigest()
