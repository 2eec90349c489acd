"""The front against dominance written out for every pair of builds, each judged by brute force."""

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.engine.search.front import merged, unbeaten
from advisor.engine.search.outcome import Front
from tests.engine.search.small_catalogues import problem
from tests.engine.search.test_search_equals_brute_force import SEEDS, brute, searched

FEW = SEEDS[:12]
SMALL = st.integers(0, 4).map(float)


def figures(seed, one):
    """Noise, headroom, spare places and price of a build judged by brute force, each the less the better."""
    margin, headroom, _ = one.figures
    return round(problem(seed).brief.noise_target_dba - margin, 2), -round(headroom, 2), -one.spare_places, one.price


def beats(one, other):
    return all(a <= b for a, b in zip(one, other, strict=True)) and one != other


def plain_front(seed):
    """Every pair compared; of equal builds the first by id."""
    builds = [(figures(seed, one), one.id) for outcome in brute(seed) for one in outcome.accepted]
    return sorted(
        (known, id)
        for known, id in builds
        if not any(beats(other, known) or (other == known and name < id) for other, name in builds)
    )


def told(front):
    """A front's builds as ``plain_front`` has them."""
    rows = [dict(zip((one.name for one in fields(Front)), row, strict=True)) for row in front.rows()]
    parts = ("enclosure", "intake", "exhaust", "cooler", "supply", "drive")
    return [
        (
            (row["noise_dba"], -row["headroom_k"], -row["spare_places"], row["price"]),
            "~".join(row[name] for name in parts),
        )
        for row in rows
    ]


@pytest.mark.parametrize("seed", FEW)
def test_front_is_that_of_brute_force(seed):
    found = told(merged(one.front for one in searched(seed, False)))
    plain = plain_front(seed)
    assert [id for _, id in found] == [id for _, id in plain]
    assert np.array([known for known, _ in found]) == pytest.approx(np.array([known for known, _ in plain]), abs=1e-6)


def test_fronts_leave_builds_out_and_hold_several():
    sizes = [len(plain_front(seed)) for seed in FEW]
    accepted = [sum(len(outcome.accepted) for outcome in brute(seed)) for seed in FEW]
    assert sum(size > 3 for size in sizes) > len(FEW) / 3
    assert sum(2 * size < count for size, count in zip(sizes, accepted, strict=True)) > len(FEW) / 3


@pytest.mark.parametrize("seed", FEW)
def test_with_bounds_it_holds_accepted_builds_of_which_none_beats_another(seed):
    accepted = {one.id: figures(seed, one) for outcome in brute(seed) for one in outcome.accepted}
    outcomes = searched(seed, True)
    found = told(merged(one.front for one in outcomes))
    assert all(known == pytest.approx(accepted[id], abs=1e-6) for known, id in found)
    assert not any(beats(one, other) for one, _ in found for other, _ in found)
    for best in (one.best[0].candidate.id for one in outcomes if one.best):
        assert any(id == best or known == accepted[best] or beats(known, accepted[best]) for known, id in found)


@pytest.mark.parametrize("seed", FEW[:10])
def test_order_of_chunks_changes_nothing(seed):
    fronts = [one.front for one in searched(seed, False)]
    whole = merged(fronts)
    assert merged(reversed(fronts)) == whole
    assert merged([merged(fronts[1:]), fronts[0], Front()]) == whole
    assert merged([whole, *fronts]) == whole


@given(st.lists(st.tuples(SMALL, SMALL, SMALL, SMALL), max_size=40))
@settings(max_examples=100)
def test_rows_that_stay_are_those_that_no_other_beats(rows):
    found = unbeaten(np.array(rows).reshape(-1, 4))
    assert found.tolist() == [not any(beats(other, row) for other in rows) for row in rows]


def test_nothing_found_has_no_front():
    assert merged([]) == merged([Front(), Front()]) == Front()


def test_many_rows_are_gathered_in_little_room(monkeypatch):
    """The same whether those that are beaten go at the end or all along."""
    wanted = [one.front for one in searched(SEEDS[0], False)]
    monkeypatch.setattr("advisor.engine.search.front.MOST_GATHERED", 3)
    assert [one.front for one in searched.__wrapped__(SEEDS[0], False)] == wanted
