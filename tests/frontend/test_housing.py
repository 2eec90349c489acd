"""A row of the catalogue and a record of the engine give the same enclosure; turning it turns all that is in it."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from advisor.assembly import catalogue
from catalog.importing.loading import load_catalog
from catalog.models import Enclosure
from frontend.pictures.housing import extent, of_engine, of_row, turned
from tests.frontend.making import box

SMALL = Path(__file__).parents[1] / "catalog" / "data"


@pytest.fixture
def small_catalogue(db):
    return load_catalog(path=SMALL, at=datetime(2031, 6, 1, tzinfo=UTC))


def test_row_and_record_give_the_same_enclosure(small_catalogue):
    rows = {row.code: of_row(row) for row in Enclosure.objects.with_wiring()}
    records = {one.code: of_engine(one) for one in catalogue().enclosures}
    assert rows and rows == records


def test_a_row_with_its_wiring_asks_nothing_more(small_catalogue, django_assert_num_queries):
    row = Enclosure.objects.with_wiring().first()
    with django_assert_num_queries(0):
        of_row(row)


def test_an_enclosure_on_its_front_has_its_top_where_the_front_was():
    laid = turned(box(), "on_front")
    fans = laid.openings[0]
    assert laid.size == (0.2, 0.4, 0.4)
    assert fans.looks == "bottom" and fans.position[2] == pytest.approx(0.0)
    assert laid.face_names()["front"] == "top"


def test_everything_stays_inside_when_turned():
    for orientation in ("on_left", "on_right", "on_front", "on_rear", "inverted"):
        laid = turned(box(), orientation)
        for place in (*laid.zones, *laid.openings):
            assert all(-1e-9 <= x <= size + 1e-9 for x, size in zip(place.position, laid.size, strict=True))


def test_fans_stand_side_by_side_where_there_is_room():
    assert extent("front", 0.12, 0.03, (0.12, 2), (0.3, 0.4, 0.5)) == (0.24, 0.0, 0.12)
    assert extent("front", 0.12, 0.03, (0.12, 3), (0.3, 0.4, 0.5)) == (0.12, 0.0, 0.36)
