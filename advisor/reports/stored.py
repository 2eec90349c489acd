"""A stored study as the one record that pages and the REST interface show, at any stage of its life."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from advisor.models import Study
from advisor.reports.standing import StudyStatus

# What a finished outcome's record holds of interest to people; None in the record of a study until it is done.
FOUND = ("counts", "shortlist", "nearest_misses", "notes", "cautions")


def stored_study(study: Study, standing: StudyStatus) -> dict[str, Any]:
    """Return the record of a study as it stands, as plain JSON; ``url`` is left to whoever knows addresses."""
    found = standing.record or dict.fromkeys(FOUND)
    return {
        "id": str(study.id),
        "url": None,
        "status": standing.status,
        "title": study.title,
        "created_at": _moment(study.created_at),
        "finished_at": _moment(_finished_at(study, standing)),
        "brief": study.brief_given,
        "warnings": study.warnings,
        "progress": {
            "done": standing.done,
            "total": standing.total,
            "enclosures_done": standing.chunks_done,
            "enclosures_total": standing.chunks_total,
        },
        "failure": standing.failure or None,
        **{name: found[name] for name in FOUND},
        "model_version": study.outcome.model_version,
        "catalog_hash": study.outcome.snapshot_id,
    }


def _finished_at(study: Study, standing: StudyStatus) -> datetime | None:
    """Return when a study was cancelled, or answered: at once where its question had been asked before."""
    finished_at = study.cancelled_at or standing.finished_at
    return max(finished_at, study.created_at) if finished_at else None


def _moment(at: datetime | None) -> str | None:
    return at.isoformat(timespec="seconds").replace("+00:00", "Z") if at else None
