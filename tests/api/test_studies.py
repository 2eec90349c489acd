"""POST studies/: putting a brief."""

import json
import uuid

import pytest

from advisor.brief import FIELDS
from advisor.models import Outcome, Study
from tests.api.studying import BRIEF, STUDIES, submit
from tests.api.test_root import problem_of

pytestmark = pytest.mark.usefixtures("small_catalogue")


def test_brief_is_accepted(guest):
    answer = submit(guest, BRIEF | {"title": "Shelf"})
    body = answer.json()
    assert answer.status_code == 202 and answer["Location"] == body["url"]
    assert body.items() >= {"status": "queued", "title": "Shelf", "counts": None, "shortlist": None}.items()
    assert body["brief"] == BRIEF | {"title": "Shelf"} and int(answer["Retry-After"]) >= 1


def test_id_is_all_random(guest):
    first, second = (uuid.UUID(submit(guest).json()["id"]).int for _ in range(2))
    assert 30 < (first ^ second).bit_count() < 98


def test_study_is_its_senders(guest, member):
    submit(member)
    submit(guest)
    mine, theirs = Study.objects.order_by("owner")
    owners = {mine.owner, theirs.owner}
    assert owners == {None, member.user}


def test_address_of_a_guest_is_not_kept(guest):
    submit(guest)
    assert len(Study.objects.get().guest) == 64 and "127.0.0.1" not in str(Study.objects.values().get())


def test_same_question_is_answered_once(guest, member):
    assert submit(member).json()["id"] != submit(guest).json()["id"]
    assert Outcome.objects.count() == 1


def test_warnings_come_along(guest):
    warnings = submit(guest, BRIEF | {"noise_target_dba": 20}).json()["warnings"]
    assert "noise_target_dba" in [one["field"] for one in warnings] and all(one["message"] for one in warnings)


def test_every_problem_is_told(guest):
    brief = {"processor_watts": -5, "board_form": "tower", "colour": "red", "title": "a\nb"}
    problems = problem_of(submit(guest, brief), 422)["problems"]
    fields = [one["field"] for one in problems]
    assert sorted(fields) == ["board_form", "colour", "drive_count", "noise_target_dba", "processor_watts", "title"]
    (watts,) = [one for one in problems if one["field"] == "processor_watts"]
    assert watts["value"] == "-5" and watts["accepted"] == "a number from 1 to 1000 W"
    assert not Study.objects.exists()


@pytest.mark.parametrize("brief", [[], None, 3, "x", [BRIEF]], ids=str)
def test_body_that_is_no_brief_is_refused(guest, brief):
    answer = guest.generic("POST", STUDIES, json.dumps(brief), content_type="application/json")
    assert problem_of(answer, 422)["problems"][0]["field"] == ""


NAMES = ("object", "nested array", "bidi", "huge", "null in array", "nested object")


@pytest.mark.parametrize("value", [{}, [[]], "\u202e", 10**400, [None], {"noise": {}}], ids=NAMES)
def test_any_value_of_any_field_is_taken_or_refused(guest, value, settings):
    settings.RATES = settings.RATES | {"study": {"guest": "1000/hour", "member": "1000/hour"}}
    for field in FIELDS:
        status = submit(guest, BRIEF | {field.name: value}).status_code
        assert status == 422 or (status == 202 and (field.name, value) == ("weights", {})), field.name


def test_part_that_is_not_there_is_refused(guest):
    (problem,) = problem_of(submit(guest, BRIEF | {"excluded_parts": ["no-such-part"]}), 422)["problems"]
    assert problem["field"] == "excluded_parts" and "no-such-part" in problem["message"]


def test_too_many_candidates_are_refused(guest, settings):
    settings.STUDY_MOST_CANDIDATES = 1
    (problem,) = problem_of(submit(guest), 422)["problems"]
    assert problem["field"] == "required_parts" and "at most 1" in problem["accepted"]


