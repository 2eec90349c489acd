"""Which parts a study may combine: what is required, what is excluded, what stays empty."""

import pytest

from advisor.engine.inputs import Catalogue, Fan
from advisor.engine.search.space import allowed, fan_sets, space_of
from tests.engine import boxes
from tests.engine.make_parts import CURVE, make_brief, make_cooler, make_drive, make_supply


def make_fan(code, size_m, **changes):
    known = {"min_rpm": 400.0, "max_rpm": 1200.0, "control": "temperature", "sound": ((1200.0, 30.0),), "power_w": 1.0}
    return Fan(code, code, size_m, 0.025, CURVE, **{**known, "price": 10.0, **changes})


FANS = (make_fan("a120", 0.12), make_fan("b120", 0.12), make_fan("a140", 0.14))
PARTS = Catalogue(
    enclosures=(boxes.open_tower(), boxes.cage_tower()),
    fans=FANS,
    coolers=(make_cooler(code="c1"), make_cooler(code="c2")),
    supplies=(make_supply(code="s1"), make_supply(code="s2"), make_supply(code="s3")),
    drives=(make_drive(code="d4", capacity_tb=4.0), make_drive(code="d8"), make_drive(code="small", form="2.5")),
)


def codes(parts):
    return [part.code for part in parts]


def models(sets):
    """Codes on intake and exhaust of each set of fans."""
    return {
        tuple("+".join(dict.fromkeys(fan.code for _, fan in side)) for side in (one.intake, one.exhaust))
        for one in sets
    }


def test_everything_is_allowed_where_nothing_is_said():
    assert allowed(make_brief(), PARTS) == PARTS


def test_excluded_parts_are_gone():
    left = allowed(make_brief(excluded_parts=("c1", "s2", "a120", "open_tower")), PARTS)
    assert codes(left.coolers) == ["c2"]
    assert codes(left.supplies) == ["s1", "s3"]
    assert codes(left.fans) == ["b120", "a140"]
    assert codes(left.enclosures) == ["cage_tower"]


def test_required_part_is_the_only_one_of_its_kind():
    left = allowed(make_brief(required_parts=("s2", "cage_tower")), PARTS)
    assert codes(left.supplies) == ["s2"]
    assert codes(left.enclosures) == ["cage_tower"]
    assert left.coolers == PARTS.coolers


def test_several_required_parts_of_a_kind_stay_to_choose_from():
    assert codes(allowed(make_brief(required_parts=("s1", "s3")), PARTS).supplies) == ["s1", "s3"]


def test_excluded_part_is_gone_even_if_required():
    left = allowed(make_brief(required_parts=("s2",), excluded_parts=("s2",)), PARTS)
    assert codes(left.supplies) == ["s1", "s3"]


def test_required_fan_leaves_the_other_models():
    assert allowed(make_brief(required_parts=("a120",)), PARTS).fans == FANS


def test_every_side_takes_one_model_a_size_or_none():
    # the exhaust of this tower may be empty, its intakes may not
    expected = {(intake, exhaust) for intake in ("a120", "b120") for exhaust in ("a120", "b120", "")}
    assert models(fan_sets(boxes.open_tower(), FANS, ())) == expected


def test_sizes_of_one_side_are_chosen_apart():
    sets = models(fan_sets(boxes.two_size_tower(), FANS, ()))
    assert {intake for intake, _ in sets} == {"a140", "a120+a140", "b120+a140"}
    assert len(sets) == 3 * 2


def test_side_without_mounts_has_one_way():
    assert models(fan_sets(boxes.vented_cube(), FANS, ())) == {("", "a140")}


def test_like_mounts_take_the_same_model():
    (one, *_) = fan_sets(boxes.open_tower(), FANS, ())
    assert [(mount.code, fan.code) for mount, fan in one.mounts] == [("front", "a120"), ("rear", "a120")]


def test_mount_without_a_fan_of_its_size_leaves_no_set():
    assert fan_sets(boxes.open_tower(), FANS[2:], ()) == ()


def test_required_fan_is_in_every_set():
    sets = models(fan_sets(boxes.open_tower(), FANS, ("b120",)))
    assert sets == {("a120", "b120"), ("b120", "a120"), ("b120", "b120"), ("b120", "")}


def test_two_required_fans_stand_together():
    assert models(fan_sets(boxes.open_tower(), FANS, ("a120", "b120"))) == {("a120", "b120"), ("b120", "a120")}


def test_required_fan_that_has_no_mount_leaves_no_candidate():
    space = space_of(make_brief(required_parts=("a140",)), PARTS, boxes.open_tower())
    assert (space.fan_sets, space.size) == ((), 0)


def test_required_part_of_another_kind_does_not_bind_fans():
    assert len(fan_sets(boxes.open_tower(), FANS, ("s2", "unknown"))) == 6


def test_size_is_the_product_of_the_choices():
    space = space_of(make_brief(), PARTS, boxes.open_tower())
    assert (space.size, space.per_fan_set) == (6 * 2 * 3 * 2, 2 * 3 * 2)


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, ["d4", "d8"]),
        ({"drive_form": "2.5"}, ["small"]),
        ({"drive_capacity_tb": 8.0}, ["d8"]),
        ({"drive_capacity_tb": 6.0}, []),
    ],
)
def test_drives_are_those_of_form_and_capacity(changes, expected):
    assert codes(space_of(make_brief(**changes), PARTS, boxes.open_tower()).drives) == expected


def test_no_drives_are_one_choice():
    assert space_of(make_brief(drive_count=0), PARTS, boxes.open_tower()).drives == (None,)


def test_wanted_capacity_leaves_the_models_open():
    brief = make_brief(drive_count=None, usable_capacity_tb=8.0)
    assert codes(space_of(brief, PARTS, boxes.open_tower()).drives) == ["d4", "d8"]
