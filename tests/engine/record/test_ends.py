"""The two ends against a plain search of the grid."""

import itertools
import math

import pytest

from advisor.engine.record.ends import ends, grids
from advisor.engine.record.spot import CODES
from tests.engine.record import found

BOXES = [box.code for box in found.catalogue().enclosures]


def kept(spot):
    """Every setting of every scenario that meets all limits: steps, energy, slack."""
    energy, slack = grids(spot)
    _, intakes, exhausts, coolers = energy.shape
    listed = [[] for _ in CODES]
    for s in range(len(CODES)):
        for at in itertools.product(range(intakes), range(exhausts), range(coolers)):
            quiet = not spot.judged(s) or energy[s][at] <= spot.arrays.target
            if quiet and slack[s][at] >= 0:
                listed[s].append((at, float(energy[s][at]), float(slack[s][at])))
    return listed


def consistent(spot, listed):
    """For each way to set the switches, what every scenario can do with it; ways that leave a scenario out go."""
    manual = (*(steps.manual for steps in spot.settings.cells.steps), spot.cooler_steps.manual)
    ways = {tuple(step if fixed else None for step, fixed in zip(at, manual, strict=True)) for at, _, _ in listed[0]}
    for way in ways:
        left = [
            [one for one in scenario if all(w in (None, step) for w, step in zip(way, one[0], strict=True))]
            for scenario in listed
        ]
        if all(left):
            yield left


SPOTS = dict.fromkeys(BOXES, found.spot) | {"switched": lambda _: found.switched()}


@pytest.mark.parametrize("code", SPOTS)
def test_quietest_is_the_least_noise_that_meets_all_limits(code):
    spot = SPOTS[code](code)
    judged = [s for s in range(len(CODES)) if spot.judged(s)]
    least = min(max(min(one[1] for one in left[s]) for s in judged) for left in consistent(spot, kept(spot)))
    assert ends(spot)["quietest"].noise_dba == pytest.approx(10 * math.log10(least), abs=1e-9)


@pytest.mark.parametrize("code", SPOTS)
def test_coolest_is_the_most_headroom_that_keeps_the_noise_target(code):
    spot = SPOTS[code](code)
    most = max(min(max(one[2] for one in scenario) for scenario in left) for left in consistent(spot, kept(spot)))
    assert ends(spot)["coolest"].headroom_k == pytest.approx(most, abs=1e-9)


@pytest.mark.parametrize("code", BOXES)
def test_chosen_lies_between_the_ends(code):
    record = found.record(code)
    quietest, coolest = record.ends["quietest"], record.ends["coolest"]
    chosen = found.brief().noise_target_dba - record.noise_margin_db
    assert quietest.noise_dba - 1e-9 <= chosen
    assert record.headroom_k <= coolest.headroom_k + 1e-9
    assert quietest.headroom_k >= 0 and coolest.noise_dba <= found.brief().noise_target_dba


def test_switch_keeps_one_step_in_all_scenarios():
    for end in ends(found.switched()).values():
        assert all(end.settings[scenario]["exhaust"].manual for scenario in CODES)
        assert len({end.settings[scenario]["exhaust"].speed_rpm for scenario in CODES}) == 1
    quietest = ends(found.switched())["quietest"]
    assert len({quietest.settings[scenario]["intake"].speed_rpm for scenario in CODES}) > 1


def test_no_setting_within_the_limits_has_no_ends():
    assert found.describe_with_target(5.0).ends == {}
