"""Signing up, in and out; one's own account and tokens."""

import pytest
from django.contrib.auth.models import User
from django.test import Client

from advisor.models import ApiToken
from tests.frontend.pages import HOSTILE, Form, queries

PASSWORD = "warm-lemon-kettle"


def name_of(client):
    return client.session.get("_auth_user_id")


class TestSignUp:
    def test_it_opens_an_account_and_signs_in(self, guest):
        answer = guest.post("/sign-up/", {"username": "mara.field", "password": PASSWORD}, follow=True)
        assert answer.redirect_chain == [("/", 302)] and "Welcome, mara.field" in Form(answer).text
        assert name_of(guest) == str(User.objects.get(username="mara.field").pk)

    @pytest.mark.parametrize("name", ["ab", "Mara", "a" * 61, ".mara", "mara\n", "m ara", HOSTILE])
    def test_name_of_another_form_is_refused(self, guest, name):
        answer = guest.post("/sign-up/", {"username": name, "password": PASSWORD})
        if name.strip() == "mara":
            assert answer.status_code == 302
        else:
            assert answer.status_code == 200 and Form(answer)["username"] == name and not User.objects.exists()

    def test_name_that_somebody_has_is_refused(self, guest, member):
        answer = guest.post("/sign-up/", {"username": "mara", "password": PASSWORD})
        assert answer.status_code == 200 and "Somebody has this name" in Form(answer).text

    @pytest.mark.parametrize("password", ["short", "password", "12345678", "x" * 129, "mara.field"])
    def test_weak_password_is_refused_and_not_repeated(self, guest, password):
        answer = guest.post("/sign-up/", {"username": "mara.field", "password": password})
        assert answer.status_code == 200 and 'name="password" value' not in answer.content.decode()
        assert "easy to guess" in Form(answer).text or "accepted: 8 to 128" in Form(answer).text

    def test_too_many_are_told_when_to_try_again(self, guest, settings):
        settings.RATES = settings.RATES | {"sign_up": {"guest": "1/hour", "member": "1/hour"}}
        guest.post("/sign-up/", {"username": "x", "password": "y"})
        answer = guest.post("/sign-up/", {"username": "mara.field", "password": PASSWORD})
        assert answer.status_code == 429 and Form(answer)["username"] == "mara.field" and not User.objects.exists()


class TestSignIn:
    def test_it_leads_to_where_one_was_going(self, guest, member):
        answer = guest.post("/sign-in/", {"username": "mara", "password": PASSWORD, "next": "/studies/"})
        assert answer.url == "/studies/" and name_of(guest) == str(member.user.pk)

    @pytest.mark.parametrize("to", ["https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)"])
    def test_it_leads_nowhere_else(self, guest, member, to):
        assert guest.post("/sign-in/", {"username": "mara", "password": PASSWORD, "next": to}).url == "/"

    @pytest.mark.parametrize(("name", "password"), [("mara", "wrong"), ("nobody", PASSWORD), (HOSTILE, HOSTILE)])
    def test_which_of_the_two_is_wrong_is_not_told(self, guest, member, name, password):
        answer = guest.post("/sign-in/", {"username": name, "password": password})
        assert answer.status_code == 200 and "No account has this name and this password" in Form(answer).text
        assert Form(answer)["username"] == name and "<script>alert" not in answer.content.decode()

    def test_attempts_count_with_those_of_the_interface(self, guest, member, settings):
        settings.RATES = settings.RATES | {"sign_in": {"guest": "1/minute", "member": "1/minute"}}
        guest.post("/api/v1/session/", {"username": "a", "password": "b"}, content_type="application/json")
        answer = guest.post("/sign-in/", {"username": "mara", "password": PASSWORD})
        assert answer.status_code == 429 and answer["Retry-After"] and name_of(guest) is None


def test_signing_out_needs_a_post(member):
    assert member.get("/sign-out/").status_code == 405
    assert "You are signed out" in Form(member.post("/sign-out/", follow=True)).text and name_of(member) is None


def test_old_proof_is_told_on_any_form(db):
    answer = Client(enforce_csrf_checks=True).post("/sign-in/", {"username": "mara", "password": PASSWORD})
    assert answer.status_code == 403 and "This form had grown old" in Form(answer).text


class TestAccount:
    def test_it_is_ones_own(self, member, guest):
        text = Form(member.get("/account/")).text
        assert "mara" in text and "own-" in text
        assert guest.get("/account/").url == "/sign-in/?next=/account/"

    def test_token_is_shown_once_and_works(self, member, guest):
        answer = member.post("/account/", {"name": "laptop", "days": "30"})
        token = ApiToken.objects.get()
        (text,) = [word for word in Form(answer).text.split() if word.startswith(token.prefix) and len(word) == 43]
        assert (
            guest.get("/api/v1/accounts/me/", headers={"authorization": f"Bearer {text}"}).json()["username"] == "mara"
        )
        assert text not in member.get("/account/").content.decode() and "no-store" in answer["Cache-Control"]

    @pytest.mark.parametrize("days", ["0", "366", "x", "-1", "1.5", "٣", "9" * 500])
    def test_days_out_of_range_are_refused(self, member, days):
        answer = member.post("/account/", {"name": "laptop", "days": days})
        assert answer.status_code == 200 and Form(answer)["days"] == days and not ApiToken.objects.exists()

    @pytest.mark.parametrize("name", ["", "x" * 61, HOSTILE])
    def test_name_that_cannot_be_is_refused(self, member, name):
        answer = member.post("/account/", {"name": name, "days": "1"})
        assert answer.status_code == 200 and "<script>alert" not in answer.content.decode()

    def test_more_than_so_many_are_refused(self, member, monkeypatch):
        monkeypatch.setattr("advisor.accounts.MOST_TOKENS", 1)
        member.post("/account/", {"name": "a", "days": "1"})
        answer = member.post("/account/", {"name": "b", "days": "1"})
        assert answer.status_code == 409 and Form(answer)["name"] == "b" and ApiToken.objects.count() == 1

    def test_deleted_token_is_gone(self, member):
        member.post("/account/", {"name": "a", "days": "1"})
        answer = member.post(f"/account/tokens/{ApiToken.objects.get().prefix}/delete/", follow=True)
        assert "works no longer" in Form(answer).text and not ApiToken.objects.exists()

    def test_anothers_token_is_not_found(self, member, other):
        member.post("/account/", {"name": "a", "days": "1"})
        assert other.post(f"/account/tokens/{ApiToken.objects.get().prefix}/delete/").status_code == 404
        assert ApiToken.objects.exists()

    def test_queries_do_not_grow(self, member):
        member.post("/account/", {"name": "a", "days": "1"})
        before = queries(member, "/account/")
        for name in "bcd":
            member.post("/account/", {"name": name, "days": "1"})
        assert queries(member, "/account/") == before <= 6
