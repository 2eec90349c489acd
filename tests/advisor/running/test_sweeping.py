"""What fell by the way is found: of dead workers, of a broker that forgot, of nobody told."""

from advisor.models import State
from advisor.running import handing
from advisor.running.queue import Work
from advisor.running.scoring import finish_chunk
from advisor.running.sweeping import sweep
from tests.advisor.asking import at, chunks, fresh, make_outcome, states


def begun(broker, now=0, **sizes):
    """An outcome whose first chunks the broker has."""
    outcome = make_outcome(at(now), **sizes)
    with broker.commit():
        handing.begin(outcome.pk, at(now))
    return outcome


def swept(broker, now):
    with broker.commit():
        return sweep(at(now))


def test_nothing_is_done_where_all_is_well(broker, django_assert_num_queries):
    begun(broker)
    with django_assert_num_queries(1):
        assert sweep(at(10)) == []


def test_a_killed_worker_s_chunk_is_handed_out_once_its_lease_has_run_out(broker):
    outcome = begun(broker, only=1)
    broker.told()
    handing.claim(outcome.pk, "only", at(0))
    assert swept(broker, 30) == []
    assert swept(broker, 31) == [Work(outcome.pk, "only")] == broker.waiting
    assert chunks(outcome)["only"].last_error == "its worker ended, or lost touch, before it was done"


def test_three_killed_workers_fail_the_outcome(broker):
    outcome = begun(broker, only=1)
    for now in (0, 40, 80):
        swept(broker, now)
        assert handing.claim(outcome.pk, "only", at(now)) is not None
    assert swept(broker, 120) == []
    assert fresh(outcome).state == State.FAILED
    last = "its worker ended, or lost touch, before it was done"
    assert fresh(outcome).failure == f"Enclosure only could not be worked out in 3 attempts; the last one: {last}."


def test_what_the_broker_forgot_is_told_again(broker):
    outcome = begun(broker)
    broker.told()
    assert swept(broker, 14) == []
    swept(broker, 16)
    assert broker.told() == ["large", "middle", "small"]
    assert {chunk.queued_at for chunk in chunks(outcome).values()} == {at(16)}


def test_what_the_broker_still_has_is_not_told_twice(broker):
    begun(broker)
    assert swept(broker, 3600) == [] and len(broker.waiting) == 3


def test_only_as_much_is_told_again_as_the_broker_lacks(broker):
    first, second = begun(broker, only=1), begun(broker, 1, only=1)
    del broker.waiting[0]
    assert swept(broker, 60) == [Work(first.pk, "only")]
    assert swept(broker, 120) == [] and Work(second.pk, "only") in broker.waiting


def test_what_was_never_handed_out_is(broker):
    outcome = make_outcome()
    swept(broker, 1)
    assert broker.told() == ["large", "middle", "small"]
    assert set(states(outcome).values()) == {"queued"}


def test_without_a_broker_leases_are_ended_and_nothing_is_told(broker):
    outcome = begun(broker, only=1)
    broker.told()
    handing.claim(outcome.pk, "only", at(0))
    broker.away = True
    assert swept(broker, 31) == [] and states(outcome) == {"only": "waiting"}
    broker.away = False
    assert swept(broker, 32) == [Work(outcome.pk, "only")]


def test_a_merge_whose_worker_died_is_handed_out(broker):
    outcome = begun(broker, only=1)
    broker.told()
    finish_chunk(handing.claim(outcome.pk, "only", at(0)), b"found")
    assert handing.carry_on(outcome.pk, at(1)) is not None
    assert swept(broker, 30) == []
    assert swept(broker, 32) == [Work(outcome.pk)]
    assert swept(broker, 40) == [], "it was told just now"


def test_a_worker_that_died_between_its_chunk_and_the_merge_is_noticed(broker):
    outcome = begun(broker, only=1)
    finish_chunk(handing.claim(outcome.pk, "only", at(0)), b"found")
    assert swept(broker, 1) == [Work(outcome.pk)]


def test_an_outcome_of_another_model_ends_with_a_word_on_it(broker):
    outcome = make_outcome(model_version="0")
    swept(broker, 1)
    assert fresh(outcome).state == State.FAILED
    assert "was changed to model version" in fresh(outcome).failure and "Submit it again" in fresh(outcome).failure


def test_finished_outcomes_are_left_alone(broker):
    outcome = make_outcome(model_version="0")
    swept(broker, 1)
    before = fresh(outcome)
    assert swept(broker, 100) == [] and fresh(outcome).finished_at == before.finished_at


def test_a_look_takes_one_query_however_many_studies_there_are(broker, django_assert_num_queries):
    for _ in range(5):
        begun(broker)
    with django_assert_num_queries(1):
        sweep(at(10))
