"""Lists of the catalogue: whose parts, which, in what order, page by page."""

import pytest
from django.contrib.contenttypes.models import ContentType

from api.kinds import KIND_OF, KINDS
from catalog.finding.filters import filters_of, orders_of
from catalog.models import Enclosure, Fan, FigureNote, Graphics, Maker, Source
from tests.api.parts import BASE, FANS, PARTS, codes, each_kind
from tests.api.test_root import problem_of
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


@pytest.mark.parametrize(
    ("query", "found"),
    [
        ("size_mm=120", ["fan-120", "fan-120-switch"]),
        ("size_mm_min=130", []),
        ("min_rpm_max=400", ["fan-120"]),
        ("control=switch", ["fan-120-switch"]),
        ("control=switch,temperature", ["fan-120", "fan-120-switch"]),
        ("may_stop=true", ["fan-120-switch"]),
        ("maker=Marl", ["fan-120", "fan-120-switch"]),
        ("maker=marl", []),
        ("source=guess", ["fan-120-switch"]),
        ("source_kind=measured", ["fan-120"]),
        ("source_kind=measured,estimated", ["fan-120", "fan-120-switch"]),
        ("code=fan-120", ["fan-120"]),
        ("search=SWITCH marl", ["fan-120-switch"]),
        ("search=100%25", []),
        ("curve.speed_rpm=1200", ["fan-120"]),
        ("curve.speed_rpm_min=1201", ["fan-120-switch"]),
        ("size_mm=120&control=temperature&may_stop=true", []),
    ],
)
def test_fans_are_filtered(guest, query, found):
    assert codes(guest.get(f"{FANS}?{query}")) == found


@pytest.mark.parametrize(
    ("query", "found"),
    [
        ("width_mm_max=230", True),
        ("width_mm_max=100", False),
        ("insertion_loss_db.front_min=1", True),
        ("service.filters_reachable=true", True),
        ("board_forms=mini_itx", True),
        ("board_forms=eatx", False),
        ("openings.kind=fan_mount&openings.fan_size_mm=120", True),
        ("openings.kind=vent&openings.fan_size_mm=120", False),
        ("bay_groups.form=3.5&bay_groups.count_min=2", True),
        ("bay_groups.form=3.5&bay_groups.count_min=100", False),
        ("openings.filter.class=fine,medium,coarse", True),
        ("seats.role=processor&zones.wall_w_k_min=0", True),
        ("sound_shares.place=drives&sound_shares.front_min=0.9", False),
    ],
)
def test_enclosures_are_filtered_by_their_inside_too(guest, query, found):
    assert codes(guest.get(f"{ENCLOSURES}?{query}")) == (["tower"] if found else [])


def test_every_filter_answers(guest):
    """Each with a value that its schema's words make sense of; the database understands them all."""
    tries = {"a number": "1", "a whole": "1", "true or": "true", "a date": "2031-05-17", "up to": "x", "text of": "x"}
    for kind in KINDS:
        for name, one in filters_of(kind.layout).items():
            words = one.value.accepted
            value = next((value for start, value in tries.items() if words.startswith(start)), None)
            value = value or words.removeprefix("one of ").split(" or ")[0].split(",")[0].split(";")[0]
            answer = guest.get(f"{BASE}{kind.path}/", {name: "" if value == "nothing" else value})
            assert answer.status_code == 200, (kind.path, name, value, answer.content)


@pytest.mark.parametrize(
    ("query", "field", "accepted"),
    [
        ("price_min=cheap", "price_min", "a number"),
        ("price_min=nan", "price_min", "a number"),
        ("price=1e400", "price", "a number"),
        ("price=١٢", "price", "a number"),
        ("price_max=1e13", "price_max", "to 1e+12"),
        ("control=steam", "control", "temperature or switch"),
        ("may_stop=yes", "may_stop", "true or false"),
        ("search=", "search", "1 to 100"),
        ("search=%00", "search", "1 to 100"),
        ("search=%E2%80%AE", "search", "1 to 100"),
        ("code=a b", "code", "codes"),
        ("owner=him", "owner", "catalogue, mine, offered"),
        ("ordering=colour", "ordering", "-price"),
        ("ordering=price,code", "ordering", "-price"),
        ("colour=red", "colour", "price_min"),
        ("prices_min=1", "prices_min", "price_min"),
        ("sound_rpm_dba_min=1", "sound_rpm_dba_min", "price_min"),
        ("price__gte=1", "price__gte", "price_min"),
    ],
)
def test_a_filter_that_cannot_be_taken_is_named(guest, query, field, accepted):
    (problem,) = problem_of(guest.get(f"{FANS}?{query}"), 422)["problems"]
    assert problem["field"] == field and accepted in problem["accepted"]


def test_all_filters_that_are_refused_are_named(guest):
    problems = problem_of(guest.get(f"{FANS}?price_min=a&size_mm=b&control=c"), 422)["problems"]
    assert {problem["field"] for problem in problems} == {"price_min", "size_mm", "control"}


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


def test_names_of_filters_are_there_once():
    for kind in PARTS:
        assert not {"ordering", "owner", "cursor", "page_size"} & set(filters_of(kind.layout))
    assert len(filters_of(KIND_OF["enclosures"].layout)) > 150


def test_makers_and_sources_are_filtered(guest):
    assert codes(guest.get(f"{BASE}makers/?search=marl")) == [Maker.objects.get(name="Marl").code]
    measured = Source.objects.filter(kind="measured").values_list("code", flat=True)
    assert codes(guest.get(f"{BASE}sources/?kind=measured&ordering=code")) == sorted(measured)
