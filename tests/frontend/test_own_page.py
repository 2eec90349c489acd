"""One's own parts: the list, and deleting one."""

import pytest

from catalog.models import Enclosure, Fan
from tests.frontend.pages import HOSTILE, queries
from tests.frontend.parts import PART_KINDS, Page, copies, each_part_kind, is_inline, own

OWN = "/own/"


@pytest.fixture(autouse=True)
def small(small_catalogue):
    return small_catalogue


def test_it_lists_ones_own_with_their_standing(member, other, now):
    waiting, mine = own(Fan, member.user, "waiting"), own(Enclosure, member.user)
    Fan.objects.filter(pk=waiting.pk).update(offered_at=now)
    own(Fan, other.user)
    page = Page(member.get(OWN))
    assert f"/catalogue/fans/{waiting.code}/" in page.links() and f"/own/enclosures/{mine.code}/" in page.links()
    assert "on offer to the catalogue since 1 June 2031" in page.text and "nobody else sees it" in page.text
    assert "2 own parts of 200" in page.text.replace("\u202f", " ") and is_inline(page) == []


def test_every_kind_can_be_added_from_it(member):
    links = Page(member.get(OWN)).links()
    assert {f"/own/{kind.path}/" for kind in PART_KINDS} - {"/own/enclosures/"} | {"/own/enclosure/"} <= set(links)


def test_guests_are_asked_to_sign_in(guest):
    answer = guest.get(OWN)
    assert answer.status_code == 302 and "next=/own/" in answer.url


def test_it_asks_as_often_for_many_as_for_few(member):
    before = queries(member, OWN)
    for number in range(15):
        own(Fan, member.user, f"n{number}")
    copies(Fan, 5)
    assert queries(member, OWN) == before <= len(PART_KINDS) + 3


@pytest.mark.parametrize(**each_part_kind())
def test_deleting_asks_first(member, kind):
    part = own(kind.layout.model, member.user)
    address = f"/own/{kind.path}/{part.code}/delete/"
    page = Page(member.get(address))
    assert part.name in page.text and kind.layout.model.objects.filter(pk=part.pk).exists()
    assert "is deleted" in Page(member.post(address, follow=True)).text
    assert not kind.layout.model.objects.filter(pk=part.pk).exists()
    assert member.post(address).status_code == 404  # once more, by the back button


def test_what_is_not_ones_own_cannot_be_deleted(member, other):
    theirs, public = own(Fan, other.user), Fan.objects.public().first()
    for part in (theirs, public):
        address = f"/own/fans/{part.code}/delete/"
        assert member.get(address).status_code == member.post(address).status_code == 404
        assert Fan.objects.filter(pk=part.pk).exists()


def test_hostile_names_stay_names(member):
    part = own(Fan, member.user)
    Fan.objects.filter(pk=part.pk).update(name=HOSTILE[:120], decline_note=HOSTILE)
    for address in (OWN, f"/own/fans/{part.code}/delete/"):
        response = member.get(address)
        assert HOSTILE in Page(response).text and is_inline(Page(response)) == []
