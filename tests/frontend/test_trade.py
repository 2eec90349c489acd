"""Entries lie where their noise and headroom or price say; ties are joined; no number hides another."""

import itertools

import pytest

from frontend.pictures import trade
from frontend.pictures.boxes import around
from tests.frontend.making import study

RECORD = study([27.0, 27.1, 31.0, 29.0], [6.0, 6.0, 3.0, 4.5], [1, 1, 1, 4])


@pytest.fixture
def picture():
    return trade.of_shortlist(RECORD)


def test_entries_lie_where_their_figures_say(picture):
    for mark, entry in zip(picture.marks, RECORD["shortlist"], strict=True):
        noise = entry["predictions"]["idle"]["noise_dba"]["value"]
        assert mark.place == picture.frame.at((noise, entry["headroom_k"]))
        assert mark.bar[0] < mark.place[0] < mark.bar[1]


def test_bars_are_two_uncertainties_either_way(picture):
    across, mark = picture.frame.across, picture.marks[0]
    assert mark.bar == (across.at(27.0 - 2.8), across.at(27.0 + 2.8))


def test_entries_of_one_rank_are_joined_and_no_others(picture):
    places = [mark.place for mark in picture.marks]
    joined = {frozenset(map(places.index, pair)) for pair in picture.joins}
    assert joined == {frozenset({0, 1}), frozenset({1, 2})}


def test_no_number_hides_another(picture):
    boxes = [around(*mark.badge, 16.0, 16.0) for mark in picture.marks]
    assert not any(a.overlaps(b) for a, b in itertools.combinations(boxes, 2))


def test_twenty_equal_entries_can_still_be_read():
    crowd = trade.of_shortlist(study([30.0] * 20, [5.0] * 20, [1] * 20))
    boxes = [around(*mark.badge, 16.0, 16.0) for mark in crowd.marks]
    assert not any(a.overlaps(b) for a, b in itertools.combinations(boxes, 2))


def test_names_of_few_entries_overlap_nothing(picture):
    words = [mark.word.box for mark in picture.marks if mark.word]
    badges = [around(*mark.badge, 16.0, 16.0) for mark in picture.marks]
    assert words
    assert not any(a.overlaps(b) for a, b in itertools.combinations([*words, *badges], 2))


def test_prices_can_be_traded_too():
    picture = trade.of_shortlist(RECORD, "price")
    assert picture.rows[1].other == "910\u202fEUR" and picture.better == "down"


def test_one_entry_is_no_trade():
    assert trade.of_shortlist(study([30.0], [5.0], [1])) is None
