"""Power as it is told: sums, the wall, a year, the start, the UPS."""

import pytest

from advisor.engine.record.spot import CODES
from tests.engine.make_parts import make_supply
from tests.engine.record import found


@pytest.mark.parametrize("scenario", CODES)
def test_parts_add_up_to_the_supplys_load(scenario):
    state = found.record().power.scenarios[scenario]
    assert sum(state.draw_w.values()) == pytest.approx(state.load_w)
    assert state.load_share == pytest.approx(state.load_w / make_supply().rating_w)


def test_wall_gives_load_and_loss():
    for state in found.record().power.scenarios.values():
        assert state.wall_w == pytest.approx(state.load_w / state.efficiency)
        assert state.wall_w == pytest.approx(state.load_w + state.loss_w)


def test_a_year_has_8760_hours_of_the_stated_duty():
    power = found.record().power
    mean = sum(share * power.scenarios[code].wall_w for code, share in power.duty.items())
    assert power.yearly_kwh == pytest.approx(8.760 * mean)
    assert power.yearly_cost == pytest.approx(power.yearly_kwh * found.brief().energy_price)


def test_fans_draw_by_the_cube_of_their_speed():
    record, candidate = found.record(), found.best()[0].candidate
    speeds = record.settings["hot_day"]
    drawn = candidate.cooler.power_w * (speeds["cooler"].speed_rpm / candidate.cooler.max_rpm) ** 3
    for group, mounts in (("intake", candidate.fans.intake), ("exhaust", candidate.fans.exhaust)):
        for opening, fan in mounts:
            drawn += opening.fan_count * fan.power_w * (speeds[group].fans[fan.code] / fan.max_rpm) ** 3
    assert record.power.scenarios["hot_day"].draw_w["fans"] == pytest.approx(drawn)


def test_drives_start_within_the_supplys_rating():
    plan = found.record().power.spin_up
    assert plan.possible and plan.peak_w_12v <= plan.limit_w_12v == make_supply().rating_12v_w


def test_ups_is_named_when_asked_for():
    ups = found.record().power.ups
    assert ups.unit == "ups" and ups.minutes >= found.brief().ups_minutes
    assert ups.load_w == found.record().power.scenarios["working"].wall_w


def test_no_ups_is_named_when_none_is_asked_for_or_it_is_excluded():
    assert found.describe_with_target(42.0, ups_minutes=0.0).power.ups is None
    refused = found.describe_with_target(42.0, excluded_parts=("ups",)).power.ups
    assert refused.unit is None and refused.reason
