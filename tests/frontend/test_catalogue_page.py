"""The catalogue's first page: which kinds there are, and how many of each."""

from catalog.kinds import KINDS
from catalog.models import Fan
from tests.frontend.pages import queries
from tests.frontend.parts import Page, copies, curator, is_inline, own

CATALOGUE = "/catalogue/"


def test_it_leads_to_every_kind(small_catalogue, guest):
    page = Page(guest.get(CATALOGUE))
    assert {f"/catalogue/{kind.path}/" for kind in KINDS} <= set(page.links())
    assert f"{Fan.objects.count()} to choose from" in page.text


def test_it_counts_what_a_person_may_choose_from(small_catalogue, guest, member, other):
    own(Fan, member.user)
    before = Fan.objects.public().count()
    for client, count in ((guest, before), (other, before), (member, before + 1)):
        counted = {card.kind.path: card.count for card in client.get(CATALOGUE).context["parts"]}
        assert counted["fans"] == count


def test_an_empty_catalogue_says_so(guest):
    assert "none yet" in Page(guest.get(CATALOGUE)).text


def test_curators_are_led_to_what_is_on_offer(small_catalogue, member, django_user_model):
    offered = "/catalogue/fans/?owner=offered"
    assert offered in Page(curator(django_user_model).get(CATALOGUE)).links()
    assert offered not in Page(member.get(CATALOGUE)).links()


def test_it_asks_as_often_for_many_as_for_few(small_catalogue, guest):
    before = queries(guest, CATALOGUE)
    copies(Fan, 30)
    assert queries(guest, CATALOGUE) == before == 1
    assert is_inline(Page(guest.get(CATALOGUE))) == []
