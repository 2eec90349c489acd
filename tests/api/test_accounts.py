"""Opening an account, and looking at one's own."""

import pytest
from django.contrib.auth import get_user_model

from tests.api.test_root import problem_of

ACCOUNTS, ME = "/api/v1/accounts/", "/api/v1/accounts/me/"
GOOD = {"username": "mara.field", "password": "warm-lemon-kettle"}


@pytest.mark.django_db
def test_it_opens_an_account(guest):
    answer = guest.post(ACCOUNTS, GOOD)
    assert answer.status_code == 201 and answer["Location"] == "http://testserver" + ME
    assert answer.json().items() >= {"username": "mara.field", "role": "member"}.items()
    assert get_user_model().objects.get().check_password(GOOD["password"])


@pytest.mark.django_db
def test_two_accounts_have_different_prefixes(guest):
    first, second = (guest.post(ACCOUNTS, GOOD | {"username": name}).json()["own_prefix"] for name in ("one", "two"))
    assert first != second and first.startswith("own-") and len(first) == len("own-k3v7q2xa-")


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"username": "Mara"}, "username"),
        ({"username": "ma"}, "username"),
        ({"username": "mara\n"}, "username"),
        ({"username": "m" * 61}, "username"),
        ({"username": 12345}, "username"),
        ({"username": None}, "username"),
        ({"password": "short"}, "password"),
        ({"password": "password"}, "password"),
        ({"password": "mara.field"}, "password"),
        ({"password": "x" * 129}, "password"),
        ({"colour": "red"}, "colour"),
    ],
    ids=str,
)
def test_it_refuses(guest, change, field):
    (problem,) = problem_of(guest.post(ACCOUNTS, GOOD | change), 422)["problems"]
    assert problem["field"] == field and problem["accepted"] in problem["message"]
    assert not get_user_model().objects.exists()


@pytest.mark.django_db
def test_it_never_repeats_a_password(guest):
    answer = guest.post(ACCOUNTS, GOOD | {"password": "mara.field"})
    assert problem_of(answer, 422)["problems"][0]["value"] == ""


@pytest.mark.django_db
def test_missing_fields_are_all_named(guest):
    fields = [problem["field"] for problem in problem_of(guest.post(ACCOUNTS, {}), 422)["problems"]]
    assert fields == ["username", "password"]


def test_name_that_somebody_has_is_refused(guest, member):
    (problem,) = problem_of(guest.post(ACCOUNTS, GOOD | {"username": "mara"}), 422)["problems"]
    assert problem["field"] == "username"
    assert get_user_model().objects.count() == 1


@pytest.mark.django_db
def test_one_address_opens_few_accounts(guest, settings):
    settings.RATES = settings.RATES | {"sign_up": {"guest": "1/hour", "member": "1/hour"}}
    guest.post(ACCOUNTS, GOOD)
    answer = guest.post(ACCOUNTS, GOOD | {"username": "next"})
    problem_of(answer, 429)
    assert 0 < int(answer["Retry-After"]) <= 3600


def test_it_tells_who_asks(member):
    assert member.get(ME).json().items() >= {"username": "mara", "role": "member"}.items()


def test_guests_are_asked_to_sign_in(guest):
    answer = guest.get(ME)
    problem_of(answer, 401)
    assert answer["WWW-Authenticate"].startswith("Bearer")
