"""The air of the demo catalogue's enclosures at every setting of many fans: each network must settle."""

import random
from datetime import UTC, datetime
from pathlib import Path

import pytest

from advisor.assembly import catalogue
from advisor.engine.case.case import prepare
from advisor.engine.case.fans import FanSet, fan_choices
from advisor.engine.inputs import Brief, Catalogue, Enclosure
from advisor.engine.judge.cells import solve_cells
from advisor.engine.pipeline import load_of, shared_air
from advisor.engine.storage.bays import BayPlan, plan_bays
from catalog.importing.loading import load_catalog

DEMO = Path(__file__).parents[2] / "fixtures" / "catalog"
CHOICES = 3
# Heat of processor and graphics board [W], drives, hot day [degC].
LOADS = ((15.0, 0.0, 1, 30.0), (65.0, 0.0, 2, 35.0), (125.0, 250.0, 2, 30.0), (170.0, 450.0, 4, 38.0))


@pytest.mark.slow
def test_every_network_of_the_demo_enclosures_settles(db):
    """A network that does not settle raises an error."""
    load_catalog(path=DEMO, at=datetime(2031, 6, 1, tzinfo=UTC))
    parts, draw, solved = catalogue(), random.Random(5), 0
    for box in parts.enclosures:
        for orientation in box.orientations:
            solved += sum(solve_some(box, orientation, parts, draw, *load) for load in LOADS)
    assert solved > 200_000


def solve_some(
    box: Enclosure, orientation: str, parts: Catalogue, draw: random.Random, watts: float, graphics: float, drives: int,
    hot_day_c: float,
) -> int:  # fmt: skip
    """Solve an enclosure with random choices of fans, supply and drive at all settings; return how many there were."""
    brief = Brief(
        watts, "atx", 32.0, drive_count=drives, graphics_watts=graphics, graphics_count=int(graphics > 0),
        graphics_length_m=0.28, graphics_slots=3, hot_day_c=hot_day_c, orientation=orientation,
    )  # fmt: skip
    plan = plan_bays(box, "3.5", drives, adapters=parts.adapters)
    needed = watts + graphics + 100.0 + 10.0 * drives
    supplies = [one for one in parts.supplies if one.form in box.supply_forms and one.rating_w >= needed]
    sides = [fan_choices(box, side, parts.fans) for side in ("intake", "exhaust")]
    if not isinstance(plan, BayPlan) or not supplies or not all(sides):
        return 0
    case = prepare(brief, box, parts, plan, (), drives)
    count = 0
    for _ in range(CHOICES):
        supply, drive = draw.choice(supplies), draw.choice(parts.drives)
        shared, load = shared_air(case, supply, drive), load_of(case, supply, drive)
        count += len(solve_cells(case, FanSet(*map(draw.choice, sides)), shared.supply, load.heat).scenario)
    return count
