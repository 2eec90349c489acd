"""Which part does not fit where: each check, the order, the sentences."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.boards import default_board
from advisor.engine.fit import ORDER, SCALES, Build, first_misfit, misfits, normalised
from advisor.engine.fit import enclosure as of_enclosure
from advisor.engine.fit import parts as of_parts
from advisor.engine.orientation import ROTATIONS
from advisor.engine.power.spin_up import spin_up_plan
from advisor.engine.storage.bays import BayPlan, plan_bays
from tests.engine.make_parts import (
    make_adapter,
    make_brief,
    make_controller,
    make_cooler,
    make_drive,
    make_enclosure,
    make_group,
    make_supply,
)

BOX = make_enclosure()
ATX = default_board("atx")


def make_build(**changes):
    known = {
        "enclosure": BOX,
        "board": ATX,
        "drive": make_drive(),
        "cooler": make_cooler(),
        "supply": make_supply(),
        "fans_full_w": 8.0,
    }
    return Build(**{**known, **changes})


# brief, changed parts -> the one code found
MISSES = {
    "too_wide": ({"max_width_m": 0.19}, {}),
    "too_high": ({"max_height_m": 0.44}, {}),
    "too_deep": ({"max_depth_m": 0.45}, {}),
    "orientation": ({"orientation": "inverted"}, {}),
    "board_form": ({}, {"board": default_board("eatx")}),
    "card_length": ({"graphics_watts": 150.0, "graphics_count": 1, "graphics_length_m": 0.31}, {}),
    "card_slots": ({"card_count": 8}, {}),
    "drive_bays": ({"drive_count": 6, "spare_bays": 3}, {}),
    "hot_swap": ({"hot_swap": True}, {}),
    "layout_capacity": ({"drive_count": None, "usable_capacity_tb": 9.0, "layout": "mirror"}, {}),
    "drives_per_box": ({"drive_count": 6}, {"drive": make_drive(max_per_box=5)}),
    "controller_ports": ({"drive_count": 8}, {"controllers": (make_controller(ports=1, slots=7),)}),
    "cooler_socket": ({"processor_socket": "S3"}, {}),
    "cooler_height": ({}, {"cooler": make_cooler(height_m=0.165)}),
    "supply_form": ({}, {"supply": make_supply(form="sfx")}),
    "supply_length": ({}, {"supply": make_supply(length_m=0.2)}),
    "supply_rating": ({"processor_watts": 420.0}, {}),
    "supply_surge": ({}, {"drive": make_drive(spin_up_a=40.0)}),
}


def test_fitting_build_has_no_misfit():
    assert list(misfits(make_brief(), make_build())) == []


@pytest.mark.parametrize("code", MISSES)
def test_one_requirement_missed_is_found_alone(code):
    brief, parts = MISSES[code]
    assert [found.code for found in misfits(make_brief(**brief), make_build(**parts))] == [code]


def test_every_check_of_parts_has_a_case():
    assert tuple(MISSES) == ORDER[: len(MISSES)]
    assert ORDER[len(MISSES)] == "over_budget"


@pytest.mark.parametrize("code", MISSES)
def test_misfit_tells_part_value_limit_and_remedy(code):
    brief, parts = MISSES[code]
    found = first_misfit(make_brief(**brief), make_build(**parts))
    assert found.part_code in found.text
    assert re.search(r"\d", found.text.replace(found.part_code, ""))
    assert re.search(r": (choose|use|raise|change|set|turn) ", found.text)
    assert found.value != found.limit
    assert found.text.endswith(".") and ": " in found.text
    assert found.shortfall > 0.0


def test_all_misses_come_in_the_fixed_order():
    brief = make_brief(
        max_width_m=0.1, orientation="inverted", drive_count=12, processor_socket="S3", processor_watts=600.0
    )
    codes = [found.code for found in misfits(brief, make_build(supply=make_supply(form="sfx")))]
    assert codes == sorted(codes, key=ORDER.index)
    assert first_misfit(brief, make_build(supply=make_supply(form="sfx"))).code == codes[0] == "too_wide"


def test_shortfall_is_the_miss_in_scales():
    found = of_enclosure.too_wide(BOX, make_brief(max_width_m=0.15))
    assert (found.value, found.limit, found.unit) == (0.2, 0.15, "m")
    assert found.shortfall == pytest.approx(0.05 / SCALES["too_wide"][0])


def test_scales_of_the_whole_build_are_declared():
    assert normalised("noise", 6.0) == 2.0
    assert ORDER[-1] == "no_common_setting"


@pytest.mark.parametrize("orientation", ["on_left", "on_right"])
def test_enclosure_on_its_side_is_as_wide_as_it_was_high(orientation):
    brief = make_brief(orientation=orientation, max_width_m=0.44, max_height_m=0.21)
    assert of_enclosure.too_wide(BOX, brief).value == pytest.approx(0.45)
    assert of_enclosure.too_high(BOX, brief) is None


@given(st.sampled_from(sorted(ROTATIONS)), st.tuples(*[st.floats(0.05, 1.0)] * 3))
def test_turning_keeps_the_three_sizes(orientation, size):
    assert sorted(of_enclosure.turned_size(size, orientation)) == pytest.approx(sorted(size))


@pytest.mark.parametrize("size", [0.45, 0.4500000001])
def test_size_at_the_limit_fits(size):
    assert of_enclosure.too_high(make_enclosure(size_m=(0.2, size, 0.5)), make_brief(max_height_m=0.45)) is None


@pytest.mark.parametrize(("form", "fits"), [("mini_itx", True), ("micro_atx", True), ("atx", True), ("eatx", False)])
def test_smaller_boards_fit_where_a_larger_one_is_listed(form, fits):
    assert (of_enclosure.board_form(BOX, default_board(form)) is None) == fits


def test_wide_graphics_boards_cover_more_slots():
    brief = make_brief(graphics_watts=100.0, graphics_count=2, graphics_slots=3, card_count=1)
    assert of_enclosure.card_slots(BOX, brief, ATX) is None
    found = of_enclosure.card_slots(BOX, brief, ATX, controllers=1)
    assert (found.part_code, found.value, found.limit) == ("box", 8, 7)


def test_board_has_its_own_slots():
    found = of_enclosure.card_slots(BOX, make_brief(card_count=2), default_board("mini_itx"))
    assert (found.part_code, found.value, found.limit) == ("default_mini_itx", 2, 1)


def test_card_length_needs_a_graphics_board():
    assert of_enclosure.card_length(BOX, make_brief(graphics_length_m=0.5)) is None


def test_adapters_count_as_places():
    tower = make_enclosure(bay_groups=(make_group(count=2), make_group("top", "5.25", 3)))
    assert of_enclosure.drive_bays(tower, make_brief(), 7, [make_adapter()]) is None
    assert of_enclosure.drive_bays(tower, make_brief(), 8, [make_adapter()]).limit == 7


@given(st.integers(0, 30), st.integers(0, 5), st.booleans())
def test_bay_checks_agree_with_the_plan(drives, spare, hot_swap):
    tower = make_enclosure(bay_groups=(make_group(count=6, hot_swap=True), make_group("top", "5.25", 6)))
    brief = make_brief(spare_bays=spare, hot_swap=hot_swap)
    found = of_enclosure.drive_bays(tower, brief, drives, [make_adapter()]) or of_enclosure.hot_swap(
        tower, brief, drives, [make_adapter()]
    )
    plan = plan_bays(tower, "3.5", drives, spare, hot_swap, [make_adapter()])
    assert (found is None) == isinstance(plan, BayPlan)


def test_solid_state_drives_beyond_the_board_take_ports():
    assert of_parts.ports_needed(make_brief(ssd_count=3), ATX, 4) == 5


def test_controllers_take_what_slots_are_left():
    brief = make_brief(graphics_watts=100.0, graphics_count=1, graphics_slots=3, card_count=2)
    assert of_enclosure.controller_slots(BOX, brief, ATX) == 2
    assert len(of_parts.chosen_controllers(BOX, brief, ATX, 22, [make_controller()])) == 2
    assert of_parts.controller_ports(BOX, brief, ATX, 23, [make_controller()]).limit == 22


def test_cooler_fits_any_socket_where_none_is_named():
    assert of_parts.cooler_socket(make_cooler(), make_brief()) is None


def test_supply_is_held_to_nine_tenths_of_both_ratings():
    assert of_parts.supply_rating(make_supply(), 450.0, 432.0) is None
    assert of_parts.supply_rating(make_supply(), 451.0, 400.0).limit == pytest.approx(450.0)
    assert of_parts.supply_rating(make_supply(), 440.0, 435.0).limit == pytest.approx(432.0)


def test_surge_is_told_for_one_drive_at_a_time():
    plan = spin_up_plan(make_drive(), 4, 460.0, make_supply())
    found = of_parts.supply_surge(make_supply(), plan)
    assert (found.value, found.limit) == (460.0 + 3 * 3.0 + 24.0, 480.0)
    assert "1 at a time takes 493 W" in found.text


def test_build_without_drives_is_checked_for_the_rest():
    brief = make_brief(drive_count=0, processor_socket="S3")
    assert [found.code for found in misfits(brief, make_build(drive=None))] == ["cooler_socket"]


def test_uncountable_drives_leave_the_other_checks():
    brief = make_brief(
        drive_count=None, usable_capacity_tb=9.0, layout="mirror", processor_socket="S3", max_width_m=0.1
    )
    assert [found.code for found in misfits(brief, make_build())] == ["too_wide", "layout_capacity", "cooler_socket"]
