"""A front that is too long loses what is worth least, and says how much."""

import pytest

from advisor.engine.search.outcome import EnclosureOutcome, Front
from advisor.reports.front import front_record
from advisor.reports.trimming import size

COUNT = 150
EMPTY = size(front_record(Front(), (), 0))


def front():
    """Builds of rising noise; what they are worth jumps up and down."""
    part, rising = ("part",) * COUNT, tuple(30.0 + k / 100 for k in range(COUNT))
    worth = tuple((37 * k % COUNT) / COUNT for k in range(COUNT))
    numbers = (3,) * COUNT
    return Front(*(part,) * 6, numbers, rising, rising, numbers, rising, worth)


def outcome(code, accepted, pruned):
    return EnclosureOutcome(code, accepted + pruned, accepted, pruned, {}, (), None)


@pytest.mark.parametrize("most", [EMPTY + 100, 1_000, 5_000, 20_000])
def test_the_most_desirable_stay(most):
    record = front_record(front(), (), most)
    kept = record["columns"]["desirability"]
    assert size(record) <= most
    assert len(kept) + record["left_out"] == COUNT
    assert sorted(kept, reverse=True) == sorted(front().desirability, reverse=True)[: len(kept)]
    assert record["columns"]["noise_dba"] == sorted(record["columns"]["noise_dba"])
    assert (record["left_out"] == 0) == (most == 20_000)


def test_little_room_is_left_empty():
    record = front_record(front(), (), 1_000)
    one_more = front_record(front(), (), 1_000_000)
    each = (size(one_more) - EMPTY) / COUNT
    assert 1_000 - size(record) < 3 * each


def test_what_it_was_chosen_from_is_counted():
    record = front_record(Front(), [outcome("a", 3, 5), outcome("b", 4, 70)], 1_000)
    assert (record["accepted"], record["pruned"]) == (7, 75)
