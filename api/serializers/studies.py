"""Studies as answers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rest_framework.request import Request
from rest_framework.reverse import reverse

from advisor.models import Study
from advisor.submit import StudyStatus

FOUND = ("counts", "shortlist", "nearest_misses", "notes", "cautions")
FRONT = ("accepted", "pruned", "left_out", "columns")
FRONT_NOTE = (
    "Chosen from the {accepted} builds that were judged and accepted. Builds not judged, since they could not make the "
    "list: {pruned}; some of them may be quieter, cooler, cheaper or roomier than these."
)


def study_address(study: Study, request: Request) -> str:
    """Return where a study is found."""
    return reverse("api:study-detail", [study.pk], request=request)


def summary_body(study: Study, request: Request) -> dict[str, Any]:
    """Return a study as lists show it."""
    return {
        "id": str(study.pk),
        "url": study_address(study, request),
        "status": study.status,
        "title": study.title,
        "created_at": study.created_at,
    }


def study_body(study: Study, standing: StudyStatus, request: Request) -> dict[str, Any]:
    """Return a study as it stands, with what was found once it is done."""
    found = standing.record or dict.fromkeys(FOUND)
    return {
        **summary_body(study, request),
        "status": standing.status,
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
        "shortlist": _with_addresses(found["shortlist"], study_address(study, request)),
        "model_version": study.outcome.model_version,
        "catalog_hash": study.outcome.snapshot_id,
    }


def front_body(study: Study, found: Mapping[str, Any] | None, request: Request) -> dict[str, Any]:
    """Return the front of a study, with nulls for what is not known."""
    known = found or dict.fromkeys(FRONT)
    note = None if found is None else FRONT_NOTE.format(**found)
    about = {"study": study_address(study, request), "status": study.status, "note": note}
    return about | {name: known[name] for name in FRONT}


def _with_addresses(builds: list[Mapping[str, Any]] | None, address: str) -> list[dict[str, Any]] | None:
    """Give builds, and their alternatives, addresses within the study's."""
    if builds is None:
        return None
    return [
        {
            **build,
            "url": f"{address}#{build['id']}",
            **({"alternatives": _with_addresses(build["alternatives"], address)} if "alternatives" in build else {}),
        }
        for build in builds
    ]
