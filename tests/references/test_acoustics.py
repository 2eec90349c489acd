"""Acoustics against standards, their libraries, and worked examples of the trade."""

import math

import numpy as np
import pytest
from pyfar.constants import frequency_weighting_band_corrections, frequency_weighting_curve
from scipy.special import logsumexp

from advisor.engine.noise.levels import (
    A_WEIGHTING_OF_BAND,
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
from advisor.engine.noise.paths import transfer
from advisor.engine.noise.sources import density_term, sound_power

NO_ECHO_M2 = 1e12


def log_sum(levels_db):
    """Sum levels by way of natural logarithms, with scipy."""
    return 10 / math.log(10) * logsumexp(np.asarray(levels_db) * math.log(10) / 10)


# IEC 61672-1:2013 table 3, as in the pyfar library.
def test_band_table_is_that_of_the_standard():
    nominal, weights = frequency_weighting_band_corrections("A", 3, (10, 20_000))
    assert dict(zip(nominal.tolist(), weights.tolist(), strict=True)) == A_WEIGHTING_OF_BAND


# IEC 61672-1:2013 annex E by the pyfar library, at frequencies that are in no table.
@pytest.mark.parametrize("frequency", [13.0, 97.0, 440.0, 1234.0, 7777.0, 19_000.0])
def test_analytic_weighting_equals_the_library(frequency):
    expected = frequency_weighting_curve("A", [frequency, 1000.0])
    assert a_weighting(frequency) == pytest.approx(expected[0] - expected[1], abs=2e-3)


# The standard's table is rounded to 0.1 dB, and one value lies on the rounding edge (-13.350 dB at 158.489 Hz).
@pytest.mark.parametrize("nominal", sorted(A_WEIGHTING_OF_BAND))
def test_analytic_weighting_meets_the_table_at_exact_frequencies(nominal):
    assert a_weighting(exact_frequency(nominal)) == pytest.approx(A_WEIGHTING_OF_BAND[nominal], abs=0.05 + 1e-3)


def test_nominal_frequencies_would_be_wrong():
    assert abs(a_weighting(16.0) - A_WEIGHTING_OF_BAND[16.0]) > 0.25


# Pink noise of 0 dB an octave band, 63 Hz to 8 kHz, with the octave corrections of the pyfar library.
def test_a_weighted_total_equals_the_library_sum():
    nominal, weights = frequency_weighting_band_corrections("A", 1, (63, 8000))
    assert a_weighted_total(np.zeros(len(nominal)), nominal) == pytest.approx(log_sum(weights), abs=1e-9)


# 10 log n, as printed by an engineering reference site: 3, 4.8, 6, 7, 10, 11.8, 13 dB.
@pytest.mark.parametrize(
    ("count", "printed"), [(2, 3.0), (3, 4.8), (4, 6.0), (5, 7.0), (10, 10.0), (15, 11.8), (20, 13.0)]
)
def test_equal_sources_add_as_printed(count, printed):
    assert equal_sources(40.0, count) - 40.0 == pytest.approx(printed, abs=0.05)
    assert sum_levels(np.full(count, 40.0)) == pytest.approx(equal_sources(40.0, count))


# Manual of a sound level meter: two machines of 80 dB are 83 dB.
def test_two_equal_machines_add_three_decibels():
    assert sum_levels([80.0, 80.0]) == pytest.approx(83.0, abs=0.05)


def test_unequal_levels_add_as_in_natural_logarithms():
    values = [31.0, 27.5, 24.2, 18.0]
    assert sum_levels(values) == pytest.approx(log_sum(values), abs=1e-12)


# Environmental engineering text: 93 dB with 89 dB behind it, table value 90.7; phone app quoting JIS Z 8731: 55 and
# 50 dBA leave 53.3 dBA; manual of a sound level meter: 70 and 63 dB leave 69 dB.
@pytest.mark.parametrize(
    ("total", "background", "printed", "tolerance"), [(93, 89, 90.7, 0.1), (55, 50, 53.3, 0.05), (70, 63, 69, 0.05)]
)
def test_background_comes_off_as_printed(total, background, printed, tolerance):
    assert subtract_levels(total, background) == pytest.approx(printed, abs=tolerance)


# JIS Z 8731:1999 and ISO 1996-1, table rounded to 0.05 dB.
@pytest.mark.parametrize(
    ("difference", "correction"),
    [(3, 3.0), (4, 2.3), (5, 1.7), (6, 1.25), (7, 0.95), (8, 0.75), (9, 0.60), (10, 0.45)],
)
def test_corrections_meet_the_rounded_table(difference, correction):
    assert 40.0 - subtract_levels(40.0, 40.0 - difference) == pytest.approx(correction, abs=0.1)


# ECMA TR/107 (caps of ISO 3744 and ECMA-74): 1.26 dB at 6 dB, 0.46 dB at 10 dB; 0.1396 dB at 15 dB, none above.
@pytest.mark.parametrize(("difference", "correction"), [(6, 1.2563), (10, 0.4576), (15, 0.1396), (15.01, 0.0)])
def test_background_correction_follows_iso_3744(difference, correction):
    assert subtract_background(40.0, 40.0 - difference).correction_db == pytest.approx(correction, abs=5e-5)


@pytest.mark.parametrize("difference", [0.5, 3.0, 5.9])
def test_background_correction_is_capped_below_six_decibels(difference):
    corrected = subtract_background(40.0, 40.0 - difference)
    assert (corrected.limited, round(corrected.correction_db, 2)) == (True, 1.26)


# Acoustics texts: point source over a plane, Lp = Lw - 20 log r - 8; free space -11; before two planes -5.
@pytest.mark.parametrize(("planes_q", "constant"), [(1.0, 10.99210), (2.0, 7.98180), (4.0, 4.97150)])
def test_point_source_in_the_open_meets_the_text(planes_q, constant):
    tau = transfer({"front": 1.0}, {"front": 0.0}, "front", "upright", 1.0, planes_q, NO_ECHO_M2)
    assert level(tau) == pytest.approx(-constant, abs=1e-5)


# Inverse square law: from 1 m to 0.6 m is +4.43697 dB.
def test_nearer_seat_follows_the_inverse_square():
    near, far = (
        transfer({"front": 1.0}, {"front": 0.0}, "front", "upright", distance, 2.0, NO_ECHO_M2)
        for distance in (0.6, 1.0)
    )
    assert level(near / far) == pytest.approx(4.43697, abs=1e-5)
    assert level(near) == pytest.approx(-3.54482, abs=1e-5)


# ISO 9296: declared sound power is printed in bels, 4.2 B is 42 dB, that is 10^4.2 pW.
def test_a_declared_bel_is_ten_decibels():
    assert energy(42.0) == pytest.approx(10**4.2)


# OSHA Technical Manual, appendix I:A-3: 2 W of sound is 123 dB, 4 W is 126 dB, re 1 pW.
@pytest.mark.parametrize(("watts", "decibels"), [(2.0, 123.0), (4.0, 126.0)])
def test_sound_power_in_watts_meets_the_manual(watts, decibels):
    assert level(watts / 1e-12) == pytest.approx(decibels, abs=0.05)


# Hobby electronics note on fan laws (speed goes with voltage), prints -11.7, -6.25, -13 dB; its 13 is 13.16 cut short.
@pytest.mark.parametrize(("volts", "before", "printed"), [(7, 12, -11.7), (9, 12, -6.25)])
def test_slower_fan_is_quieter_as_printed(volts, before, printed):
    assert sound_power(volts, ((before, 0.0),)) == pytest.approx(printed, abs=0.01)


# AMCA 300-series and ASHRAE: 50 log10 of the speed ratio.
@pytest.mark.parametrize(
    ("before", "after", "change"), [(1200, 800, -8.8046), (1200, 600, -15.0515), (2000, 1500, -6.2469)]
)
def test_fan_sound_law(before, after, change):
    assert sound_power(after, ((before, 30.0),)) - 30.0 == pytest.approx(change, abs=1e-4)


# ISO 13347 and VDI users take 55: a public engineering spreadsheet, -9.6850 dB from 1200 to 800 rpm.
def test_other_exponent_in_use():
    assert sound_power(800.0, ((1200.0, 0.0),), exponent=55.0) == pytest.approx(-9.6850, abs=1e-4)


# The same laws: 20 log10 of the density ratio, so half the density is 6 dB quieter.
def test_thin_air_is_quieter():
    assert density_term(0.6) == pytest.approx(20 * math.log10(0.5), abs=1e-12)


# Rule of the trade (common practice, no source): a source 10 dB below the loudest adds 0.4 dB.
def test_source_ten_decibels_below_adds_little():
    assert sum_levels([40.0, 30.0]) - 40.0 == pytest.approx(0.4, abs=0.05)
