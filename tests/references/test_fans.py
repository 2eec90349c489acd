"""Fan laws and fans together, against handbook rules, worked examples and closed forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.curves import FanCurve, falling_curve
from advisor.engine.power.draw import fan_watts
from tests.references.networks import Sketch, ours

# p = 20 (1 - (Q/0.03)^2) Pa, tabulated finely enough that the cubic through it is the parabola to 1e-7.
SHUT_OFF, FREE = 20.0, 0.03
FLOW = np.linspace(0.0, FREE, 400)
PARABOLA = falling_curve(FanCurve(tuple(zip(FLOW, SHUT_OFF * (1 - (FLOW / FREE) ** 2), strict=True)), 1.0))
SYSTEM = SHUT_OFF / FREE**2


def through(net, which=0):
    return ours(net, fan=PARABOLA)[0][which]


def test_one_fan_meets_its_system_where_the_curves_cross():
    """Closed form: Q0 / sqrt(2)."""
    net = Sketch(1, ((0, -1, 0.0, SYSTEM),), ((-1, 0, 1.0),))
    assert through(net) == pytest.approx(0.0212132, abs=2e-6)


def test_parallel_fans_add_their_flows():
    """Fans in parallel add flow at equal pressure (fan engineering texts); closed form Q0 / sqrt(1.25)."""
    net = Sketch(1, ((0, -1, 0.0, SYSTEM),), ((-1, 0, 1.0), (-1, 0, 1.0)))
    assert through(net) == pytest.approx(0.0268328, abs=2e-6)


def test_fans_in_series_add_their_pressures():
    """Fans in series add pressure at equal flow; closed form Q0 sqrt(2/3)."""
    net = Sketch(2, ((1, -1, 0.0, SYSTEM),), ((-1, 0, 1.0), (0, 1, 1.0)))
    assert through(net) == pytest.approx(0.0244949, abs=2e-6)


def test_a_second_fan_in_parallel_adds_less_than_its_flow_in_a_real_system():
    """A maker's note on parallel fans shows +32 % rather than +100 % in a system (read off a graph)."""
    one = through(Sketch(1, ((0, -1, 0.0, SYSTEM),), ((-1, 0, 1.0),)))
    two = through(Sketch(1, ((0, -1, 0.0, SYSTEM),), ((-1, 0, 1.0),) * 2))
    assert 1.1 < two / one < 1.5


@given(st.floats(0.1, 3.0))
def test_affinity_laws_hold_where_losses_are_quadratic(ratio):
    """Q ~ N and p ~ N^2 (AMCA 201, ASHRAE Handbook)."""
    ways = ((0, 1, 0.0, 3e4), (1, -1, 0.0, 2e4), (0, -1, 0.0, 9e4), (-1, 1, 0.0, 8e4))
    slow, fast = (ours(Sketch(2, ways, ((-1, 0, w), (1, -1, 0.7 * w))), fan=PARABOLA) for w in (1.0, ratio))
    # the straight stretch below 1e-3 Pa is not quadratic: leave pressures near it alone
    if min(np.abs(slow[1]).min(), np.abs(fast[1]).min()) > 2e-3:
        assert fast[0] == pytest.approx(ratio * slow[0], rel=1e-9)
        assert fast[1] == pytest.approx(ratio**2 * slow[1], rel=1e-9)


def test_power_follows_the_cube_of_speed():
    """6 hp at 2000 rpm -> 2.53 hp at 1500 rpm (university homework with answers)."""
    assert float(fan_watts(6.0, 1500.0, 2000.0)) == pytest.approx(2.53125, abs=1e-5)


def test_a_fan_at_rest_is_a_loss_and_no_hole():
    rest = Sketch(2, ((1, -1, 0.0, SYSTEM),), ((-1, 0, 1.0), (0, 1, 0.0)))
    open_ = Sketch(2, ((1, -1, 0.0, SYSTEM), (0, 1, 0.0, 1.0)), ((-1, 0, 1.0),))
    assert 0 < through(rest) < 0.95 * through(open_)


def test_a_fan_at_rest_loses_as_its_curve_does_at_vanishing_speed():
    """The tail of p0 (1 - (Q/Q0)^2) is the loss p0/Q0^2 Q^2: with the system's own in series, Q0/sqrt(3)."""
    rest = Sketch(2, ((1, -1, 0.0, SYSTEM),), ((-1, 0, 1.0), (0, 1, 0.0)))
    assert through(rest) == pytest.approx(FREE / np.sqrt(3), rel=1e-4)


def test_a_measured_loss_at_rest_replaces_the_tail():
    curve = FanCurve(((0.0, 20.0), (0.015, 15.0), (0.03, 0.0)), 1.0, rest_loss_pa_s2_m6=5e4)
    assert falling_curve(curve).tail == 5e4


def test_a_stall_dip_becomes_its_envelope_and_is_marked():
    dip = falling_curve(FanCurve(((0.0, 20.0), (0.01, 14.0), (0.015, 16.0), (0.03, 0.0)), 1.0))
    assert dip.stall_flow_m3s == 0.015
    pressures = [dip.pressure(q) for q in np.linspace(0, 0.04, 200)]
    assert np.all(np.diff(pressures) < 0)
    assert dip.pressure(0.01) >= 16.0
