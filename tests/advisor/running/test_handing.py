"""Which chunk may be begun, who gets it, and who merges."""

from advisor.models import State
from advisor.running import handing
from advisor.running.queue import Work
from advisor.running.scoring import finish_chunk, finish_merge
from tests.advisor.asking import at, chunks, fresh, make_outcome, states

SIX = {"f": 60, "e": 50, "d": 40, "c": 30, "b": 20, "a": 10}


def score(outcome, code, now):
    """Score a chunk as a worker does, up to what follows it."""
    finish_chunk(handing.claim(outcome.pk, code, now), b"found")
    return handing.carry_on(outcome.pk, now)


def test_the_largest_few_are_handed_out_first(broker):
    outcome = make_outcome(**SIX)
    with broker.commit():
        handing.begin(outcome.pk, at(0))
    assert broker.told() == ["f", "e", "d", "c"]
    assert states(outcome) == {
        "f": "queued",
        "e": "queued",
        "d": "queued",
        "c": "queued",
        "b": "waiting",
        "a": "waiting",
    }


def test_nothing_is_told_before_it_is_committed(broker):
    outcome = make_outcome()
    handing.begin(outcome.pk, at(0))
    assert broker.told() == []


def test_each_chunk_that_ends_brings_the_next(broker):
    outcome = make_outcome(**SIX)
    with broker.commit():
        handing.begin(outcome.pk, at(0))
    broker.told()
    with broker.commit():
        score(outcome, "e", at(1))
    assert broker.told() == ["b"]


def test_a_small_study_is_not_kept_waiting_by_a_huge_one(broker):
    huge = make_outcome(**{f"box_{number:03d}": 100 for number in range(200)})
    small = make_outcome(at(1), only=1)
    with broker.commit():
        handing.begin(huge.pk, at(0))
    with broker.commit():
        handing.begin(small.pk, at(1))
    assert broker.waiting.index(Work(small.pk, "only")) == handing.most_in_flight()


def test_a_chunk_is_begun_once(broker):
    outcome = make_outcome()
    first, second = (handing.claim(outcome.pk, "large", at(0)) for _ in range(2))
    assert first is not None and second is None
    assert chunks(outcome)["large"].attempts == 1


def test_the_first_chunk_starts_the_outcome(broker):
    outcome = make_outcome()
    handing.claim(outcome.pk, "small", at(5))
    handing.claim(outcome.pk, "large", at(6))
    assert (fresh(outcome).state, fresh(outcome).started_at) == (State.RUNNING, at(5))


def test_a_chunk_that_is_done_is_not_begun_again(broker):
    outcome = make_outcome()
    score(outcome, "large", at(0))
    assert handing.claim(outcome.pk, "large", at(1)) is None


def test_what_does_not_exist_is_not_begun(broker):
    outcome = make_outcome()
    assert handing.claim(outcome.pk, "nothing", at(0)) is None
    assert handing.claim(outcome.pk + 1000, "large", at(0)) is None


def test_an_outcome_of_another_model_is_not_worked_on(broker):
    outcome = make_outcome(model_version="0")
    assert handing.claim(outcome.pk, "large", at(0)) is None
    assert handing.carry_on(outcome.pk, at(0)) is None


def test_only_the_last_chunk_brings_the_merge(broker):
    outcome = make_outcome()
    assert score(outcome, "large", at(0)) is None
    assert score(outcome, "small", at(1)) is None
    assert score(outcome, "middle", at(2)) is not None


def test_the_merge_is_given_once(broker):
    outcome = make_outcome(only=1)
    first = score(outcome, "only", at(0))
    assert first is not None and handing.carry_on(outcome.pk, at(0)) is None
    assert finish_merge(first, b"record", at(1))
    assert handing.carry_on(outcome.pk, at(100)) is None


def test_a_merge_whose_worker_died_is_given_to_another(broker):
    outcome = make_outcome(only=1)
    first = score(outcome, "only", at(0))
    second = handing.carry_on(outcome.pk, at(31))
    assert finish_merge(second, b"second", at(32))
    assert not finish_merge(first, b"first", at(33))
    assert bytes(fresh(outcome).record) == b"second"


def test_a_merge_that_wears_out_its_attempts_fails_the_outcome(broker):
    outcome = make_outcome(only=1)
    score(outcome, "only", at(0))
    assert [handing.carry_on(outcome.pk, at(t)) is None for t in (40, 80, 120)] == [False, False, True]
    assert fresh(outcome).state == State.FAILED
    assert fresh(outcome).failure.startswith("The list of all enclosures could not be worked out in 3 attempts")


def test_an_outcome_without_enclosures_goes_straight_to_its_merge(broker):
    outcome = make_outcome(nothing=1)
    outcome.chunks.all().delete()
    with broker.commit():
        handing.begin(outcome.pk, at(0))
    assert broker.waiting == [Work(outcome.pk)]


def test_what_the_broker_could_not_be_told_waits_again(broker):
    outcome = make_outcome()
    broker.away = True
    with broker.commit():
        handing.begin(outcome.pk, at(0))
    assert set(states(outcome).values()) == {"waiting"}