class TestIdempotencyKey:
    def test_same_key_and_brief_give_the_same_study(self, guest):
        first, again = (submit(guest, idempotency_key="k-1") for _ in range(2))
        assert (first.status_code, again.status_code) == (202, 202)
        assert first.json()["id"] == again.json()["id"] and Study.objects.count() == 1

    def test_same_key_and_another_brief_are_refused(self, guest):
        submit(guest, idempotency_key="k-1")
        answer = submit(guest, BRIEF | {"drive_count": 1}, idempotency_key="k-1")
        (problem,) = problem_of(answer, 422)["problems"]
        assert (problem["field"], problem["value"]) == ("Idempotency-Key", "'k-1'")

    def test_keys_of_two_people_are_their_own(self, guest, member, other):
        ids = {submit(client, idempotency_key="k-1").json()["id"] for client in (guest, member, other)}
        assert len(ids) == 3

    def test_keys_of_two_addresses_are_their_own(self, guest):
        first = guest.post(STUDIES, BRIEF, headers={"idempotency-key": "k"}, REMOTE_ADDR="192.0.2.1").json()["id"]
        second = guest.post(STUDIES, BRIEF, headers={"idempotency-key": "k"}, REMOTE_ADDR="192.0.2.2").json()["id"]
        assert first != second

    @pytest.mark.parametrize("key", ["", "a b", "x" * 201, "\xe9", "a\tb"])
    def test_key_that_is_none_is_refused(self, guest, key):
        (problem,) = problem_of(submit(guest, idempotency_key=key), 400)["problems"]
        assert problem["field"] == "Idempotency-Key" and "200" in problem["accepted"]
        assert not Study.objects.exists()


class TestAllowance:
    @pytest.fixture(autouse=True)
    def two(self, settings):
        settings.UNFINISHED_STUDIES = {"guest": 2, "member": 2}

    def test_nobody_has_more_than_so_many_unfinished(self, member):
        submit(member), submit(member)
        answer = submit(member)
        assert "2 unfinished" in problem_of(answer, 429)["detail"] and answer["Retry-After"]

    def test_guests_count_by_address(self, guest):
        submit(guest), submit(guest)
        problem_of(submit(guest), 429)
        assert guest.post(STUDIES, BRIEF, REMOTE_ADDR="192.0.2.9").status_code == 202

    def test_cancelled_ones_do_not_count(self, member):
        address = submit(member).json()["url"]
        submit(member)
        member.post(address + "cancel/")
        assert submit(member).status_code == 202

    def test_one_sent_again_does_not_count(self, member):
        submit(member, idempotency_key="a"), submit(member)
        assert submit(member, idempotency_key="a").status_code == 202


def test_briefs_are_counted_by_the_hour(guest, settings):
    settings.RATES = settings.RATES | {"study": {"guest": "1/hour", "member": "1/hour"}}
    assert submit(guest).status_code == 202
    assert int(problem_of(submit(guest), 429) and submit(guest)["Retry-After"]) > 1


class TestList:
    def test_it_shows_ones_own_newest_first(self, member, other, guest):
        for client, title in ((member, "a"), (other, "b"), (guest, "c"), (member, "d")):
            submit(client, BRIEF | {"title": title})
        results = member.get(STUDIES).json()["results"]
        assert [one["title"] for one in results] == ["d", "a"]
        assert results[0].keys() == {"id", "url", "status", "title", "created_at"}

    def test_guests_have_none(self, guest):
        problem_of(guest.get(STUDIES), 401)

    def test_it_goes_page_by_page(self, member):
        for number in range(5):
            submit(member, BRIEF | {"title": str(number)})
        first = member.get(STUDIES + "?page_size=2").json()
        second = member.get(first["next"]).json()
        third = member.get(second["next"]).json()
        titles = [one["title"] for page in (first, second, third) for one in page["results"]]
        assert titles == ["4", "3", "2", "1", "0"] and third["next"] is None

    def test_queries_do_not_grow_with_it(self, member, django_assert_num_queries):
        submit(member)
        member.get(STUDIES)
        with django_assert_num_queries(4):
            member.get(STUDIES)
        for _ in range(4):
            submit(member)
        with django_assert_num_queries(4):
            assert len(member.get(STUDIES).json()["results"]) == 5
