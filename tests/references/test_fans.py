"""Fans in networks against what handbooks say of them: alone, side by side, one behind the other, slower, at rest."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from advisor.engine.curves import FallingCurve, FanCurve, falling_curve
from tests.engine.airflow.plain_network import Branch, PlainNetwork
from tests.engine.airflow.side_by_side import solve_all

# The fan and the system of the closed forms: p = p0 (1 - (Q/Q0)^2), p = K Q^2 with K = p0/Q0^2.
P0, Q0 = 20.0, 0.03
K = P0 / Q0**2
DENSITY = 1.2
CURVE = FanCurve(((0.0, 24.0), (0.008, 18.6), (0.016, 15.4), (0.024, 8.2), (0.032, 0.0)), 1200.0)


def parabola(p0: float = P0, q0: float = Q0) -> FallingCurve:
    """One quadratic piece, which goes on as itself to the right."""
    return FallingCurve(np.zeros(1), np.array([[p0, 0.0, -p0 / q0**2, 0.0]]), q0, p0 / q0**2, 1.0, DENSITY, 0.0)


def volume_flows(*branches: Branch, zones: int = 1, density: float = DENSITY) -> np.ndarray:
    """Flows [m3/s] of a level network without heat."""
    none = (0.0,) * zones
    return solve_all([PlainNetwork(branches, none, none, none, density=density)]).mass_flow[0] / density


def pressures(*branches: Branch, zones: int = 1) -> np.ndarray:
    none = (0.0,) * zones
    return solve_all([PlainNetwork(branches, none, none, none)]).pressure[0]


def system(loss: float = K) -> Branch:
    return Branch(0, -1, beta=loss)


# Closed forms, after two fan texts on n equal fans in series and in parallel.
def test_single_fan_works_where_curves_cross():
    flow = volume_flows(Branch(-1, 0, curve=parabola(), speed=1.0), system())[1]
    assert flow == pytest.approx(0.0212132, abs=1e-7)
    assert flow == pytest.approx(Q0 / math.sqrt(2), rel=1e-9)


def test_parallel_fans_add_flow_at_equal_pressure():
    fan = Branch(-1, 0, curve=parabola(), speed=1.0)
    flow = volume_flows(fan, fan, system())[2]
    assert flow == pytest.approx(0.0268328, abs=1e-7)
    assert flow == pytest.approx(Q0 / math.sqrt(1.25), rel=1e-9)


def test_fans_of_one_mount_are_parallel_fans():
    fan = Branch(-1, 0, curve=parabola(), speed=1.0)
    as_two = volume_flows(fan, fan, system())[2]
    assert volume_flows(replace(fan, scale=2.0), system())[1] == pytest.approx(as_two, rel=1e-9)


def test_fans_in_series_add_pressure_at_equal_flow():
    row = Branch(-1, 0, curve=parabola(), speed=1.0), Branch(0, 1, curve=parabola(), speed=1.0), Branch(1, -1, beta=K)
    flow = volume_flows(*row, zones=2)[2]
    assert flow == pytest.approx(0.0244949, abs=1e-7)
    assert flow == pytest.approx(Q0 * math.sqrt(2 / 3), rel=1e-9)


def test_two_parallel_fans_deliver_twice_as_much_freely():
    fan, wide = Branch(-1, 0, curve=parabola(), speed=1.0), system(loss=1e-3)
    one, two = volume_flows(fan, wide)[1], volume_flows(fan, fan, wide)[2]
    assert two / one == pytest.approx(2.0, rel=1e-6)


def test_two_fans_in_a_row_shut_off_at_twice_the_pressure():
    fan = Branch(-1, 0, curve=parabola(), speed=1.0)
    one = pressures(fan, Branch(0, -1, beta=1e12))[0]
    two = pressures(fan, replace(fan, frm=0, to=1), Branch(1, -1, beta=1e12), zones=2)[1]
    assert one == pytest.approx(P0, rel=1e-4)
    assert two / one == pytest.approx(2.0, rel=1e-4)


# A maker's note on parallel fans reads 1.9 and 2.5 units of flow off a graph: a third more, not twice as much.
def test_parallel_fans_gain_less_the_tighter_the_system():
    fan = Branch(-1, 0, curve=parabola(), speed=1.0)
    systems = [system(share * K) for share in (0.1, 0.3, 0.8, 3.0)]
    gains = [volume_flows(fan, fan, one)[2] / volume_flows(fan, one)[1] for one in systems]
    assert gains == sorted(gains, reverse=True)
    assert 1.0 < gains[-1] < gains[0] < 2.0
    assert gains[2] == pytest.approx(2.5 / 1.9, abs=0.02)


# A university homework with answers: 6000 cfm at 4 in of water and 2000 rpm become 4500 cfm at 2.25 in at 1500 rpm.
def test_slower_fan_has_the_flow_and_pressure_of_the_worked_example():
    fan = falling_curve(FanCurve(((0.0, 7.0), (3000.0, 6.0), (6000.0, 4.0), (9000.0, 0.0)), 2000.0))
    network = Branch(-1, 0, curve=fan, speed=1.0), Branch(0, -1, beta=4.0 / 6000.0**2)
    assert volume_flows(*network)[1] == pytest.approx(6000.0, abs=0.5)
    slow = replace(network[0], speed=0.75), network[1]
    assert volume_flows(*slow)[1] == pytest.approx(4500.0, abs=0.5)
    assert pressures(*slow)[0] == pytest.approx(2.25, abs=5e-4)


# Affinity laws (AMCA 201, ASHRAE): exact where every loss is quadratic.
@pytest.mark.parametrize("speed", [0.4, 0.7, 1.3])
def test_affinity_laws_are_exact_with_quadratic_losses(speed):
    fan, other = Branch(-1, 0, beta=4e3, curve=falling_curve(CURVE), speed=1.0), Branch(1, -1, beta=9e3)
    ways = Branch(0, 1, beta=2e4), Branch(0, 1, beta=7e4), Branch(0, -1, beta=3e5), other
    full, slow = (volume_flows(replace(fan, speed=w), *ways, zones=2) for w in (1.0, speed))
    assert slow == pytest.approx(speed * full, rel=1e-9)
    at_full, at_slow = (pressures(replace(fan, speed=w), *ways, zones=2) for w in (1.0, speed))
    assert at_slow == pytest.approx(speed**2 * at_full, rel=1e-9)


def test_a_filter_makes_a_slow_fan_deliver_less_than_its_share():
    fan, way = Branch(-1, 0, curve=falling_curve(CURVE), speed=1.0), Branch(0, -1, alpha=400.0, beta=2e3)
    full, slow = (volume_flows(replace(fan, speed=w), way)[1] for w in (1.0, 0.5))
    assert slow < 0.49 * full


@pytest.mark.parametrize("density", [0.9, 1.0, 1.25])
def test_thin_air_leaves_the_volume_flow(density):
    network = Branch(-1, 0, curve=falling_curve(CURVE), speed=1.0), Branch(0, -1, beta=2e4)
    assert volume_flows(*network, density=density)[1] == pytest.approx(volume_flows(*network)[1], rel=1e-9)


def beside(resting: Branch) -> np.ndarray:
    """Flows of a running fan, a branch that shares its zone, and the way out."""
    return volume_flows(Branch(-1, 0, curve=falling_curve(CURVE), speed=1.0), resting, Branch(0, -1, beta=2e4))


def test_fan_at_rest_is_a_loss_and_no_hole():
    curve = falling_curve(CURVE)
    at_rest = beside(Branch(-1, 0, beta=1e3, curve=curve, speed=0.0))
    opening = beside(Branch(-1, 0, beta=1e3 + curve.tail * 1.2 / curve.density_kg_m3))
    hole = beside(Branch(-1, 0, beta=1e3))
    assert at_rest == pytest.approx(opening, rel=1e-9)
    assert abs(at_rest[1]) < 0.8 * abs(hole[1])
    assert at_rest[1] < 0


def test_fans_at_rest_side_by_side_share_their_flow():
    curve = falling_curve(CURVE)
    pair = beside(Branch(-1, 0, curve=curve, speed=0.0, scale=2.0))
    as_one = beside(Branch(-1, 0, beta=curve.tail / 4 * 1.2 / curve.density_kg_m3))
    assert pair == pytest.approx(as_one, rel=1e-9)


def test_measured_loss_at_rest_replaces_the_curves():
    measured = falling_curve(replace(CURVE, rest_loss_pa_s2_m6=9e3))
    at_rest = beside(Branch(-1, 0, curve=measured, speed=0.0))
    assert at_rest == pytest.approx(beside(Branch(-1, 0, beta=9e3)), rel=1e-9)


def test_a_fan_that_slows_down_comes_to_rest_evenly():
    flows = [beside(Branch(-1, 0, curve=falling_curve(CURVE), speed=w))[1] for w in (1e-2, 1e-3, 1e-5, 0.0)]
    assert flows[2] == pytest.approx(flows[3], rel=1e-3)
    assert flows == sorted(flows, reverse=True)


def test_a_fan_too_weak_is_pushed_back_and_resists():
    weak = beside(Branch(-1, 0, curve=falling_curve(CURVE), speed=0.3))
    rest = beside(Branch(-1, 0, curve=falling_curve(CURVE), speed=0.0))
    assert rest[1] < weak[1] < 0


def test_stall_dip_gives_the_flow_of_its_envelope():
    dipped = FanCurve(((0.0, 24.0), (0.008, 13.0), (0.016, 15.4), (0.024, 8.2), (0.032, 0.0)), 1200.0)
    bridged = FanCurve(((0.0, 24.0), (0.008, 15.4), (0.016, 15.4), (0.024, 8.2), (0.032, 0.0)), 1200.0)
    fans = [Branch(-1, 0, curve=falling_curve(curve), speed=1.0) for curve in (dipped, bridged)]
    for loss in (1e5, 2e5, 4e5):
        one, other = (volume_flows(fan, system(loss))[1] for fan in fans)
        assert one == pytest.approx(other, rel=1e-6)
