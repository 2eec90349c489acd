"""Cancelling a study, and what becomes of the outcome that others may wait for."""

from advisor.models import State
from advisor.running import handing
from advisor.submit import cancel_study, status_of
from tests.advisor.asking import ask, at, chunks, fresh, outcome_of


def test_the_only_study_stops_its_outcome(broker):
    asked = ask()
    handing.claim(asked.outcome_id, "mesh_tower", at(1))
    assert cancel_study(asked, at(2))
    assert (fresh(asked).cancelled_at, outcome_of(asked).state) == (at(2), State.CANCELLED)
    assert outcome_of(asked).finished_at == at(2)
    assert {chunk.lease_token for chunk in chunks(outcome_of(asked)).values()} == {None}


def test_others_are_still_answered(broker):
    with broker.commit():
        mine, theirs = ask(), ask()
    cancel_study(mine, at(1))
    broker.work(lambda: at(2))
    assert status_of(mine, at(3)).status == "cancelled" and status_of(mine, at(3)).record is None
    assert status_of(theirs, at(3)).status == "done" and status_of(theirs, at(3)).record["shortlist"]


def test_the_last_to_cancel_stops_the_outcome(broker):
    mine, theirs = ask(), ask()
    cancel_study(mine, at(1))
    assert outcome_of(mine).state == State.QUEUED
    cancel_study(theirs, at(2))
    assert outcome_of(mine).state == State.CANCELLED


def test_whoever_asks_afterwards_is_answered(broker):
    cancel_study(ask(), at(1))
    with broker.commit():
        again = ask(at(2))
    broker.work(lambda: at(3))
    assert status_of(again, at(4)).status == "done"


def test_cancelling_twice_changes_nothing(broker):
    asked = ask()
    cancel_study(asked, at(1))
    assert not cancel_study(asked, at(2))
    assert fresh(asked).cancelled_at == at(1)


def test_a_cancelled_study_does_not_cancel_for_others_again(broker):
    mine, theirs = ask(), ask()
    assert [cancel_study(mine, at(1)), cancel_study(mine, at(2))] == [True, False]
    assert outcome_of(theirs).state == State.QUEUED


def test_what_is_answered_stays_answered(broker):
    with broker.commit():
        asked = ask()
    broker.work(lambda: at(1))
    assert not cancel_study(asked, at(2))
    assert status_of(asked, at(3)).status == "done"
