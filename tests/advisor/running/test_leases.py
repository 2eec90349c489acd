"""A lease is good until somebody else is given the work, and nothing is changed without one."""

import pytest

from advisor.models import State
from advisor.running import handing
from advisor.running.keeping import Keeper, LeaseLost
from advisor.running.scoring import finish_chunk
from advisor.running.stopping import fail, give_back, stop
from advisor.running.sweeping import sweep
from tests.advisor.asking import at, chunks, fresh, make_outcome, states


def claimed(outcome, code="large", now=0):
    return handing.claim(outcome.pk, code, at(now))


def test_a_lease_lasts_thirty_seconds(broker):
    outcome = make_outcome()
    claimed(outcome)
    assert chunks(outcome)["large"].lease_until == at(30)


def test_renewing_moves_its_end_and_tells_progress(broker):
    outcome = make_outcome()
    keeper = Keeper(claimed(outcome))
    keeper.progress(12)
    keeper.renew(at(10))
    assert (chunks(outcome)["large"].lease_until, chunks(outcome)["large"].scored) == (at(40), 12)


def test_a_result_after_the_lease_ran_out_counts_while_nobody_else_began(broker):
    outcome = make_outcome()
    lease = claimed(outcome)
    assert finish_chunk(lease, b"late")
    assert states(outcome)["large"] == "done"


def test_a_late_result_changes_nothing_once_another_attempt_has_begun(broker):
    outcome = make_outcome()
    late = claimed(outcome)
    sweep(at(31))
    claimed(outcome, now=32)
    assert not finish_chunk(late, b"late")
    assert states(outcome)["large"] == "running"


def test_a_late_result_changes_nothing_once_another_attempt_has_ended(broker):
    outcome = make_outcome()
    late = claimed(outcome)
    sweep(at(31))
    finish_chunk(claimed(outcome, now=32), b"first")
    assert not finish_chunk(late, b"late")
    assert bytes(chunks(outcome)["large"].result) == b"first"


def test_work_stops_at_the_renewal_after_its_lease_was_lost(broker):
    outcome = make_outcome()
    keeper = Keeper(claimed(outcome))
    sweep(at(31))
    keeper.progress(1)
    keeper.renew(at(32))
    with pytest.raises(LeaseLost):
        keeper.progress(1)


def test_work_of_a_cancelled_outcome_stops_at_the_next_renewal(broker):
    outcome = make_outcome()
    keeper = Keeper(claimed(outcome))
    stop(fresh(outcome), State.CANCELLED, at(5))
    keeper.renew(at(10))
    with pytest.raises(LeaseLost):
        keeper.progress(1)


def test_a_result_of_a_cancelled_outcome_is_not_kept(broker):
    outcome = make_outcome()
    lease = claimed(outcome)
    stop(fresh(outcome), State.CANCELLED, at(5))
    assert not finish_chunk(lease, b"found")
    assert states(outcome)["large"] == "waiting" and claimed(outcome, now=6) is None


def test_an_attempt_given_back_is_tried_again(broker):
    outcome = make_outcome()
    give_back(claimed(outcome), "it ended with KeyError", at(1))
    chunk = chunks(outcome)["large"]
    assert (chunk.state, chunk.attempts, chunk.last_error) == ("waiting", 1, "it ended with KeyError")
    assert claimed(outcome, now=2) is not None


def test_the_third_attempt_given_back_fails_the_outcome_with_the_reason(broker):
    outcome = make_outcome()
    for now in range(3):
        give_back(claimed(outcome, now=now), "it ended with KeyError", at(now))
    failed = fresh(outcome)
    assert (failed.state, failed.finished_at) == (State.FAILED, at(2))
    assert failed.failure == (
        "Enclosure large could not be worked out in 3 attempts; the last one: it ended with KeyError."
    )


def test_what_cannot_be_computed_fails_at_once(broker):
    outcome = make_outcome()
    other = claimed(outcome, "small")
    assert fail(claimed(outcome), "Enclosure large: residual 3", at(1))
    assert (fresh(outcome).state, fresh(outcome).failure) == (State.FAILED, "Enclosure large: residual 3")
    assert not finish_chunk(other, b"found")


def test_a_late_failure_changes_nothing(broker):
    outcome = make_outcome()
    late = claimed(outcome)
    sweep(at(31))
    assert not fail(late, "too late", at(32)) and not give_back(late, "too late", at(32))
    assert fresh(outcome).state == State.RUNNING
