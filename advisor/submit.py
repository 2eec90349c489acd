"""What people do with studies: submit, cancel, and ask how far they have come."""

from __future__ import annotations

import json
import secrets
import uuid
from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.db import IntegrityError, transaction

from advisor import assembly, study
from advisor.brief import Problem
from advisor.brief.values import problem
from advisor.engine.inputs import Brief, Catalogue
from advisor.models import Outcome, State, Study
from advisor.reports.standing import StudyStatus
from advisor.running import handing, sweeping
from advisor.running.questions import Question, outcome_for, planned, question
from advisor.running.results import unpacked_record
from advisor.running.stopping import stop

if TYPE_CHECKING:
    from django.contrib.auth.models import User

__all__ = ["StudyStatus", "SubmitRefused", "cancel_study", "front_of", "status_of", "submit_study"]

# Two who ask the same at once may collide over its outcome, its snapshot and the sender's word, once each.
_COLLISIONS = 3


class SubmitRefused(Exception):
    """A study that is not taken; ``problem`` has the field, its value, what is accepted, and a sentence of all that."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


def submit_study(
    *,
    brief: Brief,
    given: Mapping[str, Any],
    warnings: Sequence[Any] = (),
    owner: User | None,
    now: datetime,
    idempotency_key: str | None = None,
    guest: str = "",
    catalogue: Catalogue | None = None,
) -> Study:
    """Record a study and see to it that it is worked on, or join the outcome that answers the same question.

    Parameters
    ----------
    brief : Brief
        As ``advisor.brief.read_brief`` returns it.
    given : mapping
        The brief as the person sent it.
    warnings : sequence of Caution
        From the same reading.
    owner : User, optional
        Whose study it is; None for a guest's.
    now : datetime
    idempotency_key : str, optional
        A word of the sender's; the same word from the same sender returns the same study.
    guest : str
        Digest by which guests are told apart where there is no owner.
    catalogue : Catalogue, optional
        What ``assembly.catalogue(owner)`` returned, where it has been read already.

    Raises
    ------
    SubmitRefused
        For more candidates than one study may have, or a word that was sent with another brief.
    """
    sender, word = {"owner": owner, "guest": "" if owner else guest}, idempotency_key or ""
    earlier = _sent_before(sender, word, given)
    if earlier is not None:
        return earlier
    asked = _question(brief, assembly.catalogue(owner) if catalogue is None else catalogue)
    cautions = [{"field": one.field, "message": one.message} for one in warnings]
    about = {"title": brief.title, "brief_given": dict(given), "warnings": cautions}
    for _ in range(_COLLISIONS):
        try:
            return _recorded(asked, now, idempotency_key=word, **sender, **about)
        except IntegrityError:
            earlier = _sent_before(sender, word, given)
            if earlier is not None:
                return earlier
    return _recorded(asked, now, idempotency_key=word, **sender, **about)


def cancel_study(study: Study, now: datetime) -> bool:
    """Note that a study's sender lost interest; return False where it is finished or was cancelled before.

    Its outcome is stopped only when no other study waits for it.
    """
    with transaction.atomic():
        outcome = Outcome.objects.locked_unfinished(study.outcome_id)
        if outcome is None:
            return False
        waiting = Study.objects.waiting_for(outcome)
        if not waiting.with_id(study.pk).update(cancelled_at=now):
            return False
        study.cancelled_at = now
        if not waiting.exists():
            stop(outcome, State.CANCELLED, now)
        return True


def status_of(study: Study, now: datetime) -> StudyStatus:
    """Return how far a study has come, after finding what fell by the way; ``record`` is there once it is done."""
    outcome = _tallied(study, now)
    if outcome.is_unfinished and study.cancelled_at is None and sweeping.needs_care(outcome, now):
        sweeping.sweep(now)
        outcome = _tallied(study, now)
    status = State.CANCELLED if study.cancelled_at is not None else State(outcome.state)
    done = status == State.DONE
    return StudyStatus(
        status=status.value,
        done=outcome.candidate_total if done else int(outcome.candidates_done),
        total=outcome.candidate_total,
        chunks_done=outcome.chunks_done,
        chunks_total=outcome.chunk_total,
        record=unpacked_record(Outcome.objects.record_of(outcome.pk)) if done else None,
        failure=outcome.failure if status == State.FAILED else "",
        finished_at=outcome.finished_at,
    )


def front_of(study: Study) -> Mapping[str, Any] | None:
    """Return the front of a study that is done; None before, and where it was answered by a release without fronts."""
    if study.status != State.DONE:
        return None
    front = Outcome.objects.front_of(study.outcome_id)
    return None if front is None else unpacked_record(front)


def _recorded(asked: Question, now: datetime, **columns: Any) -> Study:
    """Record a study with what answers it: plan, chunks and their count are all there before any is handed out."""
    with transaction.atomic():
        outcome, new = outcome_for(asked, now)
        identity = uuid.UUID(bytes=secrets.token_bytes(16))
        made = Study.objects.create(id=identity, outcome=outcome, created_at=now, **columns)
        if new:
            transaction.on_commit(partial(handing.begin, outcome.pk, now))
    return made


def _sent_before(sender: Mapping[str, Any], word: str, given: Mapping[str, Any]) -> Study | None:
    """Return the study that the same sender sent with the same word."""
    if not word:
        return None
    earlier = Study.objects.of_sender(**sender).sent_with(word).with_outcome().first()
    if earlier is not None and earlier.brief_given != json.loads(json.dumps(given)):
        accepted = "a key that was not sent before, or was sent with this same brief"
        raise SubmitRefused(problem("Idempotency-Key", word, "was sent with another brief", accepted))
    return earlier


def _question(brief: Brief, catalogue: Catalogue) -> Question:
    plan, text = planned(brief, catalogue)
    most = study.most_candidates(plan)
    if most > settings.STUDY_MOST_CANDIDATES:
        accepted = f"at most {settings.STUDY_MOST_CANDIDATES}; require some parts, or exclude some"
        raise SubmitRefused(problem("required_parts", most, "builds are more than one study may ask for", accepted))
    return question(plan, text)


def _tallied(study: Study, now: datetime) -> Outcome:
    return sweeping.tallied(now).get(pk=study.outcome_id)
