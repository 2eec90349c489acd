"""The breakdown: parts make the total, and the propagated uncertainty is that of a Monte Carlo."""

import math

import numpy as np
import pytest

from advisor.engine.errors import InputError
from advisor.engine.noise.breakdown import Source, breakdown, seat_level
from advisor.engine.noise.levels import energy, sum_levels
from advisor.engine.noise.paths import trace

FACES = ("front", "rear", "left", "right", "top", "bottom")
LOSS = {"front": 1.0, "rear": 0.5, "left": 10.0, "right": 9.0, "top": 2.0, "bottom": 4.0}
OFFSET_DB = {"front": 0.0, "rear": -6.0, "left": -3.0, "right": -3.0, "top": -3.0, "bottom": -3.0}
SIDE = {"front": "facing", "rear": "behind", "left": "side", "right": "side", "top": "side", "bottom": "side"}
LOSS_U_DB = 1.5

# name, part, sound power, uncertainty, shares over faces
MACHINES = {
    "two_fans_of_one_model": (
        ("intake", "fan-a", 34.0, 1.4, {"front": 0.8, "left": 0.2}),
        ("exhaust", "fan-a", 33.0, 1.2, {"rear": 0.9, "top": 0.1}),
        ("drives", "drive-x", 31.0, 1.5, {"front": 0.4, "rear": 0.2, "left": 0.2, "bottom": 0.2}),
        ("supply", "supply-y", 26.0, 1.5, {"rear": 1.0}),
    ),
    "one_loud_board": (
        ("graphics", "board-z", 45.0, 2.0, {"rear": 0.5, "left": 0.25, "right": 0.25}),
        ("intake", "fan-a", 25.0, 1.0, {"front": 1.0}),
    ),
}


def sources_of(machine):
    return [
        Source(name, power, u, trace(shares, LOSS, "front", "upright", 0.8, 2.0, 10.0), part)
        for name, part, power, u, shares in MACHINES[machine]
    ]


def result_of(sources, placement_u_db=3.0):
    return breakdown(sources, insertion_loss_u_db=LOSS_U_DB, background_dba=25.0, placement_loss_u_db=placement_u_db)


def simulated_levels(machine, placement_u_db, draws=20_000):
    """Draw every parameter and compute the level by the plain formula, apart from the code under test."""
    random = np.random.default_rng(2)
    loss = {face: LOSS[face] + random.normal(0, LOSS_U_DB, draws) for face in FACES}
    side = {name: random.normal(0, 2.0, draws) for name in ("facing", "side", "behind")}
    absorption = 10.0 * np.exp(random.normal(0, 0.2, draws))
    reading = {part: random.normal(0, 1, draws) for _, part, *_ in MACHINES[machine]}
    total = np.zeros(draws)
    for _, part, power, u, shares in MACHINES[machine]:
        for face, share in shares.items():
            direct = 2.0 / (4 * np.pi * 0.8**2) * 10 ** ((OFFSET_DB[face] + side[SIDE[face]]) / 10)
            leaving = share * 10 ** ((power + u * reading[part] - loss[face]) / 10)
            total += leaving * (direct + 4 / absorption)
    common = random.normal(0, math.hypot(0.5, 0.5, placement_u_db), draws)
    return 10 * np.log10(total) + common


@pytest.mark.parametrize("placement_u_db", [0.0, 3.0])
@pytest.mark.parametrize("machine", sorted(MACHINES))
def test_uncertainty_equals_monte_carlo_within_five_percent(machine, placement_u_db):
    propagated = result_of(sources_of(machine), placement_u_db).standard_uncertainty_db
    assert propagated == pytest.approx(np.std(simulated_levels(machine, placement_u_db)), rel=0.05)


