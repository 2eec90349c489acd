"""GET studies/{id}/front/: what there is to choose from, beside the list."""

import pytest

from advisor.models import Outcome
from tests.advisor.asking import ask
from tests.api.studying import STUDIES, submit, work
from tests.api.test_root import problem_of
from tests.api.test_study import NONE, validator

CODES = ("enclosure", "intake", "exhaust", "cooler", "supply", "drive")


@pytest.fixture
def address(guest, small_catalogue):
    return submit(guest).json()["url"] + "front/"


def test_nothing_is_known_before_the_study_is_done(guest, address):
    body = guest.get(address).json()
    validator("Front").validate(body)
    assert body.pop("study") == address.removesuffix("front/") and body.pop("status") == "queued"
    assert set(body.values()) == {None}


@pytest.fixture
def done(db):
    """The address of a study of three invented enclosures that is done."""
    study = ask()
    work()
    return f"{STUDIES}{study.pk}/"


@pytest.mark.slow
def test_builds_are_told_by_columns_of_one_length(guest, done):
    body, study = guest.get(done + "front/").json(), guest.get(done).json()
    validator("Front").validate(body)
    columns = body["columns"]
    assert {len(column) for column in columns.values()} == {len(columns["noise_dba"])} and len(columns["price"]) > 2
    assert columns["noise_dba"] == sorted(columns["noise_dba"])
    assert (body["accepted"], body["pruned"]) == (study["counts"]["accepted"], study["counts"]["pruned"])
    assert f"list: {body['pruned']};" in body["note"] and body["left_out"] == 0
    best = study["shortlist"][0]
    ids = ["~".join(codes) for codes in zip(*(columns[name] for name in CODES), strict=True)]
    row = ids.index(best["id"])
    assert columns["price"][row] == best["price"]
    assert columns["spare_places"][row] == best["spare_places"]


@pytest.mark.slow
def test_a_study_answered_without_one_has_none(guest, done):
    Outcome.objects.update(front=None)
    body = guest.get(done + "front/").json()
    validator("Front").validate(body)
    assert (body["status"], body["columns"]) == ("done", None)


@pytest.mark.slow
def test_it_takes_few_queries_and_is_not_sent_again(guest, done, django_assert_max_num_queries):
    first = guest.get(done + "front/")
    with django_assert_max_num_queries(3):
        again = guest.get(done + "front/", headers={"if-none-match": first["ETag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_another_s_study_looks_like_none(member, other, small_catalogue):
    theirs = submit(other).json()["url"] + "front/"
    assert problem_of(member.get(theirs), 404)["detail"] == problem_of(member.get(NONE + "front/"), 404)["detail"]
    assert other.get(theirs).status_code == 200
