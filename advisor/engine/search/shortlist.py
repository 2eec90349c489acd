"""The shortlist of a study: one entry an enclosure, ranked only as finely as the measurements allow."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from advisor.engine.search.outcome import ENTRIES, EnclosureOutcome, NearMiss, Scored

# Says whether two candidates can be told apart: their 95 % interval of the difference excludes zero.
Resolved = Callable[[Scored, Scored], bool]


@dataclass(frozen=True)
class Entry:
    """One enclosure on the shortlist: its best build, its rank, the entries it can't be told apart from,
    alternatives.
    """

    best: Scored
    rank: int
    tied_with: tuple[str, ...]
    alternatives: tuple[Scored, ...]


@dataclass(frozen=True)
class Shortlist:
    """A study's answer: counts of all candidates, entries, and the nearest miss of each enclosure without a build."""

    considered: int
    accepted: int
    pruned: int
    rejected: dict[str, int]
    entries: tuple[Entry, ...]
    nearest_misses: tuple[NearMiss, ...]


def shortlist(outcomes: Iterable[EnclosureOutcome], resolved: Resolved) -> Shortlist:
    """Merge the outcomes of all enclosures of a study.

    The first entry leads a rank; entries follow into it while they can't be resolved from that leader, and the first
    resolved
    one leads the next. ``tied_with`` lists every unresolved pair and may cross ranks.
    """
    listed = list(outcomes)
    rejected: Counter[str] = Counter()
    for outcome in listed:
        rejected.update(outcome.rejected)
    ordered = sorted((o for o in listed if o.best), key=lambda o: o.best[0].order)[:ENTRIES]
    best = [outcome.best[0] for outcome in ordered]
    apart = {(i, j): resolved(best[i], best[j]) for i in range(len(best)) for j in range(i + 1, len(best))}
    ranks = _ranks(len(best), apart)
    entries = tuple(
        Entry(
            one,
            ranks[i],
            tuple(best[j].candidate.id for j in range(len(best)) if j != i and not apart[min(i, j), max(i, j)]),
            ordered[i].best[1:],
        )
        for i, one in enumerate(best)
    )
    misses = sorted((o.nearest_miss for o in listed if o.nearest_miss is not None), key=lambda miss: miss.order)
    return Shortlist(
        sum(o.considered for o in listed), sum(o.accepted for o in listed), sum(o.pruned for o in listed),
        dict(sorted(rejected.items())), entries, tuple(misses),
    )  # fmt: skip


def _ranks(count: int, apart: dict[tuple[int, int], bool]) -> list[int]:
    ranks, leader = [], 0
    for i in range(count):
        if i == 0:
            ranks.append(1)
        elif apart[leader, i]:
            leader = i
            ranks.append(i + 1)
        else:
            ranks.append(ranks[leader])
    return ranks
