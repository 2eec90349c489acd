"""What chunks and outcomes keep of what was found: small, and read back exactly.

A chunk's result names parts and mounts by their codes, since the outcome's snapshot holds them.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable, Mapping
from functools import lru_cache
from operator import attrgetter
from typing import Any

from advisor.engine.inputs import Cooler, Drive, Enclosure, Fan, Opening, Supply
from advisor.engine.search.outcome import EnclosureOutcome
from advisor.snapshots import Words, record_from_json, record_to_json
from advisor.study import Plan

RECORDS_KEPT = 4  # in each process; 20 MB each at most

_BY_CODE: Words = dict.fromkeys((Enclosure, Opening, Fan, Cooler, Supply, Drive), attrgetter("code"))


def packed_result(found: EnclosureOutcome) -> bytes:
    """Return what was found in one enclosure as a chunk keeps it."""
    return zlib.compress(record_to_json(found, _BY_CODE).encode())


def unpacked_result(content: bytes, plan: Plan, enclosure_code: str) -> EnclosureOutcome:
    """Return what ``packed_result`` packed; parts are those of the plan."""
    box, parts = plan.enclosure(enclosure_code), plan.catalogue
    words: Words = {
        Enclosure: _lookup((box,)),
        Opening: _lookup(box.openings),
        Fan: _lookup(parts.fans),
        Cooler: _lookup(parts.coolers),
        Supply: _lookup(parts.supplies),
        Drive: _lookup(parts.drives),
    }
    return record_from_json(EnclosureOutcome, zlib.decompress(content), words)


def packed_record(record: dict[str, Any]) -> bytes:
    """Return a study's record as its outcome keeps it."""
    return zlib.compress(json.dumps(record, allow_nan=False, ensure_ascii=False, separators=(",", ":")).encode())


@lru_cache(maxsize=RECORDS_KEPT)
def unpacked_record(content: bytes) -> Mapping[str, Any]:
    """Return what ``packed_record`` packed, to be read only: whoever looks at the same answer next gets the same."""
    return json.loads(zlib.decompress(content))


def _lookup(parts: Iterable[Any]) -> Any:
    return {part.code: part for part in parts}.__getitem__
