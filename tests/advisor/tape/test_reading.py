"""Entries as people write them: what is filled in, and what is said about what cannot be taken."""

import pytest

from advisor.tape.reading import read_tape

SIZE = {"width_mm": 215, "height_mm": 465, "depth_mm": 440}


def entry(**changes):
    reading = read_tape({**SIZE, **changes})
    assert reading.problems == ()
    return reading.entry


def problems(**changes):
    reading = read_tape({**SIZE, **changes})
    assert reading.entry is None
    return {one.field: one for one in reading.problems}


def test_size_fans_holes_and_bays_suffice():
    fans = [{"face": "front", "size_mm": 120, "count": 2}, {"face": "rear", "size_mm": 120}]
    made = entry(panels={"front": {"holes_share": 0.5}}, fans=fans, bays=[{"count": 4}])
    assert (made.fans[0].side, made.fans[1].side, made.bays[0].place) == ("intake", "exhaust", "front")
    assert made.board_plane == "upright" and "atx" in made.board_forms and made.card_slots >= 7
    assert made.panels["front"].cover and made.panels["front"].material == "steel"


def test_flat_enclosures_lie_and_take_what_their_width_takes():
    made = entry(width_mm=430, height_mm=150, depth_mm=420)
    assert made.board_plane == "flat" and "atx" in made.board_forms
    assert made.cooler_height_mm == pytest.approx(95)


def test_small_enclosures_take_the_smallest_board():
    assert entry(width_mm=200, height_mm=230, depth_mm=220).board_forms == ("mini_itx",)


def test_panels_take_material_and_lining_of_the_whole():
    made = entry(material="wood", lining_mm=5, panels={"left": {"material": "glass"}})
    assert (made.panels["left"].material, made.panels["left"].thickness_mm) == ("glass", 4.0)
    assert (made.panels["top"].material, made.panels["top"].thickness_mm, made.panels["top"].lining_mm) == (
        "wood", 10.0, 5.0,
    )  # fmt: skip


def test_drives_in_a_chamber_of_their_own_breathe_by_its_most_open_panel():
    panels = {"right": {"holes_share": 0.5, "holes_area_cm2": 300}, "front": {"holes_share": 0.5, "chamber": "main"}}
    divider = {"direction": "upright"}
    made = entry(panels=panels, divider=divider, bays=[{"count": 4, "place": "own_chamber"}])
    assert (made.bays[0].place, made.bays[0].chamber) == ("right", "second")


def test_what_was_given_is_remembered():
    made = entry(fans=[{"face": "rear", "size_mm": 92}])
    assert {"width_mm", "fans[0].size_mm"} <= made.given and "fans[0].count" not in made.given


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"width_mm": "wide"}, "width_mm", "is not a number; accepted: a number from 60 to 2000 mm."),
        ({"width_mm": True}, "width_mm", "is not a number"),
        ({"height_mm": 10}, "height_mm", "is out of range"),
        ({"colour": "red"}, "colour", "is not a field; accepted: the fields name"),
        ({"panels": {"side": {}}}, "panels.side", "is not a field"),
        ({"panels": []}, "panels", "is not a mapping"),
        ({"panels": {"front": {"hole_share": 0.5}}}, "panels.front.hole_share", "did you mean 'holes_share'?"),
        ({"panels": {"front": {"holes_share": 0.01}}}, "panels.front.holes_share", "accepted: 0, or 0.02 or more"),
        ({"panels": {"front": {"slot_count": 3}}}, "panels.front.slot_count", "slot_width_mm and slot_length_mm"),
        (
            {"panels": {"front": {"holes_share": 0.5, "holes_area_cm2": 5000}}},
            "panels.front.holes_area_cm2",
            "on a panel of 1000 cm2",
        ),
        ({"panels": {"top": {"cover": True}}}, "panels.top.cover", "shuts the fans behind it off"),
        ({"fans": {"face": "rear"}}, "fans", "is not a list"),
        ({"fans": [{"size_mm": 120}]}, "fans[0].face", "is missing; accepted: one of the texts"),
        ({"fans": [{"face": "rear", "size_mm": 300}]}, "fans[0].size_mm", "is larger than its place"),
        ({"fans": [{"face": "rear", "size_mm": 120, "count": 9}]}, "fans[0].count", "on a panel of 1000 cm2"),
        ({"fans": [{"face": "divider", "size_mm": 120}]}, "fans[0].face", "without a divider"),
        ({"fans": [{"face": "rear", "size_mm": 80, "chamber": "second"}]}, "fans[0].chamber", "without a divider"),
        ({"bays": [{"count": 4, "place": "own_chamber"}]}, "bays[0].place", "without a divider"),
        ({"bays": [{"count": 90}]}, "bays[0].count", "fewer bays, more rows or less spacing_mm"),
        ({"bays": [{"count": 2, "form": 3.5}]}, "bays[0].form", "write it in quotes"),
        ({"divider": {"direction": "level", "at_mm": 460}}, "divider.at_mm", "leaves no room on one side"),
        ({"divider": {"direction": "level", "board_side": "left"}}, "divider.board_side", "above or below"),
        ({"supply": {"chamber": "second"}}, "supply.chamber", "without a divider"),
        (
            {"divider": {"direction": "level"}, "supply": {"chamber": "main", "breathes": "own_duct"}},
            "supply.breathes",
            "has no bottom to breathe from",
        ),
        ({"code": "No Word"}, "code", "is not a code"),
        ({"name": " "}, "name", "is empty"),
        ({"feet_mm": 0.001}, "feet_mm", "0, or 1 or more"),
    ],
)
def test_what_cannot_be_taken_is_named_with_what_can(changes, field, words):
    assert words in problems(**changes)[field].message


def test_every_problem_is_told_at_once():
    told = problems(width_mm=1, fans=[{"face": "rear"}, {"size_mm": 80}], bays=[{"count": 0}])
    assert set(told) == {"width_mm", "fans[0].size_mm", "fans[1].face", "bays[0].count"}


@pytest.mark.parametrize("body", [None, [], "text", 3, {1: 2}, {"panels": {3: {}}}, {"fans": [[], None]}])
def test_bodies_that_are_no_entries_are_refused(body):
    assert read_tape(body).entry is None and read_tape(body).problems
