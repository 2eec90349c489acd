"""Fan curves: falling everywhere, smooth where they go on, honest about stall dips."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from advisor.engine.airflow.laws import curve_at
from advisor.engine.airflow.solver import curve_arrays
from advisor.engine.curves import FanCurve, envelope, falling_curve, straight_curve
from advisor.engine.errors import InputError

POINTS = ((0.0, 21.0), (0.006, 18.0), (0.012, 15.5), (0.02, 9.0), (0.028, 0.0))
DIPPED = ((0.0, 21.0), (0.006, 14.0), (0.012, 16.0), (0.02, 9.0), (0.028, 0.0))
# Just outside the points, and just inside.
HAIR = 1e-9


@st.composite
def curves(draw: st.DrawFn) -> FanCurve:
    """Any points that a bench may give: noise, dips and level stretches included."""
    count = draw(st.integers(2, 9))
    widths = draw(st.lists(st.floats(0.02, 1.0), min_size=count - 1, max_size=count - 1))
    pressures = draw(st.lists(st.floats(-2.0, 60.0), min_size=count, max_size=count))
    flows = np.concatenate([[0.0], np.cumsum(widths)]) * draw(st.floats(0.005, 0.1)) / sum(widths)
    first = max(pressures[0], 0.5)
    return FanCurve(tuple(zip(flows.tolist(), [first, *pressures[1:]], strict=True)), 1500.0)


@given(curves(), st.lists(st.floats(-1.5, 2.5), min_size=2, max_size=8, unique=True))
def test_pressure_falls_wherever_the_flow_grows(curve, shares):
    falling = falling_curve(curve)
    pressures = [falling.pressure(share * falling.end) for share in sorted(shares)]
    assert all(later <= earlier for earlier, later in zip(pressures, pressures[1:], strict=False))


@given(curves())
def test_curve_is_never_below_what_was_measured(curve):
    falling = falling_curve(curve)
    assert all(falling.pressure(q) >= p - 1e-9 * abs(p) - 1e-12 for q, p in curve.points)


@given(curves(), st.floats(-2.0, 3.0))
def test_kernel_evaluates_the_curve_and_its_slope(curve, share):
    falling = falling_curve(curve)
    q, step = share * falling.end, 1e-6 * falling.end
    pressure, slope = curve_at(q, 0, curve_arrays([falling]))
    assert pressure == pytest.approx(falling.pressure(q), rel=1e-12, abs=1e-10)
    ahead, behind = falling.pressure(q + step), falling.pressure(q - step)
    bend = abs(ahead - 2 * pressure + behind) / step
    rounding = 1e-4 * abs(pressure) / falling.end
    assert slope == pytest.approx((ahead - behind) / (2 * step), rel=1e-5, abs=bend + rounding)


def test_curve_between_the_points_is_scipys():
    falling = falling_curve(FanCurve(POINTS, 1200.0))
    spline = PchipInterpolator(*zip(*POINTS, strict=True))
    for q in np.linspace(0.0, 0.028, 57):
        assert falling.pressure(q) == pytest.approx(float(spline(q)), abs=1e-12)


@pytest.mark.parametrize("at", [0.0, 0.028])
def test_curve_goes_on_without_a_corner(at):
    arrays = curve_arrays([falling_curve(FanCurve(POINTS, 1200.0))])
    (left, left_slope), (right, right_slope) = curve_at(at - HAIR, 0, arrays), curve_at(at + HAIR, 0, arrays)
    assert left == pytest.approx(right, abs=1e-5)
    assert left_slope == pytest.approx(right_slope, rel=1e-5, abs=1e-2)


def test_beyond_its_points_it_goes_on_quadratically():
    falling = falling_curve(FanCurve(POINTS, 1200.0))
    slope = float(PchipInterpolator(*zip(*POINTS, strict=True))(0.028, 1))
    assert falling.tail == pytest.approx(-slope / (2 * 0.028))
    assert falling.pressure(0.05) == pytest.approx(slope * 0.022 - falling.tail * 0.022**2)
    first = float(PchipInterpolator(*zip(*POINTS, strict=True))(0.0, 1))
    assert falling.pressure(-0.01) == pytest.approx(21.0 - 0.01 * first + falling.tail * 0.01**2)


def test_measured_loss_at_rest_is_the_tail():
    assert falling_curve(FanCurve(POINTS, 1200.0, rest_loss_pa_s2_m6=7e4)).tail == 7e4


def test_free_flow_is_where_the_pressure_ends():
    assert falling_curve(FanCurve(POINTS, 1200.0)).free_flow_m3s == pytest.approx(0.028)
    short = falling_curve(FanCurve(POINTS[:3], 1200.0))
    assert short.free_flow_m3s > 0.012
    assert short.pressure(short.free_flow_m3s) == pytest.approx(0.0, abs=1e-9)


def test_a_curve_that_falls_has_no_stall():
    assert falling_curve(FanCurve(POINTS, 1200.0)).stall_flow_m3s == 0.0


def test_a_dip_is_bridged_and_flagged_up_to_its_right_end():
    falling = falling_curve(FanCurve(DIPPED, 1200.0))
    assert falling.stall_flow_m3s == 0.012
    assert falling.pressure(0.006) == pytest.approx(16.0, abs=0.01)
    assert falling.pressure(0.012) == pytest.approx(16.0)


def test_the_last_of_two_dips_counts():
    twice = ((0.0, 20.0), (0.004, 15.0), (0.008, 17.0), (0.012, 12.0), (0.016, 13.0), (0.024, 0.0))
    assert envelope(twice)[2] == 0.016


def test_level_stretches_fall_a_little():
    _, pressures, stall = envelope(((0.0, 20.0), (0.01, 20.0), (0.02, 20.0), (0.03, 0.0)))
    assert np.all(np.diff(pressures) < 0)
    assert pressures[0] - 20.0 < 20.0 * 1e-4
    assert stall == 0.0


def test_straight_curve_goes_on_straight():
    straight = straight_curve(((0.0, 20.0), (0.01, 12.0), (0.03, 0.0)), 1000.0, 1.2)
    expected = {-0.005: 24.0, 0.005: 16.0, 0.02: 6.0, 0.04: -6.0}
    assert {q: straight.pressure(q) for q in expected} == pytest.approx(expected)


def test_equal_curves_are_built_once():
    assert falling_curve(FanCurve(POINTS, 1200.0)) is falling_curve(FanCurve(POINTS, 1200.0))


@pytest.mark.parametrize(
    ("points", "words"),
    [
        (((0.0, 20.0),), "at least two points"),
        (((0.0, 20.0), (0.0, 10.0)), "each above the last"),
        (((0.01, 20.0), (0.005, 10.0)), "each above the last"),
        (((-0.01, 20.0), (0.005, 10.0)), "flows from zero upwards"),
        (((0.0, 0.0), (0.005, -10.0)), "shut-off pressure above zero, not 0 Pa"),
        (((0.0, float("nan")), (0.005, 1.0)), "shut-off pressure above zero, not nan Pa"),
    ],
)
def test_points_that_are_no_curve_are_refused(points, words):
    with pytest.raises(InputError, match=words):
        falling_curve(FanCurve(points, 1000.0))
