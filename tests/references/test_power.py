"""Power against published figures, with the source beside each."""

from pathlib import Path

import numpy as np
import pytest
import yaml

from advisor.engine.power.draw import fan_watts
from advisor.engine.power.spin_up import SEQUENTIAL_START_INTERVAL_S, spin_up_plan, surge_watts
from advisor.engine.power.supply import efficiency_at, wall_power
from tests.engine.make_parts import make_drive, make_supply

# 80 PLUS minimum efficiency at 20, 50 and 100 % load; program tables as copied in encyclopedias.
AT_115_V = {
    "plain": (0.80, 0.80, 0.80),
    "bronze": (0.82, 0.85, 0.82),
    "silver": (0.85, 0.88, 0.85),
    "gold": (0.87, 0.90, 0.87),
    "platinum": (0.90, 0.92, 0.89),
    "titanium": (0.92, 0.94, 0.90),
}
AT_230_V = {
    "plain": (0.82, 0.85, 0.82),
    "bronze": (0.85, 0.88, 0.85),
    "silver": (0.87, 0.90, 0.87),
    "gold": (0.90, 0.92, 0.89),
    "platinum": (0.92, 0.94, 0.90),
    "titanium": (0.94, 0.96, 0.94),
}
LOADS = (0.2, 0.5, 1.0)
EXAMPLES = [
    pytest.param(table[level], id=f"{level}_{volts}")
    for volts, table in (("115", AT_115_V), ("230", AT_230_V))
    for level in table
]


def supply_of(points, rating_w=1000.0):
    return make_supply(rating_w=rating_w, efficiency=tuple(zip(LOADS, points, strict=True)))


def test_heat_of_a_supply_at_92_percent():
    """Definition of efficiency: 300 W at 92 % take 326.087 W and leave 26.087 W."""
    state = wall_power(supply_of((0.92, 0.92, 0.92)), 300.0)
    assert (state.wall_w, state.loss_w) == (pytest.approx(326.0870, abs=1e-4), pytest.approx(26.0870, abs=1e-4))


@pytest.mark.parametrize(("efficiency", "wall", "heat"), [(0.6, 1000.0, 400.0), (0.8, 750.0, 150.0)])
def test_heat_of_600_w(efficiency, wall, heat):
    """Encyclopedia text on supply efficiency: 600 W at 60 % and 80 %."""
    state = wall_power(supply_of((efficiency,) * 3), 600.0)
    assert (state.wall_w, state.loss_w) == (pytest.approx(wall), pytest.approx(heat))


@pytest.mark.parametrize("points", EXAMPLES)
def test_80_plus_supply_meets_its_own_table(points):
    """80 PLUS program tables: the curve passes each point and stays between the lowest and highest."""
    assert efficiency_at(supply_of(points), LOADS) == pytest.approx(points)
    between = efficiency_at(supply_of(points), np.linspace(0.2, 1.0, 81))
    assert between.min() >= min(points) - 1e-12
    assert between.max() <= max(points) + 1e-12


@pytest.mark.parametrize("table", [AT_115_V, AT_230_V], ids=["115", "230"])
@pytest.mark.parametrize("load", [20.0, 200.0, 350.0, 500.0, 750.0, 1000.0])
def test_higher_80_plus_level_wastes_less(table, load):
    """80 PLUS program tables: at any load a higher level keeps less heat."""
    losses = [float(wall_power(supply_of(points), load).loss_w) for points in table.values()]
    assert losses == sorted(losses, reverse=True)


def test_titanium_at_a_tenth_agrees_with_the_model_of_light_loads():
    """80 PLUS Titanium, 115 V: 90 % at 10 % load; half the loss at 20 % is taken as constant, within 2 points."""
    assert efficiency_at(supply_of(AT_115_V["titanium"]), 0.1) == pytest.approx(0.90, abs=0.02)


@pytest.mark.parametrize("current", [2.0, 2.8])
def test_spin_up_surge_of_drive_manuals(current):
    """Product manuals of 3.5-inch drives, 'DC power requirements': 2.0 A typical, 2.8 A an older one, at 12 V."""
    plan = spin_up_plan(make_drive(spin_up_a=current), 10, 0.0, make_supply(rating_12v_w=480.0))
    assert surge_watts(make_drive(spin_up_a=current)) == pytest.approx(12.0 * current)
    assert plan.peak_w_12v == pytest.approx(120.0 * current)


def test_idle_current_on_12_v_lies_in_the_manuals_range():
    """Product manuals of 3.5-inch drives: 0.15 to 0.52 A at 12 V when idle."""
    idle = [make_drive(idle_w=watts, spin_up_a=0.0) for watts in (3.5, 5.0, 6.5)]
    assert all(0.15 <= surge_watts(drive) / 12.0 <= 0.52 for drive in idle)


def test_sequential_start_interval_of_a_drive_manual():
    """A SAS drive's product manual, section 4.2: start motors at intervals of 12 s or more."""
    assert SEQUENTIAL_START_INTERVAL_S >= 12.0


def test_third_fan_law_worked_example():
    """University homework with answers: 6 hp at 2000 rpm are 2.53 hp at 1500 rpm."""
    assert fan_watts(6.0, 1500.0, 2000.0) == pytest.approx(2.53, abs=0.005)


DEMO_SUPPLIES = yaml.safe_load((Path(__file__).parents[2] / "fixtures" / "catalog" / "supplies.yaml").read_text())


@pytest.mark.parametrize("block", DEMO_SUPPLIES, ids=lambda block: block["code"])
def test_demo_supply_lies_within_the_80_plus_levels(block):
    """80 PLUS tables of least efficiencies: 5 points below plain at 115 V to 1 point above Titanium at 230 V."""
    supply = make_supply(rating_w=block["rating_w"], efficiency=tuple(map(tuple, block["efficiency"])))
    found = efficiency_at(supply, LOADS)
    assert np.all(found >= np.array(AT_115_V["plain"]) - 0.05)
    assert np.all(found <= np.array(AT_230_V["titanium"]) + 0.01)
