"""Lists of the catalogue: whose parts, in what order, page by page."""

import pytest
from django.contrib.contenttypes.models import ContentType

from api.kinds import KINDS
from catalog.finding.filters import orders_of
from catalog.models import Enclosure, Fan, FigureNote, Graphics, Maker
from tests.api.parts import BASE, FANS, codes, each_kind
from tests.catalog.owning import make_own

ENCLOSURES, GRAPHICS = f"{BASE}enclosures/", f"{BASE}graphics/"


@pytest.fixture(autouse=True)
def small(small_catalogue):
    return small_catalogue


def copies(model, count):
    """Add copies of the first row, with its notes and what is inside (but for what points at other rows inside)."""
    first, last = model.objects.first(), model.objects.count()
    below = [*first.notes.all()] if hasattr(first, "notes") else []
    below += [*first.zones.all(), *first.sound_shares.all()] if model is Enclosure else []
    for number in range(count):
        first.pk, first.code, first.price = None, f"copy-{last + number:03}", 1000 - number
        if model is Maker:
            first.name = first.code
        first.save(force_insert=True)
        for row in below:
            row.pk = None
            setattr(row, "object_id" if isinstance(row, FigureNote) else "enclosure_id", first.pk)
            row.save()


@pytest.mark.parametrize(**each_kind())
def test_it_lists_what_there_is(guest, kind):
    answer = guest.get(f"{BASE}{kind.path}/")
    assert codes(answer) == sorted(kind.layout.model.objects.values_list("code", flat=True))
    row = answer.json()["results"][0]
    assert row["url"] == f"http://testserver{BASE}{kind.path}/{row['code']}/"
    assert guest.get(row["url"]).status_code == 200


def test_a_list_of_enclosures_leaves_out_their_inside(guest):
    row, whole = guest.get(ENCLOSURES).json()["results"][0], guest.get(f"{ENCLOSURES}tower/").json()
    assert whole.keys() - row.keys() == {"zones", "openings", "bay_groups", "seats", "sound_shares", "supply_opening"}
    assert row == {key: whole[key] for key in row}


@pytest.mark.parametrize(**each_kind())
def test_it_takes_as_many_queries_for_many_rows_as_for_few(guest, kind, django_assert_num_queries):
    ContentType.objects.get_for_model(kind.layout.model)
    address, few = f"{BASE}{kind.path}/?page_size=200", kind.layout.model.objects.count() + 4
    for count in (4, 45):
        copies(kind.layout.model, count)
        with django_assert_num_queries(2 if kind.layout.is_part else 1):
            assert len(codes(guest.get(address))) == few
        few += 45


def test_a_guest_sees_the_catalogue_and_a_member_own_parts_too(guest, member, other):
    own = make_own(Fan.objects.first(), member.user)
    assert own.code in codes(member.get(FANS)) and own.code not in codes(guest.get(FANS)) + codes(other.get(FANS))
    assert [row["owner"] for row in member.get(f"{FANS}?owner=mine").json()["results"]] == ["you"]
    assert codes(guest.get(f"{FANS}?owner=mine")) == []
    assert codes(member.get(f"{FANS}?owner=catalogue")) == codes(guest.get(FANS))


def test_only_curators_see_what_is_on_offer(member, curator, now):
    own = make_own(Fan.objects.first(), member.user)
    Fan.objects.coded(own.code).update(offered_at=now)
    assert codes(curator.get(f"{FANS}?owner=offered")) == [own.code]
    assert curator.get(f"{FANS}?owner=offered").json()["results"][0]["owner"] == "somebody"
    assert codes(member.get(f"{FANS}?owner=offered")) == []
    assert own.code not in codes(curator.get(FANS))


@pytest.mark.parametrize(**each_kind())
def test_every_order_reaches_every_row_once_both_ways(guest, kind):
    """Page by page with one row a page, there and back, is the list at once; ties and empty values lose nothing."""
    address, model = f"{BASE}{kind.path}/", kind.layout.model
    if kind.layout.is_part:
        first = model.objects.first()
        for number in range(3):
            first.pk, first.code = None, f"copy-{number}"
            first.save()
    for key in orders_of(kind.layout):
        for order in (key, f"-{key}"):
            whole = codes(guest.get(address, {"ordering": order}))
            assert sorted(whole) == sorted(model.objects.values_list("code", flat=True))
            there, back = walk(guest, f"{address}?ordering={order}&page_size=2")
            assert there == whole and back == whole, order


def walk(client, address):
    """Codes of all pages to the end, and of all pages back to the start."""
    there, pages = [], []
    while address:
        page = client.get(address).json()
        there += [row["code"] for row in page["results"]]
        pages.append(page)
        address = page["next"]
    back, address = [row["code"] for row in pages[-1]["results"]], pages[-1]["previous"]
    while address:
        page = client.get(address).json()
        back = [row["code"] for row in page["results"]] + back
        address = page["previous"]
    return there, back


def test_rows_without_a_value_come_last_whichever_way(guest):
    for code, like in (("a-open", "gpu-open"), ("b-fast", "gpu-blower")):
        board = Graphics.objects.get(code=like)
        board.pk, board.code, board.curve_speed_rpm = None, code, board.curve_speed_rpm and 9000.0
        board.save()
    up, down = (codes(guest.get(GRAPHICS, {"ordering": f"{way}curve.speed_rpm"})) for way in ("", "-"))
    assert up == ["gpu-blower", "b-fast", "a-open", "gpu-open"]
    assert down == ["b-fast", "gpu-blower", "a-open", "gpu-open"]


def test_filters_hold_on_every_page(guest):
    copies(Fan, 5)
    there, back = walk(guest, f"{FANS}?price_min=997&ordering=-price&page_size=2")
    assert there == back == ["copy-002", "copy-003", "copy-004", "copy-005"]


def test_a_list_that_did_not_change_is_not_sent_again(guest):
    tag = guest.get(FANS)["ETag"]
    assert guest.get(FANS, headers={"if-none-match": tag}).status_code == 304
    Fan.objects.filter(code="fan-120").update(price=1)
    assert guest.get(FANS, headers={"if-none-match": tag}).status_code == 200


def test_the_root_leads_to_every_kind(guest):
    listed = guest.get(BASE).json()
    assert all(listed[kind.path] == f"http://testserver{BASE}{kind.path}/" for kind in KINDS)
