"""Sound power by speed and by load."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.noise.sources import density_term, level_by_share, sound_power, sound_power_uncertainty

ONE = ((1200.0, 30.0),)
TWO = ((600.0, 16.0), (1200.0, 30.0))
SUPPLY = ((0.2, 20.0), (0.5, 24.0), (1.0, 36.0))


@pytest.mark.parametrize("readings", [ONE, TWO])
def test_sound_power_meets_its_readings(readings):
    for speed, reading in readings:
        assert sound_power(speed, readings) == pytest.approx(reading, abs=1e-12)


def test_halfway_in_log_speed_is_halfway_in_level():
    assert sound_power(math.sqrt(600.0 * 1200.0), TWO) == pytest.approx(23.0)


@pytest.mark.parametrize(("speed", "nearest"), [(300.0, TWO[0]), (2400.0, TWO[1])])
def test_outside_the_readings_the_speed_law_holds(speed, nearest):
    assert sound_power(speed, TWO) == pytest.approx(nearest[1] + 50 * math.log10(speed / nearest[0]))


def test_exponent_is_a_parameter():
    assert sound_power(800.0, ONE, exponent=55.0) - sound_power(800.0, ONE) == pytest.approx(5 * math.log10(2 / 3))


def test_resting_fan_makes_no_sound():
    assert sound_power(0.0, ONE) == -math.inf
    assert sound_power(np.array([0.0, 1200.0]), ONE).tolist() == [-math.inf, pytest.approx(30.0)]


def test_part_without_fan_needs_no_readings():
    assert sound_power(0.0, ()) == -math.inf
    assert sound_power_uncertainty(0.0, (), 1.0) == 0.0


@given(st.floats(100.0, 5000.0), st.floats(1.0, 2000.0))
def test_faster_is_never_quieter(speed, extra):
    assert sound_power(speed + extra, TWO) > sound_power(speed, TWO)


def test_speeds_of_any_shape_give_levels_of_that_shape():
    speeds = np.array([[300.0, 800.0, 1200.0], [0.0, 900.0, 4000.0]])
    together = sound_power(speeds, TWO)
    assert together == pytest.approx(np.vectorize(lambda speed: sound_power(speed, TWO))(speeds))


def test_uncertainty_at_a_reading_is_the_readings_own():
    assert sound_power_uncertainty(1200.0, TWO, 1.5) == pytest.approx(1.5)


@pytest.mark.parametrize(("readings", "exponent_u"), [(ONE, 5.0), (TWO, 2.0)])
def test_uncertainty_grows_with_the_distance_in_decades(readings, exponent_u):
    assert sound_power_uncertainty(12_000.0, readings, 1.5) == pytest.approx(math.hypot(1.5, exponent_u))


def test_uncertainty_between_readings_counts_from_the_nearest():
    assert sound_power_uncertainty(650.0, TWO, 1.0) == pytest.approx(math.hypot(1.0, 2 * math.log10(650 / 600)))


def test_resting_fan_has_no_uncertainty():
    assert sound_power_uncertainty(np.array([0.0, 1200.0]), ONE, 1.0).tolist() == [0.0, 1.0]


def test_density_term_is_zero_at_the_reference():
    assert density_term(1.2) == 0.0


def test_density_term_takes_arrays():
    assert density_term([0.6, 2.4]) == pytest.approx([-6.0206, 6.0206], abs=1e-4)


@pytest.mark.parametrize(("share", "expected"), [(0.0, 20.0), (0.2, 20.0), (0.35, 22.0), (0.75, 30.0), (1.0, 36.0)])
def test_level_by_load_is_linear_between_points(share, expected):
    assert level_by_share(SUPPLY, share) == pytest.approx(expected)


def test_level_by_load_stays_as_at_its_last_point():
    assert level_by_share(((0.1, 20.0), (0.8, 30.0)), 0.9) == 30.0


@pytest.mark.parametrize("share", [-0.01, 1.01, math.nan])
def test_load_outside_nought_to_one_is_refused(share):
    with pytest.raises(InputError, match=f"load share {share:g} is outside 0 to 1"):
        level_by_share(SUPPLY, share)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: sound_power(-100.0, ONE), "speed -100 rev/min"),
        (lambda: sound_power(800.0, ()), "no sound readings by speed"),
        (lambda: sound_power(800.0, TWO[::-1]), r"\[1200.0, 600.0\] have to rise"),
        (lambda: sound_power(800.0, ((0.0, 10.0),)), "reading at speed 0 rev/min"),
        (lambda: level_by_share((), 0.5), "no sound readings by load"),
        (lambda: density_term(0.0), "density 0 kg/m3"),
    ],
)
def test_bad_readings_are_refused(call, words):
    with pytest.raises(InputError, match=words):
        call()
