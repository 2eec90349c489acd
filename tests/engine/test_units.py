"""Units against the definitions they come from."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.units import UNITS, difference_to_si, from_si, to_si

# NIST Special Publication 811 (2008), appendix B.8, prints seven digits of each factor.
PUBLISHED = {"cfm": 4.719474e-4, "m3/h": 2.777778e-4, "l/s": 1e-3, "kWh": 3.6e6, "min": 60.0, "h": 3600.0}


@pytest.mark.parametrize(("unit", "factor"), PUBLISHED.items())
def test_factors_are_the_published_ones(unit, factor):
    assert to_si(1.0, unit) == pytest.approx(factor, rel=2e-7)


def test_celsius_starts_at_the_ice_point():
    assert to_si(0.0, "degC") == 273.15  # BIPM, The International System of Units, 9th edition, section 2.3.1
    assert difference_to_si(1.5, "degC") == 1.5


def test_a_bel_is_ten_decibels():
    assert to_si(2.6, "bel") == 26.0  # ISO 80000-8, item 8-16


@pytest.mark.parametrize("millimetres", range(1, 2000, 7))
def test_millimetres_become_the_nearest_double(millimetres):
    assert to_si(float(millimetres), "mm") == float(f"{millimetres}e-3")


@pytest.mark.parametrize("unit", UNITS)
@given(value=st.floats(-1e6, 1e6))
def test_there_and_back_is_the_same(unit, value):
    assert from_si(to_si(value, unit), unit) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_arrays_are_turned_at_once():
    assert np.allclose(to_si(np.array([120.0, 140.0]), "mm"), [0.12, 0.14], rtol=1e-15)


def test_an_unknown_unit_is_named_with_the_known_ones():
    with pytest.raises(InputError, match="unit 'inch' is not known; use one of mm, cm2, m3/h"):
        to_si(1.0, "inch")
