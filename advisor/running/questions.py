"""A question as the database keeps it: the same from whoever asks it, and answered once."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from advisor import study
from advisor.brief import canonical
from advisor.engine.inputs import Brief, Catalogue
from advisor.models import Chunk, Outcome, Snapshot
from advisor.running.plans import packed_catalogue
from advisor.snapshots import record_to_json, text_hash


@dataclass(frozen=True, slots=True)
class Question:
    """A brief over what someone may choose from. ``sizes`` counts the candidates of each enclosure."""

    key: str
    brief: str
    catalogue: str
    catalog_hash: str
    model_version: str
    sizes: Mapping[str, int]


def question(plan: study.Plan, catalogue_text: str) -> Question:
    """Return a plan as a question; the text is the canonical JSON of the whole catalogue."""
    asked = [canonical(plan.brief), plan.catalog_hash, plan.model_version]
    return Question(
        key=text_hash(json.dumps(asked, sort_keys=True)),
        brief=record_to_json(replace(plan.brief, title="")),
        catalogue=catalogue_text,
        catalog_hash=plan.catalog_hash,
        model_version=plan.model_version,
        sizes={code: study.chunk_size(plan, code) for code in plan.chunks},
    )


def planned(brief: Brief, catalogue: Catalogue) -> tuple[study.Plan, str]:
    """Return the plan of a brief with the canonical JSON of its catalogue, written once for hash and snapshot."""
    text = record_to_json(catalogue)
    return study.plan(brief, catalogue, text_hash(text)), text


def outcome_for(asked: Question, now: datetime) -> tuple[Outcome, bool]:
    """Return the outcome that answers a question, locked, and whether it is new; within a transaction.

    Of two who ask at once, one may get an ``IntegrityError``, and finds the other's outcome when it tries again.
    """
    known = Outcome.objects.locked_answer(asked.key)
    if known is not None:
        return known, False
    content = {"content": packed_catalogue(asked.catalogue), "created_at": now}
    snapshot, _ = Snapshot.objects.defer("content").get_or_create(digest=asked.catalog_hash, defaults=content)
    outcome = Outcome.objects.create(
        key=asked.key,
        brief=asked.brief,
        snapshot=snapshot,
        model_version=asked.model_version,
        chunk_total=len(asked.sizes),
        candidate_total=sum(asked.sizes.values()),
        created_at=now,
    )
    Chunk.objects.bulk_create(Chunk(outcome=outcome, enclosure=code, size=n) for code, n in asked.sizes.items())
    return outcome, True
