"""Ranks, ties and sums of a shortlist, on outcomes written by hand."""

from advisor.engine.case.fans import FanSet
from advisor.engine.search.outcome import Candidate, EnclosureOutcome, NearMiss, Scored
from advisor.engine.search.shortlist import shortlist
from tests.engine.make_parts import make_cooler, make_enclosure, make_supply


def candidate(code, price=500.0):
    return Candidate(make_enclosure(code=code), FanSet((), ()), make_cooler(), make_supply(), None, 0, price)


def scored(code, desirability, price=500.0):
    return Scored(candidate(code, price), (0,) * 5, (0,) * 5, 3.0, 5.0, 0.9, {}, desirability)


def outcome(code, *desirabilities, price=500.0, **counts):
    best = tuple(scored(code, value, price) for value in desirabilities)
    known = {"considered": 10, "accepted": len(best), "pruned": 0, "rejected": {}, "nearest_miss": None}
    return EnclosureOutcome(enclosure=code, best=best, **{**known, **counts})


def missed(code, miss, tier=0, price=500.0):
    return outcome(code, nearest_miss=NearMiss(candidate(code, price), "noise", tier, miss, ""))


def letters(ids):
    return "".join(sorted(one.split("~")[0] for one in ids))


def ranked(outcomes, resolved):
    """Enclosure, rank and ties of every entry."""
    found = shortlist(outcomes, resolved).entries
    return [(entry.best.candidate.enclosure.code, entry.rank, letters(entry.tied_with)) for entry in found]


def further_than(step):
    return lambda one, other: abs(one.desirability - other.desirability) > step


def apart(*pairs):
    """Resolved are the pairs of codes given, whichever comes first."""
    known = {frozenset(pair) for pair in pairs}
    return lambda one, other: frozenset((one.candidate.enclosure.code, other.candidate.enclosure.code)) in known


def always(one, other):
    return True


def never(one, other):
    return False


def test_resolved_entries_have_a_rank_each():
    assert ranked([outcome("b", 0.5), outcome("a", 0.7), outcome("c", 0.3)], always) == [
        ("a", 1, ""),
        ("b", 2, ""),
        ("c", 3, ""),
    ]


def test_entries_that_all_tie_share_the_first_rank():
    assert ranked([outcome("a", 0.7), outcome("b", 0.5), outcome("c", 0.3)], never) == [
        ("a", 1, "bc"),
        ("b", 1, "ac"),
        ("c", 1, "ab"),
    ]


def test_rank_after_a_shared_one_counts_all_before_it():
    found = ranked([outcome("a", 0.70), outcome("b", 0.69), outcome("c", 0.50), outcome("d", 0.49)], further_than(0.05))
    assert found == [("a", 1, "b"), ("b", 1, "a"), ("c", 3, "d"), ("d", 3, "c")]


def test_entries_follow_the_leader_not_the_one_before():
    # b ties with a, and c with b but not with a: c leads, and its tie with b crosses ranks.
    found = ranked([outcome("a", 0.70), outcome("b", 0.66), outcome("c", 0.62)], further_than(0.05))
    assert found == [("a", 1, "b"), ("b", 1, "ac"), ("c", 3, "b")]


def test_entry_after_the_next_leader_does_not_return_to_the_first():
    # d cannot be told from a, but c is: the order by desirability stays, and the tie is told.
    found = ranked([outcome(code, value) for code, value in zip("acd", (0.7, 0.6, 0.5), strict=True)], apart("ac"))
    assert found == [("a", 1, "d"), ("c", 2, "d"), ("d", 2, "ac")]


def test_every_unresolved_pair_is_told_on_both_sides():
    outcomes = [outcome(code, 0.9 - 0.1 * k) for k, code in enumerate("abcde")]
    found = {code: ties for code, _, ties in ranked(outcomes, apart("ab", "ac", "bd", "ce"))}
    assert found == {"a": "de", "b": "ce", "c": "bd", "d": "ace", "e": "abd"}
    assert all(one in found[other] for one in found for other in found[one])


def test_equal_desirability_leaves_the_cheaper_then_the_first_id():
    outcomes = [outcome("c", 0.5), outcome("b", 0.5, price=400.0), outcome("a", 0.5), outcome("d", 0.5 + 1e-13)]
    assert [code for code, _, _ in ranked(outcomes, never)] == ["b", "a", "c", "d"]


def test_alternatives_are_the_other_builds_of_the_enclosure():
    (entry,) = shortlist([outcome("a", 0.7, 0.6, 0.5)], never).entries
    assert [one.desirability for one in entry.alternatives] == [0.6, 0.5]


def test_no_more_than_twenty_entries_are_listed():
    found = shortlist([outcome(f"e{k:02}", 0.9 - 0.01 * k) for k in range(30)], never)
    assert [entry.best.candidate.enclosure.code for entry in found.entries] == [f"e{k:02}" for k in range(20)]
    assert found.accepted == 30
    assert len(found.entries[0].tied_with) == 19


def test_counts_are_summed():
    outcomes = [
        outcome("a", 0.5, considered=20, accepted=4, pruned=10, rejected={"noise": 6}),
        outcome("b", considered=9, rejected={"too_wide": 9}),
        outcome("c", considered=5, accepted=0, pruned=2, rejected={"noise": 2, "over_budget": 1}),
    ]
    found = shortlist(outcomes, never)
    assert (found.considered, found.accepted, found.pruned) == (34, 4, 12)
    assert found.rejected == {"noise": 8, "over_budget": 1, "too_wide": 9}
    assert found.considered == found.accepted + found.pruned + sum(found.rejected.values())


def test_nearest_misses_come_nearest_first():
    outcomes = [
        missed("a", 0.9),
        missed("b", 0.1, tier=1),
        missed("c", 0.9, price=400.0),
        missed("d", 0.2),
        outcome("e", 0.5),
    ]
    misses = shortlist(outcomes, never).nearest_misses
    assert [one.candidate.enclosure.code for one in misses] == ["d", "c", "a", "b"]


def test_nothing_accepted_is_an_empty_list():
    found = shortlist([missed("a", 0.4)], always)
    assert found.entries == ()
    assert len(found.nearest_misses) == 1


def test_study_without_enclosures_is_empty():
    found = shortlist([], always)
    assert (found.considered, found.entries, found.nearest_misses, found.rejected) == (0, (), (), {})
