"""What the parts of a build draw, by scenario."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.power.draw import draw, drive_watts, fan_watts, peak_draw
from advisor.engine.power.loads import DEFAULT_CARD_W, DEFAULT_SSD_W, MEMORY_W, build_loads
from advisor.engine.scenarios import SCENARIO_TABLE
from tests.engine.make_parts import make_brief, make_controller, make_drive

SCENARIO = {scenario.code: scenario for scenario in SCENARIO_TABLE}


def test_parts_of_a_build_add_up_to_the_load():
    brief = make_brief(graphics_watts=200.0, graphics_count=2, ssd_count=2, card_count=1)
    loads = build_loads(brief, make_drive(), 4, controllers=(make_controller(), make_controller()))
    full = draw(loads, SCENARIO["full_load"], fans_w=6.0)
    board, memory, ssds, card, controllers, drives = (
        20.0,
        MEMORY_W["atx"],
        2 * DEFAULT_SSD_W,
        DEFAULT_CARD_W,
        20.0,
        32.0,
    )
    assert full.dc_w == pytest.approx(65.0 + 400.0 + board + memory + ssds + card + controllers + drives + 6.0)


def test_scenario_shares_scale_processor_and_graphics():
    loads = build_loads(make_brief(graphics_watts=200.0, graphics_count=1), None, 0)
    idle = draw(loads, SCENARIO["idle"])
    assert (idle.processor_w, idle.graphics_w) == pytest.approx((6.5, 16.0))


def test_drives_draw_by_share_of_seeking():
    loads = build_loads(make_brief(), make_drive(idle_w=5.0, seek_w=8.0), 4)
    assert [draw(loads, SCENARIO[code]).drives_w for code in ("idle", "working", "rebuild")] == [20.0, 26.0, 32.0]


def test_solid_state_drives_and_two_inch_drives_leave_12_v_alone():
    loads = build_loads(make_brief(ssd_count=3), make_drive(form="2.5"), 4)
    full = draw(loads, SCENARIO["full_load"])
    assert full.dc_w - full.twelve_volt_w == pytest.approx(3 * DEFAULT_SSD_W + 4 * 8.0)


def test_named_parts_replace_estimates():
    ssd = make_controller(heat_w=7.0)
    assert build_loads(make_brief(ssd_count=2), None, 0, ssd=ssd).ssd_w == 14.0


def test_drives_without_a_model_are_refused():
    with pytest.raises(InputError, match="4 drives are counted but no drive model"):
        build_loads(make_brief(), None, 4)


def test_peak_has_full_load_and_full_fans():
    loads = build_loads(make_brief(), make_drive(), 4)
    assert peak_draw(loads, 9.0) == draw(loads, SCENARIO["full_load"], 9.0)


def test_batches_give_what_single_builds_give():
    loads = build_loads(make_brief(), make_drive(), 4)
    fans = np.array([0.0, 2.5, 7.0])
    batch = draw(loads, SCENARIO["working"], fans).dc_w
    assert batch.tolist() == [draw(loads, SCENARIO["working"], one).dc_w for one in fans]


def test_cooler_without_a_fan_draws_nothing():
    assert fan_watts(np.array([0.0, 3.0]), np.array([0.0, 500.0]), np.array([0.0, 1000.0])).tolist() == [0.0, 0.375]


def test_overspeed_is_refused_with_speed_and_limit():
    with pytest.raises(InputError, match="1600 rpm is outside 0 to 1500 rpm"):
        fan_watts(2.0, 1600.0, 1500.0)


@given(st.floats(0.0, 20.0), st.floats(0.0, 20.0), st.floats(0.0, 1.0))
def test_mean_drive_power_lies_between_idle_and_seeking(idle, extra, seeking):
    assert idle <= drive_watts(idle, idle + extra, seeking) <= idle + extra + 1e-12
