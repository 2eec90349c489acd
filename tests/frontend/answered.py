"""Studies that are done, over three hand-written enclosures: one with a list, one in which every build is too loud."""

import json
import uuid
from datetime import UTC, datetime
from functools import cache

from advisor import study
from advisor.models import Outcome, Snapshot, Study
from advisor.running.plans import packed_catalogue
from advisor.running.results import packed_record
from advisor.snapshots import record_to_json, text_hash
from advisor.states import State
from tests.engine.record import found

NOW = datetime(2031, 6, 1, 12, 0, tzinfo=UTC)


@cache
def _record(target_dba):
    plan = study.plan(found.brief(noise_target_dba=target_dba), found.catalogue())
    return study.merge(plan, [study.score_chunk(plan, code) for code in plan.chunks])


def listed():
    """What a study found whose three enclosures all have accepted builds."""
    return _record(42.0)


def too_loud():
    """What a study found in which no build keeps the noise target."""
    return _record(20.0)


def hostile(record, name):
    """The same record with every part, and the study, called so."""
    text = json.dumps(record)
    changed = json.loads(text)
    for one in (*changed["shortlist"], *changed["nearest_misses"]):
        for build in (one, *one.get("alternatives", ())):
            for line in build["parts"]:
                line["name"] = name
    return changed


def answered(record, owner=None, title="Three boxes"):
    """A study in the database that found this."""
    text = record_to_json(found.catalogue())
    content = {"content": packed_catalogue(text), "created_at": NOW}
    snapshot, _ = Snapshot.objects.get_or_create(digest=text_hash(text), defaults=content)
    outcome = Outcome.objects.create(
        key=uuid.uuid4().hex * 2,
        brief="{}",
        snapshot=snapshot,
        model_version="1",
        chunk_total=3,
        candidate_total=record["counts"]["considered"],
        created_at=NOW,
        state=State.DONE,
        record=packed_record(record),
        finished_at=NOW,
    )
    return Study.objects.create(
        id=uuid.uuid4(), owner=owner, outcome=outcome, title=title, brief_given={}, created_at=NOW
    )
