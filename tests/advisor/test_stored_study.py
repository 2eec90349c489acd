"""The record of a stored study at each stage has the same names, and those of the contract."""

import json

import pytest

from advisor.models import State, Study
from advisor.reports.stored import stored_study
from advisor.running.stopping import stop
from advisor.submit import cancel_study, status_of
from tests.advisor.asking import ask, at, outcome_of

CONTRACT = {"status", "progress", "counts", "nearest_misses", "shortlist", "model_version", "catalog_hash"}


@pytest.fixture
def asked(broker):
    with broker.commit():
        return ask(title="Mine")


def told(asked, seconds):
    study = Study.objects.with_outcome().get(pk=asked.pk)
    return stored_study(study, status_of(study, at(seconds)))


def test_before_it_is_done_nothing_is_found(asked):
    record = told(asked, 1)
    assert record.keys() >= CONTRACT
    assert (record["status"], record["counts"], record["shortlist"]) == ("queued", None, None)
    progress = {"done": 0, "total": outcome_of(asked).candidate_total, "enclosures_done": 0, "enclosures_total": 3}
    assert record["progress"] == progress
    assert (record["created_at"], record["finished_at"]) == ("2031-06-01T12:00:00Z", None)


def test_once_it_is_done_all_is_there_under_the_same_names(asked, broker):
    before = told(asked, 1)
    broker.work(lambda: at(7))
    after = told(asked, 8)
    assert before.keys() == after.keys()
    assert after["brief"] == {"title": "Mine"} and after["title"] == "Mine"
    assert after["shortlist"] and after["counts"]["considered"] == after["progress"]["total"]
    assert (after["status"], after["finished_at"]) == ("done", "2031-06-01T12:00:07Z")


def test_titles_are_each_sender_s_own(asked, broker):
    other = ask(title="Theirs")
    broker.work(lambda: at(1))
    assert (told(asked, 2)["title"], told(other, 2)["title"]) == ("Mine", "Theirs")


def test_an_answer_from_store_was_there_at_once(asked, broker):
    broker.work(lambda: at(1))
    assert told(ask(at(60)), 61)["finished_at"] == "2031-06-01T12:01:00Z"


def test_a_failure_is_told(asked):
    stop(outcome_of(asked), State.FAILED, at(1), "Enclosure mesh_tower: residual 3")
    record = told(asked, 2)
    assert (record["status"], record["failure"]) == ("failed", "Enclosure mesh_tower: residual 3")


def test_a_cancelled_study_says_when(asked):
    cancel_study(asked, at(3))
    record = told(asked, 4)
    assert (record["status"], record["finished_at"], record["failure"]) == ("cancelled", "2031-06-01T12:00:03Z", None)


def test_it_is_plain_json(asked, broker):
    broker.work(lambda: at(1))
    record = told(asked, 2)
    assert json.loads(json.dumps(record, allow_nan=False)) == record
