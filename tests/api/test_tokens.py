"""The tokens of one's programs."""

from datetime import UTC, datetime, timedelta

import pytest

from advisor.models import ApiToken
from tests.api.test_root import problem_of

TOKENS, ME = "/api/v1/tokens/", "/api/v1/accounts/me/"


@pytest.fixture
def token(member):
    return member.post(TOKENS, {"name": "laptop"}).json()


def bearing(token):
    return {"authorization": f"Bearer {token}"}


def test_it_makes_a_token_that_signs_in(token, guest):
    assert guest.get(ME, headers=bearing(token["token"])).json()["username"] == "mara"


def test_its_text_is_shown_once_and_kept_nowhere(member, token):
    assert "token" not in member.get(token["url"]).json()
    assert token["token"] not in str(ApiToken.objects.values_list().get())
    assert len(token["token"]) == 43 and token["token"].startswith(token["prefix"])


def test_it_lives_for_the_days_asked_for(member):
    answer = member.post(TOKENS, {"name": "short", "expires_in_days": 2})
    assert answer["Location"] == answer.json()["url"]
    made = ApiToken.objects.get()
    assert made.expires_at - made.created_at == timedelta(days=2)


def test_token_made_by_a_token_lives_no_longer(guest, token):
    guest.post(TOKENS, {"name": "child", "expires_in_days": 365}, headers=bearing(token["token"]))
    first, second = ApiToken.objects.order_by("pk")
    assert second.expires_at == first.expires_at


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({}, "name"),
        ({"name": ""}, "name"),
        ({"name": "x" * 61}, "name"),
        ({"name": "a", "expires_in_days": 0}, "expires_in_days"),
        ({"name": "a", "expires_in_days": 366}, "expires_in_days"),
        ({"name": "a", "expires_in_days": 1.5}, "expires_in_days"),
        ({"name": "a", "expires_in_days": True}, "expires_in_days"),
        ({"name": "a", "expires_in_days": "9"}, "expires_in_days"),
        ({"name": "a", "days": 9}, "days"),
    ],
    ids=str,
)
def test_it_refuses(member, body, field):
    assert [problem["field"] for problem in problem_of(member.post(TOKENS, body), 422)["problems"]] == [field]


@pytest.mark.parametrize("header", ["Bearer", "Bearer x", "Basic bWFyYTpw", "Bearer a b", "token", "", "Bearer é"])
def test_header_that_names_nobody_is_refused(guest, db, header):
    answer = guest.get("/api/v1/", headers={"authorization": header})
    (problem,) = problem_of(answer, 401)["problems"]
    assert problem["field"] == "Authorization" and answer["WWW-Authenticate"].startswith("Bearer")


def test_expired_token_names_nobody(guest, token):
    past = datetime(2020, 1, 1, tzinfo=UTC)
    ApiToken.objects.update(created_at=past, expires_at=past + timedelta(days=1))
    problem_of(guest.get(ME, headers=bearing(token["token"])), 401)


def test_token_of_a_closed_account_names_nobody(guest, member, token):
    member.user.is_active = False
    member.user.save()
    problem_of(guest.get(ME, headers=bearing(token["token"])), 401)


def test_token_that_was_deleted_names_nobody(guest, member, token):
    assert member.delete(token["url"]).status_code == 204
    problem_of(guest.get(ME, headers=bearing(token["token"])), 401)


def test_it_lists_ones_own_only(member, other, token):
    other.post(TOKENS, {"name": "theirs"})
    assert [one["name"] for one in member.get(TOKENS).json()["results"]] == ["laptop"]


@pytest.mark.parametrize("method", ["get", "delete"])
def test_anothers_token_looks_like_none(other, token, method):
    theirs, none = getattr(other, method)(token["url"]), getattr(other, method)(TOKENS + "AAAAAAAA/")
    assert theirs.content.replace(token["prefix"].encode(), b"AAAAAAAA") == none.content
    assert theirs.status_code == none.status_code == 404 and ApiToken.objects.count() == 1


def test_use_is_noted_to_the_hour(guest, token):
    guest.get(ME, headers=bearing(token["token"]))
    noted = ApiToken.objects.get().last_used_at
    assert noted is not None
    guest.get(ME, headers=bearing(token["token"]))
    assert ApiToken.objects.get().last_used_at == noted


def test_nobody_has_more_than_twenty(member):
    for number in range(20):
        assert member.post(TOKENS, {"name": f"number {number}"}).status_code == 201
    assert "Delete one first" in problem_of(member.post(TOKENS, {"name": "one more"}), 409)["detail"]


def test_list_takes_as_many_queries_for_twenty_as_for_one(member, token, django_assert_num_queries):
    with django_assert_num_queries(4):
        member.get(TOKENS)
    for number in range(19):
        member.post(TOKENS, {"name": f"number {number}"})
    with django_assert_num_queries(4):
        assert len(member.get(TOKENS).json()["results"]) == 20
