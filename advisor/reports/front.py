"""The front of a study as plain JSON: builds that no other judged one beats or equals in four figures, as columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from typing import Any

from advisor.engine.search.outcome import EnclosureOutcome, Front
from advisor.reports.trimming import size

ROUNDING = 0.98  # of the share that should fit, since builds are not all of one length


def front_record(front: Front, outcomes: Sequence[EnclosureOutcome], most_bytes: int) -> dict[str, Any]:
    """Return a front with what it was chosen from, no longer than so many bytes of JSON.

    Where it would be longer, builds of the least desirability are left out, and counted.
    """
    keep = len(front)
    record = _record(front, outcomes, keep)
    while size(record) > most_bytes and keep:
        keep = int(keep * ROUNDING * most_bytes / size(record))
        record = _record(front, outcomes, keep)
    return record


def _record(front: Front, outcomes: Sequence[EnclosureOutcome], keep: int) -> dict[str, Any]:
    best = sorted(range(len(front)), key=lambda k: (-front.desirability[k], k))[:keep]
    rows = sorted(best)
    return {
        "accepted": sum(one.accepted for one in outcomes),
        "pruned": sum(one.pruned for one in outcomes),
        "left_out": len(front) - keep,
        "columns": {one.name: [getattr(front, one.name)[k] for k in rows] for one in fields(front)},
    }
