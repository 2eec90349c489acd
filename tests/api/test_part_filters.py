"""Filters of the catalogue's lists: by every column, by what is inside, and what is said where one cannot be taken."""

import pytest

from api.kinds import KIND_OF, KINDS
from catalog.finding.filters import filters_of
from catalog.models import Maker, Source
from tests.api.parts import BASE, FANS, PARTS, codes
from tests.api.test_root import problem_of

ENCLOSURES = f"{BASE}enclosures/"


@pytest.fixture(autouse=True)
def small(small_catalogue):
    return small_catalogue


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


def test_names_of_filters_are_there_once():
    for kind in PARTS:
        assert not {"ordering", "owner", "cursor", "page_size"} & set(filters_of(kind.layout))
    assert len(filters_of(KIND_OF["enclosures"].layout)) > 150


def test_makers_and_sources_are_filtered(guest):
    assert codes(guest.get(f"{BASE}makers/?search=marl")) == [Maker.objects.get(name="Marl").code]
    measured = Source.objects.filter(kind="measured").values_list("code", flat=True)
    assert codes(guest.get(f"{BASE}sources/?kind=measured&ordering=code")) == sorted(measured)
