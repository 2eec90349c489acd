"""Convection: the drive's equation is solved, its slopes are right, and limits hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from advisor.engine.air import air_at
from advisor.engine.thermal.convection import (
    air_cooled_rise,
    air_cooled_slope,
    combined_film,
    drive_rise,
    drive_rise_and_slopes,
    forced_film,
    free_film,
    radiation_film,
)

SURFACE_M2 = 0.043
LENGTH_M = 0.147
HEIGHT_M = 0.1

powers = st.floats(1e-3, 100.0)
velocities = st.floats(0.0, 60.0)
radiations = st.floats(0.0, 6.0)


def properties(temperature_c=30.0):
    air = air_at(temperature_c)
    return tuple(float(v) for v in (air.density, air.viscosity, air.conductivity, air.prandtl))


def drive(power_w, velocity_m_s, h_radiation=0.7):
    return power_w, SURFACE_M2, velocity_m_s, LENGTH_M, HEIGHT_M, 30.0, *properties(), h_radiation


def film(rise_k, velocity_m_s, h_radiation):
    forced = forced_film(velocity_m_s, LENGTH_M, *properties())
    return combined_film(forced, free_film(rise_k, HEIGHT_M, 30.0, *properties()), h_radiation)


@given(powers, velocities, radiations)
def test_drive_rise_sheds_exactly_its_power(power_w, velocity_m_s, h_radiation):
    rise = drive_rise(*drive(power_w, velocity_m_s, h_radiation))
    assert rise * film(rise, velocity_m_s, h_radiation) * SURFACE_M2 == pytest.approx(power_w, rel=1e-12)


@given(powers, velocities, radiations)
def test_drive_rise_equals_a_bracketing_root_finder(power_w, velocity_m_s, h_radiation):
    def surplus(rise):
        return rise * film(rise, velocity_m_s, h_radiation) * SURFACE_M2 - power_w

    expected = brentq(surplus, 0.0, 1e5, xtol=1e-12, rtol=1e-14)
    assert drive_rise(*drive(power_w, velocity_m_s, h_radiation)) == pytest.approx(expected, abs=1e-10)


@given(st.floats(0.1, 50.0), st.floats(0.02, 30.0), radiations)
def test_slopes_equal_central_differences(power_w, velocity_m_s, h_radiation):
    _, by_velocity, by_power = drive_rise_and_slopes(*drive(power_w, velocity_m_s, h_radiation))
    dv, dp = 1e-5 * velocity_m_s, 1e-5 * power_w
    faster, slower = (drive_rise(*drive(power_w, velocity_m_s + d, h_radiation)) for d in (dv, -dv))
    more, less = (drive_rise(*drive(power_w + d, velocity_m_s, h_radiation)) for d in (dp, -dp))
    assert by_velocity == pytest.approx((faster - slower) / (2 * dv), rel=1e-5)
    assert by_power == pytest.approx((more - less) / (2 * dp), rel=1e-5)


def test_drive_without_heat_is_as_warm_as_its_air():
    rise, by_velocity, by_power = drive_rise_and_slopes(*drive(0.0, 1.0))
    assert (rise, by_velocity) == (0.0, 0.0)
    assert by_power == pytest.approx(drive_rise(*drive(1e-9, 1.0)) / 1e-9, rel=1e-2)


def test_still_air_leaves_free_convection_and_radiation():
    rise = drive_rise(*drive(6.0, 0.0))
    still = free_film(rise, HEIGHT_M, 30.0, *properties()) + 0.7
    assert rise == pytest.approx(6.0 / (still * SURFACE_M2), rel=1e-12)


def test_velocity_slope_vanishes_in_still_air():
    assert drive_rise_and_slopes(*drive(6.0, 0.0))[1] == 0.0


@given(powers, st.floats(0.0, 30.0), st.floats(0.01, 10.0))
def test_more_air_never_warms_a_drive(power_w, velocity_m_s, extra):
    assert drive_rise(*drive(power_w, velocity_m_s + extra)) <= drive_rise(*drive(power_w, velocity_m_s))


def test_direction_of_the_air_does_not_matter():
    assert drive_rise(*drive(6.0, -1.5)) == drive_rise(*drive(6.0, 1.5))


def test_forced_film_has_no_gap_at_transition():
    density, viscosity, *rest = properties()
    critical = 5e5 * viscosity / (LENGTH_M * density)
    below, above = (forced_film(critical * f, LENGTH_M, density, viscosity, *rest) for f in (1 - 1e-9, 1 + 1e-9))
    assert above == pytest.approx(below, rel=2e-3)


def test_radiation_film_is_the_tangent_of_the_fourth_power_law():
    sigma, kelvin = 5.670374419e-8, 308.15
    exact = 0.5 * 0.2 * sigma * ((kelvin + 0.01) ** 4 - (kelvin - 0.01) ** 4) / 0.02
    assert radiation_film(35.0, 0.5, 0.2) == pytest.approx(exact, rel=1e-7)


def test_equal_films_combine_by_the_cube_root_of_two():
    assert combined_film(5.0, 5.0, 0.0) == pytest.approx(5.0 * 2 ** (1 / 3))


@given(st.floats(0.1, 60.0), st.floats(0.01, 5.0))
def test_air_cooled_part_is_exact_at_the_speed_it_asks_for(rise_k, needed):
    assert air_cooled_rise(rise_k, needed, needed) == pytest.approx(rise_k, rel=1e-14)


@given(st.floats(0.0, 5.0), st.floats(0.0, 5.0))
def test_air_cooled_part_is_never_warmer_with_more_air(slow, extra):
    assert air_cooled_rise(20.0, slow + extra, 1.0) <= air_cooled_rise(20.0, slow, 1.0)


def test_air_cooled_part_treats_back_flow_as_still_air():
    assert air_cooled_rise(20.0, -2.0, 1.0) == air_cooled_rise(20.0, 0.0, 1.0)


@pytest.mark.parametrize("velocity", [0.05, 0.3, 1.0, 4.0])
def test_air_cooled_slope_equals_central_difference(velocity):
    step = 1e-6
    difference = (air_cooled_rise(20.0, velocity + step, 0.8) - air_cooled_rise(20.0, velocity - step, 0.8)) / (
        2 * step
    )
    assert air_cooled_slope(20.0, velocity, 0.8) == pytest.approx(difference, rel=1e-6)


def test_part_that_asks_for_no_air_keeps_its_rise():
    assert air_cooled_rise(20.0, 0.0, 0.0) == 20.0
    assert air_cooled_slope(20.0, 1.0, 0.0) == 0.0
