"""A stored study as the one record that pages and the REST interface show, at any stage of its life."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from advisor.brief import canonical
from advisor.engine.inputs import Brief
from advisor.models import Outcome, Study
from advisor.reports.plain import plain
from advisor.reports.standing import StudyStatus
from advisor.snapshots import record_from_json


def stored_study(study: Study, standing: StudyStatus) -> dict[str, Any]:
    """Return the record of a study as it stands, as plain JSON.

    What is found once it is done (``counts``, ``shortlist``, ``nearest_misses``, ``notes``, ``cautions``) is None or
    empty before. ``url`` is left to whoever knows addresses.
    """
    outcome, record = study.outcome, standing.record or {}
    return {
        "id": str(study.id),
        "url": None,
        "status": standing.status,
        "progress": {"done": standing.done, "total": standing.total},
        "title": study.title,
        "brief": record.get("brief") or _brief(outcome),
        "warnings": study.warnings,
        "failure": standing.failure or None,
        "counts": record.get("counts"),
        "shortlist": record.get("shortlist", []),
        "nearest_misses": record.get("nearest_misses", []),
        "notes": record.get("notes", []),
        "cautions": record.get("cautions", []),
        "model_version": outcome.model_version,
        "catalog_hash": outcome.snapshot_id,
        "created_at": _moment(study.created_at),
        "finished_at": _moment(_finished_at(study, standing)),
    }


def _brief(outcome: Outcome) -> dict[str, Any]:
    return plain(canonical(record_from_json(Brief, outcome.brief)))


def _finished_at(study: Study, standing: StudyStatus) -> datetime | None:
    """Return when a study was cancelled, or answered: at once where its question had been asked before."""
    finished_at = study.cancelled_at or standing.finished_at
    return max(finished_at, study.created_at) if finished_at else None


def _moment(at: datetime | None) -> str | None:
    return at.isoformat(timespec="seconds").replace("+00:00", "Z") if at else None
