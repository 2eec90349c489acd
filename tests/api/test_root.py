"""The start of the interface, and what every endpoint does alike."""

import json

import pytest

from api.errors import CONTENT_TYPE

ROOT = "/api/v1/"
MEMBERS = ["type", "title", "status", "detail", "instance", "problems"]


def problem_of(answer, status):
    assert answer.status_code == status and answer["Content-Type"] == CONTENT_TYPE
    body = json.loads(answer.content)
    assert list(body) == MEMBERS and body["status"] == status
    return body


def test_it_lists_addresses_that_answer(guest):
    answer = guest.get(ROOT)
    assert answer.status_code == 200
    assert all(address.startswith("http://testserver/api/v1/") for address in answer.json().values())


def test_wrong_method_names_those_that_work(guest):
    answer = guest.post(ROOT)
    (problem,) = problem_of(answer, 405)["problems"]
    assert problem == {
        "field": "method",
        "value": "'POST'",
        "accepted": "GET, HEAD, OPTIONS",
        "message": "method: 'POST' cannot be done here; accepted: GET, HEAD, OPTIONS.",
    }
    assert answer["Allow"] == "GET, HEAD, OPTIONS"


@pytest.mark.parametrize("address", ["/api/", "/api/v1", "/api/v1/nothing/", "/api/v1/%00/", "/api/v1/a/b/c/d/"])
def test_unknown_address_is_told_in_the_same_shape(guest, address):
    assert problem_of(guest.get(address), 404)["problems"] == []


def test_unknown_query_parameter_is_refused(guest):
    (problem,) = problem_of(guest.get(ROOT + "?colour=red"), 422)["problems"]
    assert (problem["field"], problem["value"]) == ("colour", "'red'")


def test_form_of_answer_that_does_not_exist_is_refused(guest):
    (problem,) = problem_of(guest.get(ROOT, headers={"accept": "image/png"}), 406)["problems"]
    assert problem["field"] == "Accept" and "application/json" in problem["accepted"]


def test_host_that_is_not_ours_is_refused(guest):
    problem_of(guest.get(ROOT, headers={"host": "elsewhere.example"}), 400)


def test_fault_of_ours_is_told_in_the_same_shape(guest, monkeypatch):
    monkeypatch.setattr("api.views.root.reverse", lambda *args, **kwargs: 1 / 0)
    monkeypatch.setattr("api.views.root.LISTED", (("any", "root"),))
    body = problem_of(guest.get(ROOT), 500)
    assert "ZeroDivisionError" not in json.dumps(body)


def test_page_for_people_is_there_too(guest):
    answer = guest.get(ROOT, headers={"accept": "text/html"})
    assert answer.status_code == 200 and answer["Content-Type"].startswith("text/html")
    assert not answer.has_header("ETag")


def test_answer_known_already_is_not_sent_again(guest):
    first = guest.get(ROOT)
    again = guest.get(ROOT, headers={"if-none-match": first["ETag"]})
    assert (again.status_code, again.content, again["ETag"]) == (304, b"", first["ETag"])
    assert "Accept" in again["Vary"]


@pytest.mark.parametrize("tags", ['"other"', '"a", W/"b"'])
def test_answer_of_another_version_is_sent(guest, tags):
    assert guest.get(ROOT, headers={"if-none-match": tags}).status_code == 200


@pytest.mark.parametrize("tags", ["W/", "abc", '"a" "b"', '"a', ""])
def test_tags_that_cannot_be_read_are_refused(guest, tags):
    (problem,) = problem_of(guest.get(ROOT, headers={"if-none-match": tags}), 400)["problems"]
    assert problem["field"] == "If-None-Match"


def test_options_says_what_can_be_done(guest):
    answer = guest.options(ROOT)
    assert (answer.status_code, answer["Allow"]) == (204, "GET, HEAD, OPTIONS")
