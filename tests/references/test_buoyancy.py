"""Stack pressure and natural ventilation against published figures and closed forms."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from advisor.engine.air import air_at
from tests.engine.airflow.plain_network import Branch, PlainNetwork
from tests.engine.airflow.side_by_side import solve_all

G = 9.80665
CP = 1006.0


def density(celsius: float) -> float:
    """Dry air at sea level, ideal gas [kg/m3]."""
    return 101325.0 / (287.042 * (celsius + 273.15))


def column(room_c: float, rise_k: float, height_m: float, loss: float = 5e4) -> PlainNetwork:
    """One zone with an opening at its foot and one at its top, and just the heat that warms it by a rise."""
    outside, inside = density(room_c), density(room_c + rise_k)
    stack = G * height_m * (outside - inside)
    flow = math.sqrt(stack / (loss / 1.2 * (1 / outside + 1 / inside)))
    openings = Branch(-1, 0, z=0.0, beta=loss), Branch(0, -1, z=height_m, beta=loss)
    wall = 0.5
    return PlainNetwork(openings, (height_m / 3,), (wall,), ((flow * CP + wall) * rise_k,), room_c, outside, 1.0, CP)


def lost(net: PlainNetwork, flow: float, rise_k: float) -> float:
    """Pressure [Pa] that both openings lose."""
    inside = density(net.ambient_c + rise_k)
    return sum(b.beta / 1.2 * flow**2 / rho for b, rho in zip(net.branches, (net.density, inside), strict=True))


# ASHRAE HVAC Applications 2011, chapter 53: 3460 (1/To - 1/Ts) Pa for each metre, printed as 0.54 at 283.2 and 296.2 K.
def test_stack_pressure_of_a_metre_is_ashraes():
    net = column(10.05, 13.0, 1.0)
    flow = solve_all([net], coupled=True)
    assert lost(net, flow.mass_flow[0, 0], flow.rise[0, 0]) == pytest.approx(0.54, abs=5e-3)
    assert lost(net, flow.mass_flow[0, 0], flow.rise[0, 0]) == pytest.approx(3460 * (1 / 283.2 - 1 / 296.2), rel=2e-3)


# g h (rho_o - rho_i) for 0.4 m, a room of 25 and 35 degrees inside, at 101325 Pa.
def test_stack_pressure_of_a_chassis_is_g_h_and_the_difference_of_densities():
    net = column(25.0, 10.0, 0.4)
    flow = solve_all([net], coupled=True)
    assert flow.rise[0, 0] == pytest.approx(10.0, abs=1e-6)
    assert lost(net, flow.mass_flow[0, 0], 10.0) == pytest.approx(0.15071, abs=1e-4)


def test_density_of_the_closed_forms_is_that_of_the_air_module():
    assert air_at(20.0, relative_humidity=0.0).density == pytest.approx(density(20.0), rel=1e-6)


@pytest.mark.parametrize(("room_c", "rise_k", "height_m"), [(20.0, 5.0, 0.3), (22.0, 15.0, 0.45), (35.0, 40.0, 0.6)])
def test_natural_ventilation_of_a_box_is_the_closed_form(room_c, rise_k, height_m):
    net = column(room_c, rise_k, height_m)
    found = solve_all([net], coupled=True)
    flow = (net.heat[0] / rise_k - net.wall[0]) / CP
    assert found.rise[0, 0] == pytest.approx(rise_k, rel=1e-7)
    assert found.mass_flow[0] == pytest.approx([flow, flow], rel=1e-7)


# ASHRAE Fundamentals 1997, p. 25.13, eq. 37: Q = Cd A sqrt(2 g dH (Ti - To)/Ti), dH from the lower opening to the
# neutral level, here half the height; Cd of an opening is 1/sqrt(K). It does not tell what comes in from what goes out.
@pytest.mark.parametrize("rise_k", [4.0, 10.0, 20.0])
def test_natural_ventilation_is_near_ashraes_formula(rise_k):
    discharge, area, height = 0.65, 0.004, 0.4
    loss = 1.2 / 2 / (discharge * area) ** 2
    found = solve_all([column(22.0, rise_k, height, loss)], coupled=True)
    inside = 22.0 + 273.15 + rise_k
    printed = discharge * area * math.sqrt(2 * G * height / 2 * rise_k / inside)
    volumes = found.mass_flow[0] / np.array([density(22.0), density(22.0 + rise_k)])
    assert volumes.mean() == pytest.approx(printed, rel=0.02)


def test_a_heated_column_of_zones_pulls_with_each_zones_own_density():
    """Three zones on top of each other, each warmer than the one below: their stacks add."""
    outside, rises, tops = density(22.0), np.array([6.0, 11.0, 18.0]), (0.1, 0.25, 0.45, 0.6)
    inside = np.array([density(22.0 + rise) for rise in rises])
    stack = G * np.sum((outside - inside) * np.diff(tops))
    loss = 4e4
    flow = math.sqrt(stack / (loss / 1.2 * (1 / outside + np.sum(1 / inside))))
    ways = [Branch(k - 1, k if k < 3 else -1, z=tops[k], beta=loss) for k in range(4)]
    heat = flow * CP * np.diff(np.concatenate([[0.0], rises])) + 0.2 * rises
    net = PlainNetwork(tuple(ways), (0.2, 0.3, 0.5), (0.2,) * 3, tuple(heat), 22.0, outside, 1.0, CP)
    found = solve_all([net], coupled=True)
    assert found.rise[0] == pytest.approx(rises, rel=1e-6)
    assert found.mass_flow[0] == pytest.approx(np.full(4, flow), rel=1e-6)


@pytest.mark.parametrize("zone_at", [0.0, 0.2, 0.4, 5.0])
def test_where_a_zone_says_that_it_is_does_not_matter(zone_at):
    net = column(22.0, 12.0, 0.4)
    flows = [solve_all([one], coupled=True).mass_flow[0] for one in (net, replace(net, z_zone=(zone_at,)))]
    assert flows[0] == pytest.approx(flows[1], rel=1e-9)


def test_a_box_upside_down_breathes_as_well():
    net = column(22.0, 12.0, 0.4)
    turned = replace(net, branches=tuple(replace(b, z=0.4 - b.z) for b in net.branches))
    flows = [solve_all([one], coupled=True).mass_flow[0] for one in (net, turned)]
    assert flows[1] == pytest.approx(-flows[0], rel=1e-7)


def test_without_height_there_is_no_stack():
    net = column(22.0, 12.0, 0.4)
    found = solve_all([replace(net, branches=tuple(replace(b, z=0.1) for b in net.branches))], coupled=True)
    assert np.abs(found.mass_flow).max() < 1e-12
    assert found.rise[0, 0] == pytest.approx(net.heat[0] / net.wall[0])


# Common practice, no source: beside a fan of 20 Pa the stack of a tower counts for less than a hundredth.
def test_stack_is_nothing_against_a_fan():
    net = column(25.0, 10.0, 0.4)
    flow = solve_all([net], coupled=True)
    assert lost(net, flow.mass_flow[0, 0], 10.0) < 0.01 * 20.0
