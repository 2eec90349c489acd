"""Digits follow the uncertainty; signs, spaces and ranges are those of print."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from frontend.templatetags import quantities as q


def back(text: str) -> float:
    return float(text.replace(q.SPACE, "").replace(q.MINUS, "-"))


@given(st.floats(-1e6, 1e6), st.floats(1e-4, 1e5))
def test_value_and_uncertainty_end_at_the_same_place(value, u):
    shown, spread = q.measured(value, u).split(" ± ")
    decimals = [len(text.partition(".")[2]) for text in (shown, spread)]
    assert decimals[0] == decimals[1]
    assert len(spread.replace(".", "").replace(q.SPACE, "").strip("0")) <= 2


@given(st.floats(-1e6, 1e6), st.floats(1e-4, 1e5))
def test_rounding_stays_within_a_twentieth_of_the_uncertainty(value, u):
    shown, spread = (back(text) for text in q.measured(value, u).split(" ± "))
    assert abs(shown - value) <= 0.051 * u + 1e-9
    assert abs(spread - u) <= 0.051 * u + 1e-9


@given(st.floats(-1e9, 1e9), st.integers(0, 3))
def test_a_number_reads_back_as_it_was(value, places):
    assert back(q.number(value, places)) == pytest.approx(value, abs=0.5001 * 10**-places)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_has_no_text(value):
    with pytest.raises(ValueError, match="must be finite"):
        q.number(value)


def test_nothing_wraps_between_value_and_unit():
    texts = [q.measured(1234.5, 2.0, "°C"), q.money(1234.0, "EUR"), q.quantity(1200.0, "rpm"), q.duration(7200)]
    assert all(" " not in text.replace(" ± ", "") for text in texts)


def test_no_text_has_a_hyphen_for_a_minus():
    assert [q.quantity(-3.0, "K"), q.signed(-3.0, "K"), q.measured(-3.0, 0.5, "K")] == [
        "−3\u202fK",
        "−3.0\u202fK",
        "−3.0 ± 0.5\u202fK",
    ]
