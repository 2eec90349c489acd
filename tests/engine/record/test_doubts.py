"""Warnings stand beside figures that rest on less, and only there."""

from dataclasses import replace

import numpy as np

from advisor.engine.inputs import FanCurve
from advisor.engine.judge.reversals import SURE_OF_DIRECTION
from advisor.engine.record.doubts import listing, warnings
from advisor.engine.record.spot import CODES, spot_of
from tests.engine import builds
from tests.engine.record import found


def about(spot, word):
    return [one for one in warnings(spot) if word in one]


def at_steps(build, intake, exhaust, cooler=4):
    return spot_of(build, tuple(int(k) for k in builds.rows_at(build, intake, exhaust)), (cooler,) * 5)


def tower(**fans):
    box = builds.mesh_tower()
    return builds.build_of(box, builds.brief_of(3), fans=builds.fans_of(box, **fans))


def with_flow(spot, branch, flow, u):
    """The same spot with one branch's flow and uncertainty in working set by hand."""
    cells, k = spot.settings.cells, spot.rows[CODES.index("working")]
    flows, turn_u = cells.flows.mass_flow.copy(), cells.turn_u.copy()
    flows[k, branch], turn_u[k, branch] = flow, u
    moved = replace(cells, flows=replace(cells.flows, mass_flow=flows), turn_u=turn_u)
    return replace(spot, settings=replace(spot.settings, cells=moved))


def test_flow_near_to_zero_against_its_uncertainty_is_told():
    spot = found.spot()
    (branch,) = spot.build.case.plumbing.network.branches_of("drives")
    (told,) = about(
        with_flow(spot, branch, 1.9e-3, 1e-3), "Air through drives may turn round in working (1.90 ± 1.00 g/s"
    )
    assert "linear propagation" in told
    assert not about(with_flow(spot, branch, (SURE_OF_DIRECTION + 0.01) * 1e-3, 1e-3), "Air through drives")


def test_a_breath_of_air_is_not_worth_a_warning():
    spot = found.spot()
    (branch,) = spot.build.case.plumbing.network.branches_of("drives")
    assert not about(with_flow(spot, branch, 0.0, 1e-6), "Air through drives")


def test_halves_of_a_tall_opening_are_told_apart():
    spot = found.spot()
    lower, upper = spot.build.case.plumbing.network.branches_of("slots")
    assert about(with_flow(spot, lower, 0.0, 1e-3), "the lower half of slots")
    assert about(with_flow(spot, upper, 0.0, 1e-3), "the upper half of slots")


def test_a_stalled_fan_is_named_with_its_speed():
    dip = ((0.0, 40.0), (0.02, 20.0), (0.03, 26.0), (0.034, 0.0))
    weak = builds.fan(0.14, "dip", curve=FanCurve(dip, 1200.0))
    spot = at_steps(tower(intake={0.14: weak}), -1, -1)
    stalled = [bool(spot.settings.cells.stalled[k].any()) for k in spot.rows]
    assert any(stalled)
    assert about(spot, "dip at front stalls")[0].count("1200 rpm") == 1


def test_a_fan_beyond_its_points_is_told_as_extrapolated():
    short = builds.fan(0.14, "short", curve=FanCurve(((0.0, 13.0), (0.002, 12.0)), 1200.0))
    told = about(at_steps(tower(intake={0.14: short}), -1, -1), "short at front works outside its measured curve")
    assert told and "measured from 0 to 7" in told[0]


def test_sound_far_from_its_readings_is_told_as_extrapolated():
    one = builds.fan(0.14, "heard", sound=((1200.0, 31.0),))
    slow, fast = (at_steps(tower(intake={0.14: one}), step, -1) for step in (0, -1))
    assert "at 400 rpm is extrapolated from readings at 1200 to 1200 rpm" in about(slow, "sound of heard at front")[0]
    assert not about(fast, "sound of heard")


def test_fans_at_rest_are_told():
    box = builds.resting_desk()
    build = builds.build_of(
        box, builds.brief_of(2, processor_watts=30.0), fans=builds.fans_of(box, exhaust={}),
    )  # fmt: skip
    spot = at_steps(build, 0, 0)
    assert bool(spot.settings.cells.still[list(spot.rows)].any()) == bool(about(spot, "no case fan runs"))


def test_a_plain_build_in_the_middle_of_its_curves_has_no_such_warning():
    spot = at_steps(tower(), -1, -1)
    assert not about(spot, "stalls") and not about(spot, "extrapolated") and not about(spot, "no case fan")


def test_listing_joins_words():
    assert (listing([]), listing(["a"]), listing(["a", "b"])) == ("", "a", "a and b")


def test_steps_are_laid_out_as_the_grid():
    spot = at_steps(tower(), 2, 5)
    assert [spot.place(s) for s in range(5)] == [(2, 5, 4)] * 5
    assert np.allclose(spot.settings.cells.rpm[spot.rows[0]], [600, 600, 1300 / 3 + 5 * 1300 / 12])
