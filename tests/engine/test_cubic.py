"""The shape-preserving cubic against scipy's, and named draws against scipy's quantiles."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from scipy.stats import kstest

from advisor.engine.cubic import shaped_cubic
from advisor.engine.judge.named_draws import NamedDraws


@st.composite
def points(draw):
    """Points with level stretches, turns and uneven gaps."""
    count = draw(st.integers(2, 9))
    gaps = draw(st.lists(st.floats(1e-3, 10.0), min_size=count, max_size=count))
    heights = st.one_of(st.integers(-3, 3).map(float), st.floats(-50.0, 50.0))
    return np.cumsum(gaps), np.array(draw(st.lists(heights, min_size=count, max_size=count)))


@given(points(), st.lists(st.floats(0.0, 1.0), max_size=8))
def test_cubic_is_scipys(given_points, shares):
    x, y = given_points
    ours, theirs = shaped_cubic(x, y), PchipInterpolator(x, y)
    asked = np.concatenate([x, x[0] + np.array(shares) * (x[-1] - x[0])])
    assert ours(asked) == pytest.approx(theirs(asked), rel=1e-12, abs=1e-12)
    assert ours.end_slope == pytest.approx(float(theirs(x[-1], 1)), rel=1e-9, abs=1e-9)


def test_cubic_takes_numbers_and_arrays_of_any_shape():
    curve = shaped_cubic((0.0, 1.0, 2.0), (0.0, 1.0, 4.0))
    grid = np.array([[0.0, 0.5], [1.0, 2.0]])
    assert curve(grid).shape == (2, 2)
    assert float(curve(0.5)) == curve(grid)[0, 1]


def test_draws_of_a_name_are_standard_normal():
    drawn = NamedDraws(4096, seed=7)["enclosure/a/discrepancy"]
    assert kstest(drawn, "norm").pvalue > 0.05
    assert (drawn.mean(), drawn.std()) == (pytest.approx(0.0, abs=1e-3), pytest.approx(1.0, abs=5e-3))
