"""A part's way into the catalogue by its page: offered and withdrawn by its owner, accepted or declined by curators."""

import pytest

from catalog.models import Fan
from tests.frontend.pages import HOSTILE
from tests.frontend.parts import Page, curator, is_inline, own


@pytest.fixture
def part(small_catalogue, member):
    return own(Fan, member.user)


@pytest.fixture
def judge(django_user_model, db):
    return curator(django_user_model)


def at(part, step=""):
    return f"/catalogue/fans/{part.code}/{step}"


def now_of(part):
    return Fan.objects.get(pk=part.pk)


def offer(client, part, name="Mara"):
    return client.post(at(part, "offer/"), {"contributor": name}, follow=True)


def decide(client, part, step, **typed):
    version = client.get(at(part)).context["forms"]["accept"]["version"].value()
    return client.post(at(part, step), {"version": version, **typed}, follow=True)


def test_an_owner_offers_and_withdraws(member, part):
    assert "It is on offer" in Page(offer(member, part)).text
    assert now_of(part).contributor == "Mara" and now_of(part).offered_at
    assert "withdrawn" in Page(member.post(at(part, "withdraw/"), follow=True)).text
    assert now_of(part).offered_at is None


def test_a_name_that_cannot_be_thanked_is_kept_and_refused(member, part):
    page = Page(offer(member, part, HOSTILE))
    assert page.entries["contributor"] == HOSTILE and "marks that turn the direction" in page.text
    assert is_inline(page) == [] and now_of(part).offered_at is None


def test_withdrawing_twice_is_told(member, part):
    assert "not on offer" in Page(member.post(at(part, "withdraw/"), follow=True)).text


def test_a_curator_accepts(member, judge, part):
    offer(member, part)
    answer = decide(judge, part, "accept/", code="attic-120")
    assert answer.redirect_chain == [("/catalogue/fans/attic-120/", 302)]
    assert "given by Mara" in " ".join(Page(member.get("/catalogue/fans/attic-120/")).text.split())
    assert now_of(part).owner_id is None


def test_a_code_that_is_taken_is_kept_and_refused(member, judge, part):
    offer(member, part)
    taken = Fan.objects.public().first().code
    page = Page(decide(judge, part, "accept/", code=taken))
    assert page.entries["code"] == taken and "is the code of a public fan already" in page.text
    assert now_of(part).owner_id is not None


def test_a_curator_declines_and_the_owner_reads_why(member, judge, part):
    offer(member, part)
    page = Page(decide(judge, part, "decline/", note=" "))
    assert "is empty" in page.text
    decide(judge, part, "decline/", note="Measure it\nat three speeds.")
    assert "Measure it at three speeds." in Page(member.get(at(part))).text
    assert judge.get(at(part)).status_code == 404


def test_nobody_decides_about_what_has_changed_since(member, judge, part):
    offer(member, part)
    version = judge.get(at(part)).context["forms"]["accept"]["version"].value()
    Fan.objects.filter(pk=part.pk).update(power_w=9.0)
    page = Page(judge.post(at(part, "accept/"), {"version": version, "code": "attic-120"}))
    assert "It has changed since you looked at it" in page.text and page.entries["code"] == "attic-120"
    assert now_of(part).owner_id is not None
    newer = page.entries["version"]
    assert judge.post(at(part, "accept/"), {"version": newer, "code": "attic-120"}).status_code == 302


@pytest.mark.parametrize("step", ["offer/", "withdraw/", "accept/", "decline/"])
def test_others_are_told_that_it_does_not_exist_or_that_it_is_not_theirs_to_do(other, guest, judge, part, step):
    assert other.post(at(part, step)).status_code == (404 if step in ("offer/", "withdraw/") else 403)
    assert guest.post(at(part, step)).status_code == 403
    assert judge.post(at(part, step)).status_code == 404  # it is not on offer
    assert now_of(part).owner_id is not None and now_of(part).offered_at is None


def test_pages_offer_only_what_a_person_may_do(member, guest, judge, part):
    public = Fan.objects.public().first()
    for client in (guest, member, judge):
        assert '<form method="post" action="/catalogue/' not in client.get(at(public)).content.decode()
    assert at(part, "offer/") in member.get(at(part)).content.decode()
    offer(member, part)
    assert at(part, "offer/") not in member.get(at(part)).content.decode()
    assert at(part, "accept/") not in member.get(at(part)).content.decode()
    assert at(part, "accept/") in judge.get(at(part)).content.decode()
    assert at(part, "withdraw/") not in judge.get(at(part)).content.decode()
