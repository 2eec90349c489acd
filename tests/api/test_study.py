"""GET studies/{id}/: how far a study is, and what was found."""

import json

import pytest
from jsonschema import Draft202012Validator
from jsonschema.validators import validator_for

from advisor.models import Outcome, State
from api.schema.document import document
from tests.api.studying import BRIEF, STUDIES, submit, work
from tests.api.test_root import problem_of

pytestmark = pytest.mark.usefixtures("small_catalogue")
NONE = STUDIES + "00000000-0000-4000-8000-000000000000/"


def validator(name):
    schema = {"$ref": f"#/components/schemas/{name}", "components": document()["components"]}
    assert validator_for(schema, Draft202012Validator)
    return Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)


@pytest.fixture
def address(guest):
    return submit(guest).json()["url"]


def test_it_waits_at_first(guest, address):
    answer = guest.get(address)
    body = answer.json()
    assert answer.status_code == 200 and answer["Retry-After"] == "2"
    assert body["status"] == "queued" and body["progress"]["done"] == 0 < body["progress"]["total"]
    assert all(body[name] is None for name in ("counts", "shortlist", "nearest_misses", "failure"))
    validator("Study").validate(body)


@pytest.mark.slow
def test_it_tells_what_was_found(guest, address):
    work()
    answer = guest.get(address)
    body = answer.json()
    validator("Study").validate(body)
    assert body["status"] == "done" and "Retry-After" not in answer
    assert body["progress"]["done"] == body["progress"]["total"] == body["counts"]["considered"]
    assert body["shortlist"] and body["shortlist"][0]["url"] == f"{address}#{body['shortlist'][0]['id']}"
    assert len(body["catalog_hash"]) == 64 and body["model_version"]


@pytest.mark.slow
def test_answer_in_store_is_there_at_once(guest, member):
    submit(guest)
    work()
    answer = submit(member)
    assert answer.status_code == 202 and answer.json()["status"] == "done" and answer.json()["shortlist"]


def test_failure_is_told(guest, address):
    Outcome.objects.update(state=State.FAILED, failure="It could not be computed.")
    body = guest.get(address).json()
    assert (body["status"], body["failure"], body["shortlist"]) == ("failed", "It could not be computed.", None)
    validator("Study").validate(body)


def test_unchanged_study_is_not_sent_again(guest, address):
    tag = guest.get(address)["ETag"]
    assert guest.get(address, headers={"if-none-match": tag}).status_code == 304
    Outcome.objects.update(state=State.FAILED, failure="It could not be computed.")
    assert guest.get(address, headers={"if-none-match": tag}).status_code == 200


def test_guests_study_is_open_to_whoever_holds_its_address(guest, member, address):
    assert member.get(address).json()["id"] == guest.get(address).json()["id"]


@pytest.mark.parametrize("who", ["guest", "other"])
@pytest.mark.parametrize(("method", "more"), [("get", ""), ("post", "cancel/")])
def test_members_study_looks_like_none_to_others(request, member, who, method, more):
    client, address = request.getfixturevalue(who), submit(member).json()["url"]
    theirs, none = (getattr(client, method)(one + more) for one in (address, NONE))
    assert theirs.status_code == none.status_code == 404
    assert theirs.content.replace(path(address).encode(), path(NONE).encode()) == none.content
    assert member.get(address).json()["status"] == "queued"


def path(address):
    return address.removeprefix("http://testserver")


@pytest.mark.parametrize("id", ["1", "not-a-uuid", "9b0e7a52-6c1f-4d38-a5e4-2f7c80d1b39", "%00", "x" * 2000])
def test_id_of_another_form_looks_like_none(guest, id):
    assert problem_of(guest.get(f"{STUDIES}{id}/"), 404)["detail"] == problem_of(guest.get(NONE), 404)["detail"]


class TestCancel:
    def test_it_is_cancelled(self, guest, address):
        answer = guest.post(address + "cancel/")
        assert (answer.status_code, answer.json()["status"]) == (200, "cancelled")
        validator("Study").validate(answer.json())
        assert guest.get(address).json()["status"] == "cancelled"

    def test_it_may_be_sent_twice(self, guest, address):
        first, second = (guest.post(address + "cancel/") for _ in range(2))
        assert first.json() == second.json() and second.status_code == 200

    @pytest.mark.slow
    def test_finished_study_stays_as_it_is(self, guest, address):
        work()
        assert guest.post(address + "cancel/").json()["status"] == "done"

    def test_another_who_asked_the_same_still_waits(self, guest, member, address):
        mine = submit(member).json()["url"]
        guest.post(address + "cancel/")
        assert member.get(mine).json()["status"] == "queued"

    def test_it_takes_no_body(self, guest, address):
        (problem,) = problem_of(guest.post(address + "cancel/", {"why": "late"}), 422)["problems"]
        assert problem["accepted"] == "no body"

    def test_empty_object_is_no_body(self, guest, address):
        assert guest.post(address + "cancel/", {}).status_code == 200


def test_brief_is_shown_as_it_was_sent(guest):
    brief = BRIEF | {"title": " Shelf ", "weights": {"noise": 5}, "budget": None}
    assert guest.get(submit(guest, brief).json()["url"]).json()["brief"] == json.loads(json.dumps(brief))
