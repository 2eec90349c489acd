"""Signing in and out with a browser's session."""

import pytest
from rest_framework.test import APIClient

from tests.api.test_root import problem_of

SESSION, ME = "/api/v1/session/", "/api/v1/accounts/me/"
RIGHT = {"username": "mara", "password": "warm-lemon-kettle"}


@pytest.fixture
def browser(django_user_model, db):
    django_user_model.objects.create_user("mara", password="warm-lemon-kettle")
    return APIClient(enforce_csrf_checks=True, raise_request_exception=False)


def test_it_signs_in(browser):
    assert browser.post(SESSION, RIGHT).json()["username"] == "mara"
    assert browser.get(ME).status_code == 200


@pytest.mark.parametrize("change", [{"password": "wrong"}, {"username": "nobody"}])
def test_wrong_name_and_wrong_password_look_alike(browser, change):
    body = problem_of(browser.post(SESSION, RIGHT | change), 401)
    assert body["detail"] == "No account has this name and this password. Check both, or open an account first."
    assert body["problems"] == []


def test_closed_account_looks_like_a_wrong_password(browser, django_user_model):
    django_user_model.objects.update(is_active=False)
    problem_of(browser.post(SESSION, RIGHT), 401)


def test_unknown_name_costs_a_hash_too(browser, monkeypatch):
    hashed = []
    monkeypatch.setattr(
        "django.contrib.auth.hashers.MD5PasswordHasher.encode", lambda self, *given: hashed.append(given) or "md5$a$b"
    )
    browser.post(SESSION, RIGHT | {"username": "nobody"})
    assert len(hashed) == 1


def test_guessing_is_slowed_down(browser):
    for _ in range(10):
        problem_of(browser.post(SESSION, RIGHT | {"password": "wrong"}), 401)
    assert problem_of(browser.post(SESSION, RIGHT), 429)["problems"] == []


def test_change_needs_proof_that_our_page_sent_it(browser):
    browser.post(SESSION, RIGHT)
    (problem,) = problem_of(browser.delete(SESSION), 403)["problems"]
    assert problem["field"] == "X-CSRFToken"
    assert browser.get(ME).status_code == 200


def test_it_signs_out(browser):
    browser.post(SESSION, RIGHT)
    proof = {"x-csrftoken": browser.cookies["csrftoken"].value}
    assert browser.delete(SESSION, headers=proof).status_code == 204
    assert browser.get(ME).status_code == 401


def test_guest_has_no_session_to_end(guest):
    problem_of(guest.delete(SESSION), 401)
