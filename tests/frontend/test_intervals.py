"""Tracks put values, bars of two uncertainties and limits where their numbers say."""

import pytest

from frontend.pictures import intervals
from frontend.pictures.scales import Axis
from tests.frontend.making import build, figure, study


def value_at(percent, low, high):
    return low + (percent - 2.0) / 96.0 * (high - low)


@pytest.fixture
def table():
    return intervals.temperatures(build(), "working")


def test_dot_bar_and_limit_are_where_the_record_says(table):
    row = table.rows[0]
    ticks = {tick.text: tick.at for tick in table.ticks}
    low, high = 20.0, 100.0
    assert ticks["40\u202f°C"] == pytest.approx(2 + 96 * (40 - low) / (high - low), abs=0.01)
    assert value_at(row.track.dot, low, high) == pytest.approx(60.0, abs=0.01)
    assert value_at(row.track.bar_from, low, high) == pytest.approx(54.0, abs=0.01)
    assert value_at(row.track.bar_from + row.track.bar_width, low, high) == pytest.approx(66.0, abs=0.02)
    assert value_at(row.track.limit, low, high) == pytest.approx(85.0, abs=0.01)


def test_a_limit_that_is_kept_at_the_value_alone_is_not_kept(table):
    """The drives are at 47 of 48 °C, but not at the confidence asked for."""
    drives = table.rows[1]
    assert not drives.kept and not drives.track.kept
    assert drives.left == "0.9\u202fK too much"


def test_words_say_all_that_is_drawn(table):
    assert table.rows[0].track.words == "60.0 ± 3.0\u202f°C, likely 54.0 to 66.0\u202f°C, limit 85\u202f°C"


def test_every_part_comes_once_the_tightest_first():
    made = build()
    made["predictions"]["hot_day"]["temperatures"][0] |= {"headroom_k": -3.0, "temperature_c": figure(84.0)}
    rows = intervals.nearest_limits(made).rows
    assert [(row.name, row.detail) for row in rows] == [("processor", "Hot day"), ("drives in cage 3.5-inch", "Idle")]


def test_noise_of_a_shortlist_is_against_the_target():
    record = study([30.0, 34.2], [5.0, 6.0], [1, 1])
    table = intervals.noise_of_entries(record["shortlist"], 33.0, "working")
    assert [row.left for row in table.rows] == ["3.0\u202fdB", "1.2\u202fdB too loud"]
    assert [row.kept for row in table.rows] == [True, False]
    assert [row.name for row in table.rows] == ["Box 1", "Box 2"]


def test_what_is_beyond_the_axis_stays_on_the_track():
    drawn = intervals.track(figure(200.0, 60.0), 100.0, Axis(0.0, 100.0, 2.0, 98.0), "°C")
    assert drawn.dot == drawn.limit == 98.0 and not drawn.kept


def test_a_value_without_a_limit_has_no_tick():
    drawn = intervals.track(figure(20.0), None, Axis(0.0, 100.0, 2.0, 98.0), "°C")
    assert drawn.limit is None and drawn.beyond == 0.0 and drawn.kept
