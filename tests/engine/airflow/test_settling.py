"""Networks in which warm air turns the flow that carries it: those that need more than flows and rises taking turns."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from advisor.engine.airflow.solver import Flows
from advisor.engine.inputs import FanCurve
from advisor.engine.judge.cells import solve_cells
from advisor.engine.pipeline import load_of, shared_air
from tests.engine import builds
from tests.engine.airflow.plain_network import PlainNetwork, heat_rises, rise_error, solve_flows
from tests.engine.airflow.side_by_side import random_networks, solve_all, warmed
from tests.engine.make_parts import make_drive, make_supply

TURNS = 40  # steps after which the kernel stops letting rises follow flows


@cache
def hard_networks() -> list[tuple[PlainNetwork, Flows]]:
    """Networks, found by trying, that took more steps than the kernel's turns, each solved alone."""
    nets = [net for seed in range(40) for net in random_networks(np.random.default_rng(seed), 100, rest_share=0.4)]
    solved = [(net, solve_all([net], coupled=True)) for net in nets]
    return [(net, flows) for net, flows in solved if flows.steps > TURNS]


def feedback(net: PlainNetwork, rises: np.ndarray, step: float = 1e-5) -> np.ndarray:
    """Slope (zones, zones) of the rises that flows make by the rises taken, by differences of the plain network."""
    shifts = step * np.eye(len(rises))
    ahead, behind = (np.array([rise_error(net, rises + sign * shift) for shift in shifts]) for sign in (1, -1))
    return ((ahead - behind) / (2 * step)).T + np.eye(len(rises))


def test_there_are_hard_networks_to_try():
    assert len(hard_networks()) >= 10


def test_most_of_them_answer_warmth_by_more_than_it():
    """The reason why they are hard: one kelvin more brings several kelvin less."""
    answers = [np.linalg.eigvals(feedback(net, flows.rise[0])).real.min() for net, flows in hard_networks()[:10]]
    assert np.median(answers) < -2


def test_their_flows_make_the_rises_found():
    for net, flows in hard_networks()[:20]:
        assert heat_rises(net, flows.mass_flow[0]) == pytest.approx(flows.rise[0], abs=1e-8)
        plain, _ = solve_flows(warmed(net, flows.rise[0]))
        assert flows.mass_flow[0] == pytest.approx(plain, abs=1e-7 * np.abs(plain).max())


def test_their_air_stays_as_it_was_found():
    """A small disturbance dies down: no slope of the rises made by the rises taken is above 1."""
    for net, flows in hard_networks()[:20]:
        assert np.linalg.eigvals(feedback(net, flows.rise[0])).real.max() < 1


def test_company_changes_nothing_for_them():
    net, alone = hard_networks()[0]
    shape = [(b.frm, b.to, id(b.curve)) for b in net.branches]
    others = [n for n, _ in hard_networks() if [(b.frm, b.to, id(b.curve)) for b in n.branches] == shape]
    together = solve_all([*others, net, *others], coupled=True)
    assert np.array_equal(together.mass_flow[len(others)], alone.mass_flow[0])
    assert np.array_equal(together.rise[len(others)], alone.rise[0])


@pytest.mark.slow
@pytest.mark.parametrize("make", builds.ENCLOSURES)
def test_every_setting_of_whole_builds_settles(make):
    """All grid settings over kinds of fans, heats, supplies, drives and ways of standing; an error would be raised."""
    count = 0
    for orientation in make().orientations:
        for watts, graphics, drives, supply_speed in ((15.0, 0.0, 0, 0.0), (65.0, 0.0, 2, 1.0), (170.0, 350.0, 4, 0.4)):
            for strength in (0.4, 1.0, 2.5):
                count += settings_solved(make(), orientation, watts, graphics, drives, supply_speed, strength)
    assert count >= 1000


def settings_solved(box, orientation, watts, graphics, drives, supply_speed, strength) -> int:
    """Solve one build at all its settings, its fans having ``strength`` times the usual pressure."""
    drives = min(drives, sum(group.count for group in box.bay_groups))
    brief = builds.brief_of(
        drives, processor_watts=watts, graphics_watts=graphics, graphics_count=int(graphics > 0), card_count=0,
        ssd_count=0, orientation=orientation,
    )  # fmt: skip
    sizes = {o.fan_size_m for o in box.openings if o.kind == "fan_mount"}
    fans = {size: stronger(builds.fan(size), strength) for size in sizes}
    supply = make_supply(rating_w=900.0, speed_steps=((1.0, supply_speed),))
    build = builds.build_of(
        box, brief, builds.fans_of(box, fans, fans), supply=supply, drive=make_drive() if drives else None
    )
    shared = shared_air(build.case, build.supply, build.drive)
    load = load_of(build.case, build.supply, build.drive)
    return len(solve_cells(build.case, build.fans, shared.supply, load.heat).scenario)


def stronger(fan, strength):
    points = tuple((q, p * strength) for q, p in fan.curve.points)
    return replace(fan, curve=FanCurve(points, fan.curve.speed_rpm))
