"""A worker from claim to merge: the same answer as in one process, errors counted, nothing twice."""

import pytest
from celery.exceptions import SoftTimeLimitExceeded

from advisor import study
from advisor.engine.errors import SolverError
from advisor.models import Chunk, Outcome, State
from advisor.running import plans, scoring
from advisor.running.results import unpacked_record
from advisor.running.stopping import stop
from advisor.tasks import merge, score_chunk
from tests.advisor.asking import ask, at, chunks, outcome_of
from tests.engine.record import found


def clock():
    return at(1)


@pytest.fixture
def asked(broker):
    """A study whose first chunks the broker has."""
    with broker.commit():
        return ask()


@pytest.fixture(scope="module")
def undisturbed():
    plan = study.plan(found.brief(), found.catalogue())
    return study.merge(plan, [study.score_chunk(plan, code) for code in plan.chunks])


def record_of(asked):
    return unpacked_record(Outcome.objects.record_of(asked.outcome_id))


def test_the_answer_is_that_of_one_process(asked, broker, undisturbed):
    broker.work(clock)
    assert record_of(asked) == undisturbed
    assert outcome_of(asked).finished_at == at(1)


def test_doing_everything_twice_changes_nothing(asked, broker, undisturbed):
    broker.waiting *= 2
    broker.work(clock)
    for code in chunks(outcome_of(asked)):
        scoring.score(asked.outcome_id, code, clock)
    scoring.merge(asked.outcome_id, clock)
    assert record_of(asked) == undisturbed
    assert {chunk.attempts for chunk in Chunk.objects.of_outcome(asked.outcome_id)} == {1}
    assert outcome_of(asked).attempts == 1


def test_tasks_are_wrappers(asked, undisturbed):
    for code in chunks(outcome_of(asked)):
        score_chunk(asked.outcome_id, code)
    merge(asked.outcome_id)
    assert record_of(asked) == undisturbed


def test_what_the_engine_refuses_fails_the_outcome_at_once(asked, broker, monkeypatch):
    def refuse(*_):
        raise SolverError("Enclosure mesh_tower: the network did not settle (residual 3.1)")

    monkeypatch.setattr(study, "score_chunk", refuse)
    broker.work(clock)
    failed = outcome_of(asked)
    assert (failed.state, failed.failure) == (
        State.FAILED,
        "Enclosure mesh_tower: the network did not settle (residual 3.1)",
    )
    assert sum(chunk.attempts for chunk in chunks(failed).values()) == 1


@pytest.mark.parametrize(
    ("error", "reason"),
    [
        (KeyError("secret"), "it ended with KeyError, see the service's log"),
        (SoftTimeLimitExceeded(), "it took longer than 540 s"),
    ],
)
def test_any_other_error_is_tried_three_times(asked, monkeypatch, error, reason):
    def fail(*_):
        raise error

    monkeypatch.setattr(study, "score_chunk", fail)
    for _ in range(3):
        with pytest.raises(type(error)):
            scoring.score(asked.outcome_id, "mesh_tower", clock)
    scoring.score(asked.outcome_id, "mesh_tower", clock)
    assert outcome_of(asked).failure == (
        f"Enclosure mesh_tower could not be worked out in 3 attempts; the last one: {reason}."
    )


def test_an_error_of_the_merge_is_tried_again(asked, broker, monkeypatch, undisturbed):
    def fail(*_):
        raise OSError("disk")

    with monkeypatch.context() as broken:
        broken.setattr(study, "merge", fail)
        with pytest.raises(OSError, match="disk"):
            broker.work(clock)
    scoring.merge(asked.outcome_id, clock)
    assert record_of(asked) == undisturbed and outcome_of(asked).attempts == 2


def test_a_study_cancelled_while_it_is_scored_is_not_merged(asked, broker, monkeypatch):
    score = study.score_chunk

    def score_and_lose(plan, code, progress):
        stop(outcome_of(asked), State.CANCELLED, at(1))
        return score(plan, code, progress)

    monkeypatch.setattr(study, "score_chunk", score_and_lose)
    broker.work(clock)
    cancelled = outcome_of(asked)
    assert (cancelled.state, cancelled.record) == (State.CANCELLED, None)
    assert sum(chunk.attempts for chunk in chunks(cancelled).values()) == 1


def test_a_snapshot_is_read_once_in_a_process(asked, broker):
    plans.catalogue_of.cache_clear()
    broker.work(clock)
    info = plans.catalogue_of.cache_info()
    assert (info.misses, info.hits) == (1, 3)
