"""The search against every candidate judged by itself, on small random catalogues."""

from collections import Counter
from functools import cache
from math import log

import pytest

from advisor.engine.desirability import CRITERIA
from advisor.engine.search.score import score_enclosure
from advisor.engine.search.shortlist import shortlist
from advisor.engine.search.space import allowed
from tests.engine.search.brute_force import judge_all, plain_shortlist
from tests.engine.search.small_catalogues import problem

SEEDS = range(120, 172)  # among them every sort of refusal that is asked for below
LARGER = range(1000, 1015)


@cache
def brute(seed, *size):
    """Outcome of every enclosure by brute force."""
    given = problem(seed, *size)
    return [judge_all(given.brief, given.catalogue, box) for box in given.catalogue.enclosures]


@cache
def searched(seed, prune, *size):
    """Outcome of every enclosure by the search."""
    given = problem(seed, *size)
    parts = allowed(given.brief, given.catalogue)
    return [score_enclosure(given.brief, parts, box, prune=prune) for box in parts.enclosures]


def pairs(seed, prune, *size):
    return list(zip(brute(seed, *size), searched(seed, prune, *size), strict=True))


def assert_same_best(plain, found):
    assert [(one.id, one.rows, one.steps) for one in plain.best] == [
        (one.candidate.id, one.rows, one.steps) for one in found.best
    ]
    for one, other in zip(plain.best, found.best, strict=True):
        assert other.desirability == pytest.approx(one.desirability, abs=1e-9)
        assert (other.noise_margin_db, other.headroom_k, other.airflow) == pytest.approx(one.figures, abs=1e-9)
        assert other.candidate.price == pytest.approx(one.price, abs=1e-9)


def assert_same_miss(plain, found):
    one, other = plain.nearest_miss, found.nearest_miss
    assert (one is None) == (other is None)
    if one is not None:
        assert (other.candidate.id, other.code, other.tier) == (one.id, one.code, one.tier)
        assert other.miss == pytest.approx(one.miss, abs=1e-9)
        assert other.candidate.price == pytest.approx(one.price, abs=1e-9)


def assert_no_count_above(plain, found):
    assert found.accepted + sum(found.rejected.values()) + found.pruned == found.considered == plain.considered
    assert found.accepted <= len(plain.accepted)
    assert not Counter(found.rejected) - Counter(plain.rejected)


@pytest.mark.parametrize("seed", SEEDS)
def test_counts_are_those_of_brute_force(seed):
    for plain, found in pairs(seed, False):
        assert (found.considered, found.accepted, found.pruned) == (plain.considered, len(plain.accepted), 0)
        assert dict(found.rejected) == plain.rejected


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("prune", [False, True])
def test_best_builds_are_those_of_brute_force(seed, prune):
    for plain, found in pairs(seed, prune):
        assert_same_best(plain, found)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("prune", [False, True])
def test_nearest_misses_are_those_of_brute_force(seed, prune):
    for plain, found in pairs(seed, prune):
        assert_same_miss(plain, found)


@pytest.mark.parametrize("seed", SEEDS)
def test_pruned_counts_add_up(seed):
    for plain, found in pairs(seed, True):
        assert_no_count_above(plain, found)


def apart(one, other):
    """Two builds can be told apart where their desirabilities differ by more than a fifth."""
    return abs(log(one.desirability / other.desirability)) > 0.2


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("prune", [False, True])
def test_shortlist_is_that_of_brute_force(seed, prune):
    plain, found = plain_shortlist(brute(seed), apart), shortlist(searched(seed, prune), apart)
    assert [(e.best.id, e.rank, e.tied_with, [o.id for o in e.alternatives]) for e in plain] == [
        (e.best.candidate.id, e.rank, frozenset(e.tied_with), [o.candidate.id for o in e.alternatives])
        for e in found.entries
    ]
    misses = sorted((o.nearest_miss for o in brute(seed) if o.nearest_miss), key=lambda miss: miss.order)
    assert [miss.candidate.id for miss in found.nearest_misses] == [miss.id for miss in misses]
    assert found.considered == sum(outcome.considered for outcome in brute(seed))


@pytest.mark.parametrize("seed", SEEDS)
def test_criteria_make_the_desirability(seed):
    weights = problem(seed).brief.weights
    for found in searched(seed, True):
        for one in found.best:
            assert tuple(one.criteria) == CRITERIA
            known = {"noise": 3.0, "headroom": 3.0, "airflow": 1.0, "bays": 1.0, "service": 1.0, "price": 2.0} | weights
            mean = sum(known[name] * log(value) for name, value in one.criteria.items()) / sum(known.values())
            assert log(one.desirability) == pytest.approx(mean, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_catalogue_has_rejections_ties_and_a_near_miss(seed):
    outcomes = brute(seed)
    assert any(outcome.missed for outcome in outcomes)
    assert any(outcome.nearest_miss for outcome in outcomes)
    orders = Counter(one.order[:-1] for outcome in outcomes for one in outcome.accepted + outcome.missed)
    assert max(orders.values()) > 1


def test_half_of_the_catalogues_have_half_their_space_pruned():
    halves = 0
    for seed in SEEDS:
        found = searched(seed, True)
        halves += 2 * sum(one.pruned for one in found) >= sum(one.considered for one in found)
    assert halves >= len(SEEDS) / 2


def test_catalogues_are_of_many_sorts():
    codes = Counter(code for seed in SEEDS for outcome in brute(seed) for code in outcome.rejected)
    assert {"noise", "processor_limit", "drive_limit", "over_budget", "no_common_setting", "supply_rating"} <= {*codes}
    assert sum(len(outcome.best) == 6 for seed in SEEDS for outcome in brute(seed)) >= 30
    edges = [outcome.best for seed in SEEDS for outcome in brute(seed) if len(outcome.accepted) > 1]
    assert sum(any(a.order[:-1] == b.order[:-1] for a, b in zip(best, best[1:], strict=False)) for best in edges) >= 15
    tiers = Counter(outcome.nearest_miss.tier for seed in SEEDS for outcome in brute(seed) if outcome.nearest_miss)
    assert min(tiers[0], tiers[1]) >= 10
    briefs = [problem(seed).brief for seed in SEEDS]
    assert sum(brief.budget is not None for brief in briefs) >= 5
    assert sum(brief.usable_capacity_tb is not None for brief in briefs) >= 5


@pytest.mark.slow
@pytest.mark.parametrize("seed", LARGER)
@pytest.mark.parametrize("prune", [False, True])
def test_larger_catalogues_give_what_brute_force_gives(seed, prune):
    for plain, found in pairs(seed, prune, 250, 600):
        assert_same_best(plain, found)
        assert_same_miss(plain, found)
        assert_no_count_above(plain, found)
