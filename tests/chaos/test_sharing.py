"""Over HTTP, in mid-study: two people with one question, and a curator who edits a part that they are shown."""

import json
import zlib
from datetime import timedelta

import pytest
from django.contrib.auth.models import Group, User
from django.utils import timezone

from advisor.accounts import issue_token, sign_up
from advisor.models import Chunk, Outcome, Study
from advisor.project import processes
from tests.chaos.machines import in_mid_study
from tests.chaos.test_kills import WITHIN_S, given, wanted

PASSWORD = "a-long-walk-by-the-harbour-9"


def person(name):
    """Open an account, and return the header of its token."""
    now = timezone.now()
    user = sign_up(username=name, password=PASSWORD, now=now)
    _, text = issue_token(owner=user, name="test", expires_at=now + timedelta(days=1), now=now)
    return {"Authorization": f"Bearer {text}"}


def curator():
    header = person("curator")
    User.objects.get(username="curator").groups.add(Group.objects.get(name="curator"))
    return header


@pytest.fixture
def served(home):
    wanted()
    return home.serve()


def wait_for_mid_study(outcome):
    assert processes.wait_until(lambda: in_mid_study(outcome), WITHIN_S), outcome


def test_one_of_two_cancels_and_the_other_is_answered(home, served):
    mine, theirs = person("one"), person("other")
    my_study, their_study = (home.ask("POST", "studies/", given(), **who)["url"] for who in (mine, theirs))
    outcome = Outcome.objects.get()
    wait_for_mid_study(outcome)
    assert home.ask("POST", f"{my_study}cancel/", **mine)["status"] == "cancelled"
    assert Outcome.objects.get().is_unfinished
    assert processes.wait_until(lambda: home.ask("GET", their_study, **theirs)["status"] == "done", WITHIN_S)
    assert home.ask("GET", my_study, **mine)["status"] == "cancelled"
    assert Study.objects.filter(outcome=outcome).count() == 2
    assert Outcome.objects.record_of(outcome.pk) == wanted()
    assert set(Chunk.objects.values_list("attempts", flat=True)) == {1}


def test_a_part_edited_in_mid_study_changes_only_the_next(home, served):
    shown = json.loads(zlib.decompress(wanted()))["shortlist"][0]
    code = next(part["part"] for part in shown["parts"] if part["role"] == "enclosure")
    header, address = curator(), f"enclosures/{code}/"
    first = home.ask("POST", "studies/", given())
    outcome = Outcome.objects.get()
    wait_for_mid_study(outcome)
    former = home.ask("GET", address)
    home.ask("PATCH", address, {"price": former["price"] + 500}, If_Match=home.version(address), **header)
    assert Outcome.objects.get().is_unfinished
    second = home.ask("POST", "studies/", given())
    for study in (first, second):
        assert processes.wait_until(lambda study=study: home.ask("GET", study["url"])["status"] == "done", WITHIN_S)
    check_both(home, outcome, first, second, code)


def check_both(home, outcome, first, second, code):
    mine, theirs = (home.ask("GET", study["url"]) for study in (first, second))
    assert Outcome.objects.record_of(outcome.pk) == wanted()
    assert Outcome.objects.count() == 2 and mine["catalog_hash"] != theirs["catalog_hash"]
    prices = [[one["price"] for one in body["shortlist"] if enclosure_of(one) == code] for body in (mine, theirs)]
    assert prices[0] and prices[0] != prices[1]


def enclosure_of(entry):
    return next(part["part"] for part in entry["parts"] if part["role"] == "enclosure")
