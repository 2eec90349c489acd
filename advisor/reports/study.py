"""A finished study as one record: counts, shortlist, nearest misses, and what to know before acting on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from advisor.brief import canonical
from advisor.engine.inputs import Brief
from advisor.engine.record.cautions import GENERAL
from advisor.engine.search.shortlist import Shortlist
from advisor.reports.plain import plain


def study_record(
    *,
    brief: Brief,
    chunks: int,
    found: Shortlist,
    entries: Iterable[dict[str, Any]],
    misses: Iterable[dict[str, Any]],
    notes: Sequence[str],
    model_version: str,
    catalog_hash: str,
) -> dict[str, Any]:
    """Return the record of a study that is done, as plain JSON.

    Parameters
    ----------
    brief : Brief
    chunks : int
        Enclosures that were scored.
    found : Shortlist
        Counts come from it.
    entries, misses : iterables of dict
        From ``entries.shortlist_entry`` and ``entries.miss_entry``.
    notes : sequence of str
        What is true of the whole list, such as which measurement would settle a tie.
    model_version, catalog_hash : str
        What the answer depends on beside the brief.
    """
    return {
        "status": "done",
        "progress": {"done": chunks, "total": chunks},
        "title": brief.title,
        "brief": plain(canonical(brief)),
        "counts": {
            "considered": found.considered,
            "accepted": found.accepted,
            "rejected": dict(found.rejected),
            "pruned": found.pruned,
        },
        "shortlist": list(entries),
        "nearest_misses": list(misses),
        "notes": list(notes),
        "cautions": list(GENERAL),
        "model_version": model_version,
        "catalog_hash": catalog_hash,
    }
