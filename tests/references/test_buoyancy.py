"""Stack pressure and natural draught against handbook figures and closed forms."""

import numpy as np
import pytest
from scipy.optimize import brentq

from advisor.engine.air import moist_density
from advisor.engine.airflow.elements import Network
from advisor.engine.airflow.kernel import PASSIVE
from advisor.engine.airflow.solver import Ambient, CurveTable, curve_arrays, solve
from advisor.engine.constants import GRAVITY_M_S2

PRESSURE = 101_325.0


def stack_pa_per_m(outside_c, inside_c):
    return GRAVITY_M_S2 * (moist_density(outside_c, PRESSURE, 0.0) - moist_density(inside_c, PRESSURE, 0.0))


def test_stack_pressure_of_a_shaft():
    """3460 (1/To - 1/Ts) Pa/m for 283.2 and 296.2 K: 0.54 Pa/m (ASHRAE Handbook HVAC Applications 2011, chapter 53)."""
    assert stack_pa_per_m(283.2 - 273.15, 296.2 - 273.15) == pytest.approx(0.536218, abs=0.005)


def test_stack_pressure_of_a_chassis():
    """0.4 m, 25 and 35 degC: g h (rho_o - rho_i) = 0.15071 Pa (ideal gas)."""
    assert 0.4 * float(stack_pa_per_m(25.0, 35.0)) == pytest.approx(0.15071, abs=1e-4)


def warm_box(height_m, watts, beta=2e4):
    """Mass flow [kg/s] and rise [K] of a box with an opening below and one above."""
    curves = CurveTable(np.full(2, -1), np.full(2, PASSIVE), curve_arrays([]), ())
    network = Network(
        ("box",), (), np.array([1, 0]), np.array([0, 1]), np.full(2, PASSIVE), np.zeros(2, dtype=int), np.ones(2),
        np.array([height_m / 2, 0.0]), np.array([0.0, height_m]), np.full(1, 1e-9), 0.3,
    )  # fmt: skip
    one = np.ones(1)
    room = Ambient(20.0 * one, 1.2 * one, one, 1006.0 * one)
    losses, none = np.full((1, 2), beta), np.zeros((1, 2))
    heat = np.full((1, 1), watts)
    flows = solve(network, curves, none, losses, none, np.ones((1, 2)), room, np.full((1, 1), 1e-9), heat, none)
    return flows.mass_flow[0], flows.rise[0, 0]


@pytest.mark.parametrize(("height_m", "watts"), [(0.3, 30.0), (0.5, 100.0), (1.0, 10.0), (2.0, 200.0)])
def test_draught_of_a_warm_box_balances_stack_and_losses(height_m, watts):
    """The same by hand: g H (rho_o - rho_i) = sum of beta Q^2 rho/rho_ref, P = m cp dT, solved by brentq."""

    def left(m):
        rise = watts / (m * 1006.0)
        warm = 1.2 * 293.15 / (293.15 + rise)
        losses = sum(2e4 * (m / density) ** 2 * density / 1.2 for density in (1.2, warm))
        return GRAVITY_M_S2 * height_m * (1.2 - warm) - losses

    expected = brentq(left, 1e-5, 1.0, xtol=1e-15)
    flow, rise = warm_box(height_m, watts)
    assert flow == pytest.approx([expected, expected], rel=1e-7)
    assert rise == pytest.approx(watts / (expected * 1006.0), rel=1e-6)


def test_draught_grows_with_the_cube_root_of_heat():
    """Small rises: m ~ (P H)^(1/3) (natural ventilation, ASHRAE Fundamentals: Q ~ sqrt(H dT))."""
    small, large = warm_box(0.5, 1.0, beta=2e3)[0][0], warm_box(0.5, 8.0, beta=2e3)[0][0]
    assert large / small == pytest.approx(2.0, rel=0.02)


def test_warm_air_leaves_above_and_no_heat_moves_nothing():
    assert warm_box(0.5, 50.0)[0].min() > 0
    assert np.abs(warm_box(0.5, 0.0)[0]).max() < 1e-6
