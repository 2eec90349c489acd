"""Lists of the catalogue: found by any figure, sorted by any column, page by page."""

import pytest
from django.contrib.contenttypes.models import ContentType

from catalog.finding.filters import filters_of, orders_of
from catalog.kinds import KINDS
from catalog.models import Enclosure, Fan
from frontend.contexts.list_columns import list_columns
from tests.frontend.pages import HOSTILE, queries
from tests.frontend.parts import Page, copies, curator, each_kind, is_inline, own

FANS, ENCLOSURES = "/catalogue/fans/", "/catalogue/enclosures/"


@pytest.fixture(autouse=True)
def small(small_catalogue):
    return small_catalogue


def names(response):
    return [row[0].words for row in response.context["list"].rows]


@pytest.mark.parametrize(**each_kind())
def test_it_lists_what_there_is(guest, kind):
    response = guest.get(f"/catalogue/{kind.path}/")
    page = Page(response)
    for row in kind.layout.model.objects.all():
        assert f"/catalogue/{kind.path}/{row.code}/" in page.links()
    assert is_inline(page) == []


@pytest.mark.parametrize(**each_kind())
def test_it_asks_as_often_for_many_as_for_few(guest, kind):
    ContentType.objects.get_for_model(kind.layout.model)
    before = queries(guest, f"/catalogue/{kind.path}/")
    copies(kind.layout.model, 20)
    assert queries(guest, f"/catalogue/{kind.path}/") == before <= 4


def test_a_column_sorts_up_first_then_down(guest):
    copies(Fan, 3)
    up, down = (guest.get(f"{FANS}?ordering={word}") for word in ("price", "-price"))
    prices = [price_of(cell) for cell in cells(up)]
    assert len(set(prices)) > 1 and prices == sorted(prices)
    assert [price_of(cell) for cell in cells(down)] == prices[::-1]
    assert 'aria-sort="ascending"' in up.content.decode() and 'aria-sort="descending"' in down.content.decode()
    assert f"{FANS}?ordering=-price" in Page(up).links() and f"{FANS}?ordering=price" in Page(down).links()


def cells(response):
    return [(row[0].words, row[0].quiet) for row in response.context["list"].rows]


def price_of(cell):
    return Fan.objects.get(code=cell[1].split(", ")[1]).price


def test_every_sorted_column_is_one_that_lists_can_be_sorted_by():
    for kind in KINDS:
        keys = {column.key for column in list_columns(kind) if column.key}
        assert keys <= set(orders_of(kind.layout)) or kind.file in ("makers", "sources"), kind.path


def test_figures_narrow_it_down(guest):
    wide = Fan.objects.order_by("-size_mm").first().size_mm
    response = guest.get(f"{FANS}?size_mm_min={wide}")
    assert 0 < len(names(response)) == Fan.objects.filter(size_mm=wide).count()
    assert f"size from {wide:g}" in Page(response).text.replace(".0", "")


def test_what_is_inside_an_enclosure_narrows_it_down(guest):
    size = Enclosure.objects.first().openings.filter(fan_count__gt=0).first().fan_size_mm
    found = guest.get(f"{ENCLOSURES}?openings.fan_size_mm_min={size}&openings.kind=fan_mount")
    assert Enclosure.objects.first().name in names(found)
    assert names(guest.get(f"{ENCLOSURES}?openings.fan_size_mm_min=399")) == []


def test_nothing_found_is_told(guest):
    assert "Nothing in the list meets all of this" in Page(guest.get(f"{FANS}?price_min=999999")).text


def test_empty_fields_fall_out_of_the_address(guest):
    response = guest.get(f"{FANS}?size_mm_min=&price_max=30&search=&control=")
    assert (response.status_code, response.url) == (302, f"{FANS}?price_max=30")


def test_any_figure_can_be_added_to_the_form(guest):
    page = Page(guest.get(FANS))
    assert "life_h_min" not in page.entries
    more = {choice.value for group in guest.get(FANS).context["list"].finder.more for choice in group.choices}
    shown = {one.key for one in guest.get(FANS).context["list"].finder.asked}
    assert more | shown == {one.key for one in filters_of(KINDS[0].layout).values()}
    assert "life_h_min" in Page(guest.get(f"{FANS}?also=life_h")).entries


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ("price_min=cheap", "cheap is not a number"),
        ("control=magic", "magic is not known"),
        ("ordering=beauty", "beauty is not known"),
        ("owner=otto", "otto is not known"),
        ("price_min=1e999", "is out of range"),
    ],
)
def test_what_cannot_be_read_is_said_and_kept(guest, asked, words):
    response = guest.get(f"{FANS}?{asked}")
    page = Page(response)
    assert words in page.text and "accepted:" in page.text and names(response) == []
    name, value = asked.split("=")
    assert page.entries[name] == value if name in ("price_min", "control") else name not in page.entries
    for tag, given in page.tags:
        if tag == "a" and str(given.get("href", "")).startswith("#find"):
            assert given["href"][1:] in page.ids


@pytest.mark.parametrize("name", ["search", "price_min", "maker", "ordering", "also", "page", "owner", "source"])
def test_hostile_words_stay_words(member, name):
    response = member.get(FANS, {name: HOSTILE})
    page = Page(response)
    assert response.status_code == 200 and is_inline(page) == []
    assert "<script>alert" not in response.content.decode()
    if name in ("search", "price_min"):
        assert page.entries[name] == HOSTILE


def test_pages_follow_each_other(guest):
    copies(Fan, 120)
    seen, address = [], FANS
    while address:
        response = guest.get(address)
        seen += cells(response)
        address = response.context["list"].next
    assert len(seen) == len(set(seen)) == Fan.objects.count()
    assert guest.get(f"{FANS}?page=9999").context["list"].first > 100  # beyond the last is the last


def test_own_parts_are_for_their_owner_and_on_offer_for_curators(guest, member, other, now, django_user_model):
    part = own(Fan, member.user)
    addresses = {client: Page(client.get(FANS)).links() for client in (guest, member, other)}
    address = f"{FANS}{part.code}/"
    assert address in addresses[member] and address not in addresses[guest] + addresses[other]
    assert names(member.get(f"{FANS}?owner=mine")) == [part.name]
    part.offered_at = now
    part.save()
    assert names(curator(django_user_model).get(f"{FANS}?owner=offered")) == [part.name]
    assert names(other.get(f"{FANS}?owner=offered")) == []


def test_a_word_that_is_no_kind_leads_nowhere(guest):
    assert guest.get("/catalogue/wizards/").status_code == 404
