"""Every demo enclosure can be drawn, as it may stand, with labels that overlap nothing and arrows that follow flows."""

import itertools

import pytest

from frontend.pictures import air
from frontend.pictures.air.streams import LEAST_LEAK, drawn_streams
from frontend.pictures.boxes import around
from tests.frontend.making import any_build, box, build, housing, sheets

SHEETS = {block["code"]: block for block in sheets()}


def drawings(block):
    """All pictures of an enclosure: as built, with wrong ways, and of the enclosure alone; every way it may stand."""
    for orientation in block["orientations"]:
        place = housing(block, orientation)
        for turn_every in (0, 2):
            yield from air.of_build(any_build(place, turn_every=turn_every), "working", place).drawings
        yield from air.of_housing(place).drawings


@pytest.fixture(scope="module", params=sorted(SHEETS))
def drawn(request):
    return list(drawings(SHEETS[request.param]))


def boxes_in_the_way(drawing):
    for one in (*drawing.arrows, *drawing.discs):
        reach = 12.0 if one.badge.wrong_way else drawing.form.badge
        yield from (one.box, around(one.badge.x, one.badge.y, 2 * reach, 2 * reach))


def test_no_label_overlaps_another_or_an_arrow(drawn):
    for drawing in drawn:
        labels = [label.box for label in drawing.labels]
        assert not [pair for pair in itertools.combinations(labels, 2) if pair[0].overlaps(pair[1])]
        assert not [(a, b) for a in labels for b in boxes_in_the_way(drawing) if a.overlaps(b)]


def test_every_label_is_on_the_drawing(drawn):
    for drawing in drawn:
        for label in drawing.labels:
            assert label.box.x >= 0 and label.box.right <= drawing.width
            assert label.box.y >= drawing.top and label.box.bottom <= drawing.top + drawing.height


def test_every_wrong_way_is_said_in_words(drawn):
    for drawing in drawn:
        wrong = [one for one in (*drawing.arrows, *drawing.discs) if one.wrong_way]
        texts = [" ".join(line.text for line in label.lines if line.wrong_way) for label in drawing.labels]
        listed = [text.removeprefix("wrong way: ").split(", ") for text in texts if text.startswith("wrong way: ")]
        assert all(one.badge.wrong_way for one in wrong)
        assert sum(text.endswith("wrong way") for text in texts) + sum(map(len, listed)) == len(wrong)


def test_every_zone_has_its_letter_but_for_one_too_small_on_phones(drawn):
    for drawing in drawn:
        letters = {label.badge.text for label in drawing.labels if label.badge}
        assert len(letters) >= len(drawing.regions) - (drawing.form.code == "narrow")


def test_all_four_faces_are_named(drawn):
    for drawing in drawn:
        assert sum(label.face for label in drawing.labels) == 4


def test_arrows_of_demo_enclosures_are_apart_as_they_are_built(drawn):
    """Streams that nothing forces together do not hide each other: no arrow's number lies on another arrow's."""
    for drawing in drawn:
        badges = [around(one.badge.x, one.badge.y, 14, 14) for one in (*drawing.arrows, *drawing.discs)]
        assert not [pair for pair in itertools.combinations(badges, 2) if pair[0].overlaps(pair[1])]


@pytest.fixture
def picture():
    return air.of_build(build(), "working", box())


def test_width_follows_the_flow_and_never_falls(picture):
    for drawing in picture.drawings:
        flows = {one.number: one.flow_m3s for one in picture.figures.streams}
        widths = [(flows[one.number], one.width) for one in drawing.arrows]
        widths.sort()
        assert [width for _, width in widths] == sorted(width for _, width in widths)
        widest = max(widths)
        assert all(
            width == pytest.approx(widest[1] * flow / widest[0], abs=0.01) or width == 1.6 for flow, width in widths
        )


def test_faint_seams_stand_in_the_table_only(picture):
    seam = picture.figures.streams[-1]
    assert seam.flow_m3s < LEAST_LEAK * 0.02
    assert seam not in drawn_streams(picture.figures)
    assert seam.number not in {one.number for one in picture.wide.arrows}


def test_every_number_drawn_is_in_the_table(picture):
    numbers = {one.number for one in picture.figures.streams}
    for drawing in picture.drawings:
        assert {one.number for one in (*drawing.arrows, *drawing.discs)} <= numbers


def test_labels_say_the_flow_of_their_stream(picture):
    texts = [line.text for label in picture.wide.labels for line in label.lines]
    assert {"72\u202fm³/h", "14.4\u202fm³/h", "900\u202frpm", "26.0\u202f°C", "60.0\u202f°C", "47.0\u202f°C"} <= set(
        texts
    )


def test_air_comes_in_toward_the_box_and_leaves_away_from_it(picture):
    drawing = picture.wide
    tips = {one.number: one.points.split()[3] for one in drawing.arrows}
    x = {number: float(tip.split(",")[0]) for number, tip in tips.items()}
    assert x[1] > drawing.outline.x  # the fans in front blow in
    assert x[3] > drawing.outline.right  # the vent behind lets out


def test_the_description_says_what_goes_wrong(picture):
    assert "wrong way through power supply" in picture.description
    assert "front fans (72\u202fm³/h)" in picture.description


def test_the_same_build_is_always_drawn_the_same(picture):
    assert air.of_build(build(), "working", box()) == picture


def test_the_air_that_passes_gives_the_colour(picture):
    colours = {one.number: one.warmth for one in picture.wide.arrows}
    assert colours[1] == 0 and colours[3] == 4  # the room's air; 4 K above it


def test_an_opening_before_the_section_points_at_the_onlooker():
    place = box()
    side = type(place.openings[2])(
        "hole", "vent", "main", "outside", (0.2, 0.3, 0.2), (0.0, 0.1, 0.1), "right", "right"
    )
    seen = type(place)(
        place.code, place.name, place.size, place.zones, (*place.openings, side), place.bays, place.seats
    )
    (disc,) = [one for one in air.of_housing(seen).wide.discs if one.number == 5]
    assert disc.toward  # seen from the right side, air leaves through it
