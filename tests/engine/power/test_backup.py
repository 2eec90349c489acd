"""UPS runtime and choice."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.power.backup import choose_ups, holds, runtime
from tests.engine.make_parts import make_ups

UPS = make_ups()


@pytest.mark.parametrize(("load", "minutes"), UPS.runtime)
def test_measured_points_are_met(load, minutes):
    assert runtime(UPS, load).minutes == pytest.approx(minutes)


def test_power_law_is_met_between_and_beyond_points():
    peukert = make_ups(runtime=tuple((load, 5000.0 * load**-1.2) for load in (50.0, 170.0, 500.0)))
    assert [runtime(peukert, load).minutes for load in (20.0, 90.0, 300.0, 600.0)] == pytest.approx(
        [5000.0 * load**-1.2 for load in (20.0, 90.0, 300.0, 600.0)]
    )


def test_loads_outside_the_points_are_flagged():
    short = make_ups(runtime=((60.0, 80.0), (240.0, 18.0)))
    assert [runtime(short, load).extrapolated for load in (30.0, 60.0, 240.0, 300.0)] == [True, False, False, True]


@pytest.mark.parametrize("load", [0.0, -5.0, 600.1, float("nan")])
def test_load_outside_the_rating_is_refused(load):
    with pytest.raises(InputError, match="above 0 and up to 600 W"):
        runtime(UPS, load)


@pytest.mark.parametrize(
    "points",
    [
        ((100.0, 20.0),),
        ((100.0, 20.0), (50.0, 40.0)),
        ((100.0, 20.0), (200.0, 30.0)),
        ((100.0, 20.0), (700.0, 3.0)),
        ((0.0, 20.0), (200.0, 3.0)),
    ],
)
def test_senseless_runtime_points_are_refused(points):
    with pytest.raises(InputError, match="give two or more loads"):
        runtime(make_ups(runtime=points), 150.0)


@given(st.floats(1.0, 600.0), st.floats(1.0, 600.0))
def test_heavier_load_never_runs_longer(one, other):
    light, heavy = sorted((one, other))
    assert runtime(UPS, heavy).minutes <= runtime(UPS, light).minutes * (1 + 1e-12)


def test_light_load_is_proven_only_as_long_as_the_smallest_point():
    assert holds(UPS, 30.0, 80.0)
    assert runtime(UPS, 30.0).minutes > 80.1
    assert not holds(UPS, 30.0, 80.1)


def test_nothing_is_proven_above_the_largest_point():
    assert not holds(make_ups(runtime=((60.0, 80.0), (240.0, 18.0))), 300.0, 1.0)


def test_cheapest_unit_that_holds_is_chosen():
    units = [make_ups(code="dear", price=300.0), make_ups(code="fair", price=150.0), make_ups(code="weak", price=50.0)]
    units[2] = make_ups(code="weak", price=50.0, runtime=((60.0, 8.0), (240.0, 2.0)))
    choice = choose_ups(units, 120.0, 10.0)
    assert choice.unit.code == "fair"
    assert choice.runtime == runtime(units[1], 120.0)


def test_equal_prices_fall_to_the_first_code():
    assert choose_ups([make_ups(code="b"), make_ups(code="a")], 120.0, 10.0).unit.code == "a"


def test_reason_names_the_longest_runtime():
    choice = choose_ups([UPS], 240.0, 60.0)
    assert choice.unit is None
    assert choice.reason == (
        "No UPS unit carries 240 W for 60 min; the longest is ups with 18 min. Lower ups_minutes or the load."
    )


def test_reason_names_the_largest_load():
    reason = choose_ups([UPS], 900.0, 1.0).reason
    assert reason.startswith("No UPS unit carries 900 W; the most for which a runtime is known is 600 W.")


def test_empty_catalogue_is_a_reason():
    assert choose_ups([], 100.0, 5.0).reason.startswith("There is no UPS unit to choose from")