# Decibels of uncertain parts add up convexly: METHODS.md states this bound on what the first order leaves out.
@pytest.mark.parametrize("machine", sorted(MACHINES))
def test_level_is_within_a_quarter_of_its_uncertainty_of_the_mean(machine):
    result = result_of(sources_of(machine), 0.0)
    bias = np.mean(simulated_levels(machine, 0.0)) - result.level_dba
    assert 0.0 < bias < 0.25 * result.standard_uncertainty_db


def test_contributions_make_the_level():
    result = result_of(sources_of("two_fans_of_one_model"))
    assert sum_levels([part.level_dba for part in result.contributions]) == pytest.approx(result.level_dba)
    assert sum(part.heard_share for part in result.contributions) == pytest.approx(1.0)


def test_contributions_come_loudest_first():
    found = [part.level_dba for part in result_of(sources_of("two_fans_of_one_model")).contributions]
    assert found == sorted(found, reverse=True)


def test_a_source_leaves_by_each_of_its_faces():
    parts = [part for part in result_of(sources_of("two_fans_of_one_model")).contributions if part.source == "drives"]
    assert {part.path: part.share for part in parts} == MACHINES["two_fans_of_one_model"][2][4]


def test_background_stands_beside_the_machine():
    result = result_of(sources_of("one_loud_board"))
    assert result.with_background_dba == pytest.approx(sum_levels([result.level_dba, 25.0]))


def test_one_part_twice_is_less_sure_than_two_parts():
    alike = sources_of("two_fans_of_one_model")
    apart = [Source(s.name, s.sound_power_db, s.standard_uncertainty_db, s.path) for s in alike]
    assert result_of(alike).standard_uncertainty_db > result_of(apart).standard_uncertainty_db


def test_equal_sources_of_one_part_keep_its_whole_uncertainty():
    path = trace({"front": 1.0}, LOSS, "front", "upright", 0.8, 2.0, 10.0)
    pair = [Source(name, 30.0, 1.4, path, "fan-a") for name in ("left fan", "right fan")]
    assert result_of(pair).terms["sound:fan-a"] == pytest.approx(1.4)


def test_uncertainty_is_the_root_of_its_terms():
    result = result_of(sources_of("two_fans_of_one_model"))
    assert result.standard_uncertainty_db**2 == pytest.approx(sum(term**2 for term in result.terms.values()))


def test_common_insertion_loss_is_summed_over_sources_first():
    path = trace({"front": 1.0}, LOSS, "front", "upright", 0.8, 2.0, 10.0)
    pair = [Source(name, 30.0, 1.0, path) for name in ("one", "other")]
    assert result_of(pair).terms["insertion_loss:front"] == pytest.approx(-LOSS_U_DB)


def test_resting_source_changes_nothing():
    sources = sources_of("one_loud_board")
    resting = Source("rear fan", -math.inf, 0.0, sources[0].path, "fan-b")
    assert result_of([*sources, resting]) == result_of(sources)


def test_machine_at_rest_is_silent():
    path = trace({"front": 1.0}, LOSS, "front", "upright", 0.8, 2.0, 10.0)
    result = result_of([Source("fan", -math.inf, 0.0, path)])
    assert (result.level_dba, result.standard_uncertainty_db, result.contributions) == (-math.inf, 0.0, ())
    assert result.with_background_dba == 25.0


def test_batch_of_candidates_equals_one_by_one():
    sources = sources_of("two_fans_of_one_model")
    powers = np.array([[s.sound_power_db for s in sources], [-math.inf, 20.0, 30.0, -math.inf]])
    together = seat_level(powers, [s.path.transfer for s in sources])
    assert together[0] == pytest.approx(result_of(sources).level_dba)
    assert energy(together[1]) == pytest.approx(
        energy(20.0) * sources[1].path.transfer + energy(30.0) * sources[2].path.transfer
    )


def test_two_sources_of_one_name_are_refused():
    with pytest.raises(InputError, match="named twice: supply"):
        result_of([*sources_of("two_fans_of_one_model"), sources_of("two_fans_of_one_model")[-1]])
