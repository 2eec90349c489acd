"""Decibel arithmetic: sums, differences, background, weighting."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.noise.levels import (
    a_weighted_total,
    a_weighting,
    energy,
    equal_sources,
    exact_frequency,
    level,
    subtract_background,
    subtract_levels,
    sum_levels,
)

levels = st.floats(-20.0, 120.0)


@given(levels)
def test_level_undoes_energy(value):
    assert level(energy(value)) == pytest.approx(value, abs=1e-10)


@given(st.lists(levels, min_size=1, max_size=8))
def test_order_of_sources_does_not_matter(values):
    assert sum_levels(values) == pytest.approx(sum_levels(values[::-1]), abs=1e-10)


@given(levels, levels)
def test_a_sum_lies_within_three_decibels_of_the_louder(one, other):
    assert max(one, other) - 1e-12 <= sum_levels([one, other]) <= max(one, other) + 10 * math.log10(2) + 1e-12


@given(levels, st.floats(-40.0, 40.0))
def test_subtracting_undoes_adding(part, difference):
    assert subtract_levels(sum_levels([part, part + difference]), part) == pytest.approx(part + difference, abs=1e-3)


def test_silence_adds_nothing():
    assert sum_levels([30.0, -math.inf]) == 30.0


def test_silence_alone_stays_silent():
    assert sum_levels([-math.inf, -math.inf]) == -math.inf


def test_sum_runs_along_the_named_axis():
    table = np.array([[10.0, 20.0], [10.0, 20.0]])
    assert sum_levels(table, axis=0) == pytest.approx([13.0103, 23.0103], abs=1e-4)


def test_no_source_of_a_kind_is_silent():
    assert equal_sources(30.0, 0) == -math.inf


def test_part_louder_than_total_is_refused():
    with pytest.raises(InputError, match=r"the part \(31 dB\) is louder than the total \(30 dB\)"):
        subtract_levels(30.0, 31.0)


def test_background_far_below_is_left_alone():
    assert subtract_background(40.0, 24.9).correction_db == 0.0


def test_background_near_the_reading_is_held_and_flagged():
    corrected = subtract_background(30.0, 27.0)
    assert corrected.limited
    assert corrected.correction_db == pytest.approx(1.2563, abs=5e-5)


def test_background_at_the_limit_is_not_flagged():
    assert not subtract_background(30.0, 24.0).limited


@given(levels, st.floats(6.0, 15.0))
def test_corrected_level_and_background_make_the_reading(background, difference):
    corrected = subtract_background(background + difference, background)
    assert sum_levels([corrected.level_db, background]) == pytest.approx(background + difference, abs=1e-9)


def test_background_louder_than_the_reading_is_refused():
    with pytest.raises(InputError, match="27 dB.*25 dB"):
        subtract_background(25.0, 27.0)


def test_a_weighting_is_zero_at_one_kilohertz():
    assert a_weighting(1000.0) == 0.0


@pytest.mark.parametrize("frequency", [5.0, 30_000.0])
def test_a_weighting_outside_its_range_is_refused(frequency):
    with pytest.raises(InputError, match=f"frequency {frequency:g} Hz"):
        a_weighting(frequency)


def test_nominal_frequencies_become_exact_ones():
    assert exact_frequency([16.0, 1000.0, 12_500.0]) == pytest.approx([15.8489, 1000.0, 12_589.25], rel=1e-5)


def test_one_band_weighted_is_its_level_and_weight():
    assert a_weighted_total([50.0], [125.0]) == pytest.approx(33.9)


def test_spectra_are_weighted_row_by_row():
    spectra = np.array([[50.0, 40.0], [30.0, 20.0]])
    totals = a_weighted_total(spectra, [63.0, 1000.0])
    assert totals[0] - totals[1] == pytest.approx(20.0)


def test_frequency_that_is_no_band_is_refused():
    with pytest.raises(InputError, match="130 Hz isn't a nominal mid-band frequency"):
        a_weighted_total([50.0], [130.0])
