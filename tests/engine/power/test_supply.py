"""The supply at any load, and a year of it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.power.energy import DUTY, yearly_cost, yearly_energy_kwh
from advisor.engine.power.supply import NO_LOAD_LOSS_SHARE, efficiency_at, load_share, speed_step, wall_power
from tests.engine.make_parts import make_supply

SUPPLY = make_supply()
shares = st.floats(0.0, 1.0)


def test_measured_points_are_met():
    measured = np.array(SUPPLY.efficiency)
    assert efficiency_at(SUPPLY, measured[:, 0]) == pytest.approx(measured[:, 1], abs=1e-12)


@given(shares)
def test_efficiency_never_overshoots_its_neighbours(share):
    points = ((0.0, 0.0), *SUPPLY.efficiency)
    low, high = next((a, b) for a, b in zip(points, points[1:], strict=False) if a[0] <= share <= b[0])
    assert min(low[1], high[1]) - 1e-12 <= efficiency_at(SUPPLY, share) <= max(low[1], high[1]) + 1e-12


@given(shares, shares)
def test_more_load_never_takes_less_from_the_wall(one, other):
    low, high = sorted((one, other))
    assert wall_power(SUPPLY, 500.0 * low).wall_w <= wall_power(SUPPLY, 500.0 * high).wall_w + 1e-9


@given(shares)
def test_wall_power_is_load_and_loss(share):
    state = wall_power(SUPPLY, 500.0 * share)
    assert state.wall_w == pytest.approx(state.dc_w + state.loss_w)
    assert state.loss_w > 0.0


def test_idle_supply_keeps_its_no_load_loss():
    first_loss_w = 50.0 / 0.84 - 50.0
    assert wall_power(SUPPLY, 0.0).wall_w == pytest.approx(NO_LOAD_LOSS_SHARE * first_loss_w)


def test_efficiency_is_continuous_at_the_first_point():
    below, above = efficiency_at(SUPPLY, [0.1 - 1e-9, 0.1 + 1e-9])
    assert below == pytest.approx(above, abs=1e-7)


def test_only_loads_below_the_first_point_are_flagged():
    assert wall_power(SUPPLY, [0.0, 49.0, 50.0, 500.0]).extrapolated.tolist() == [True, True, False, False]


@pytest.mark.parametrize("load", [501.0, -1.0, float("nan")])
def test_load_outside_the_rating_is_refused(load):
    with pytest.raises(InputError, match=r"'supply' is asked for .* it delivers 0 to 500 W"):
        load_share(SUPPLY, load)


@pytest.mark.parametrize(
    ("points", "message"),
    [
        (((0.1, 0.8),), "give two or more"),
        (((0.1, 0.8), (0.9, 0.8)), "up to 1"),
        (((0.5, 0.8), (0.2, 0.9), (1.0, 0.9)), "rising"),
        (((0.1, 0.8), (1.0, 1.0)), "between 0 and 1"),
        (((0.5, 0.3), (0.6, 0.9), (1.0, 0.9)), "rises with load"),
    ],
)
def test_senseless_efficiency_points_are_refused(points, message):
    with pytest.raises(InputError, match=message):
        efficiency_at(make_supply(efficiency=points), 0.5)


def test_fan_of_the_supply_follows_its_steps():
    assert speed_step(SUPPLY, [0.0, 0.3, 0.300001, 0.6, 1.0]).tolist() == [0.0, 0.0, 0.5, 0.5, 1.0]


def test_steps_that_stop_short_of_the_rating_are_refused():
    with pytest.raises(InputError, match="fan steps up to the shares 0.3, 0.8"):
        speed_step(make_supply(speed_steps=((0.3, 0.0), (0.8, 1.0))), 0.5)


def test_year_weighs_scenarios_by_their_hours():
    assert yearly_energy_kwh({"idle": 40.0, "working": 90.0, "full_load": 250.0}) == pytest.approx(
        8.76 * (24 + 27 + 25)
    )


def test_constant_draw_for_a_year():
    assert yearly_energy_kwh(dict.fromkeys(DUTY, 100.0)) == pytest.approx(876.0)


def test_year_with_a_missing_scenario_is_refused():
    with pytest.raises(InputError, match="missing for full_load, working"):
        yearly_energy_kwh({"idle": 40.0})


def test_duty_that_is_no_whole_year_is_refused():
    with pytest.raises(InputError, match=r"sum to 0\.9"):
        yearly_energy_kwh({"idle": 40.0}, {"idle": 0.9})


def test_cost_follows_the_price():
    assert yearly_cost(876.0, 0.25) == pytest.approx(219.0)
