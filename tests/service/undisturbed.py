"""What an outcome keeps when nothing goes wrong, byte for byte, worked out in this process."""

from __future__ import annotations

from dataclasses import replace

from django.conf import settings

from advisor import study
from advisor.reports.trimming import trimmed
from advisor.running.results import packed_record, packed_result, unpacked_result


def undisturbed(plan: study.Plan) -> bytes:
    """Return the record of a plan as its outcome would keep it: the title is each study's own."""
    plan = replace(plan, brief=replace(plan.brief, title=""))
    kept = {code: packed_result(study.score_chunk(plan, code)) for code in plan.chunks}
    found = [unpacked_result(result, plan, code) for code, result in kept.items()]
    return packed_record(trimmed(study.merge(plan, found), settings.STUDY_RECORD_BYTES))
