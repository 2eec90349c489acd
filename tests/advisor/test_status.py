"""How far a study has come, and that asking recovers what fell by the way."""

import pytest

from advisor.models import State
from advisor.running import handing
from advisor.running.keeping import Keeper
from advisor.running.scoring import finish_chunk, score
from advisor.running.stopping import stop
from advisor.submit import status_of
from tests.advisor.asking import ask, at, chunks, outcome_of


@pytest.fixture
def asked(broker):
    with broker.commit():
        return ask()


def clock():
    return at(1)


def test_nothing_is_done_at_first(asked):
    standing = status_of(asked, at(1))
    total = outcome_of(asked).candidate_total
    assert (standing.status, standing.done, standing.total) == ("queued", 0, total)
    assert (standing.chunks_done, standing.chunks_total, standing.record, standing.failure) == (0, 3, None, "")


def test_candidates_of_finished_and_of_running_chunks_count(asked):
    sizes = {code: chunk.size for code, chunk in chunks(outcome_of(asked)).items()}
    score(asked.outcome_id, "mesh_tower", clock)
    keeper = Keeper(handing.claim(asked.outcome_id, "drive_cube", at(2)))
    keeper.progress(2)
    keeper.renew(at(3))
    standing = status_of(asked, at(4))
    assert (standing.status, standing.done) == ("running", sizes["mesh_tower"] + 2)
    assert (standing.chunks_done, standing.chunks_total) == (1, 3)


def test_a_chunk_never_counts_for_more_than_it_holds(asked):
    keeper = Keeper(handing.claim(asked.outcome_id, "drive_cube", at(1)))
    keeper.progress(10**9)
    keeper.renew(at(2))
    assert status_of(asked, at(3)).done == chunks(outcome_of(asked))["drive_cube"].size


def test_it_is_running_until_it_is_merged(asked):
    for code in chunks(outcome_of(asked)):
        finish_chunk(handing.claim(asked.outcome_id, code, at(1)), b"found")
    standing = status_of(asked, at(2))
    assert (standing.status, standing.done, standing.record) == ("running", standing.total, None)


def test_it_is_done_with_its_record(asked, broker):
    broker.work(clock)
    standing = status_of(asked, at(2))
    assert (standing.status, standing.done, standing.finished_at) == ("done", standing.total, at(1))
    assert standing.record["counts"]["considered"] == standing.total


def test_a_failure_has_its_reason(asked):
    stop(outcome_of(asked), State.FAILED, at(1), "Enclosure mesh_tower: residual 3")
    standing = status_of(asked, at(2))
    assert (standing.status, standing.failure, standing.record) == ("failed", "Enclosure mesh_tower: residual 3", None)


def test_asking_hands_out_again_what_a_killed_worker_held(asked, broker):
    broker.told()
    for code in chunks(outcome_of(asked)):
        handing.claim(asked.outcome_id, code, at(0))
    with broker.commit():
        status_of(asked, at(31))
    assert len(broker.told()) == 3


def test_asking_hands_out_again_what_the_broker_forgot(asked, broker):
    broker.told()
    with broker.commit():
        status_of(asked, at(20))
    assert len(broker.told()) == 3


def test_queries_of_a_look_are_constant(asked, broker, django_assert_num_queries):
    with django_assert_num_queries(1):
        status_of(asked, at(1))
    broker.work(clock)
    for _ in range(5):
        ask()
    with django_assert_num_queries(2):
        status_of(asked, at(2))
