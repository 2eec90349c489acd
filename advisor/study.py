"""A study from brief to answer: plan it, score it enclosure by enclosure, merge what was found."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import prod
from typing import Any

import numpy as np

from advisor.assembly import content_hash
from advisor.engine.case.case import Case
from advisor.engine.case.fans import fan_choices
from advisor.engine.desirability import weights_of
from advisor.engine.inputs import Brief, Catalogue, Enclosure, Fan
from advisor.engine.judge.cells import Cells
from advisor.engine.pipeline import Build, shared_air, solve_air
from advisor.engine.record.building import case_of
from advisor.engine.record.describe import describe
from advisor.engine.record.misses import shortfalls
from advisor.engine.record.ranking import against
from advisor.engine.record.records import BuildRecord
from advisor.engine.record.ties import CERTAIN, Tied, tie_note
from advisor.engine.sampling import Samples, difference, sample
from advisor.engine.search.front import merged
from advisor.engine.search.outcome import ENTRIES, Candidate, EnclosureOutcome, NearMiss, Scored
from advisor.engine.search.score import score_enclosure
from advisor.engine.search.shortlist import Entry, Resolved, Shortlist, shortlist
from advisor.engine.search.space import allowed, space_of
from advisor.engine.version import MODEL_VERSION
from advisor.reports import front_record, miss_entry, shortlist_entry, study_record

Progress = Callable[[int], None]
Each = Callable[[Callable[[Any], Any], Iterable[Any]], Iterable[Any]]


@dataclass(frozen=True)
class Plan:
    """A study before it is scored: the brief, the catalogue it allows, and one chunk an enclosure.

    ``catalog_hash`` is that of the whole catalogue, before the brief takes anything out.
    """

    brief: Brief
    catalogue: Catalogue
    chunks: tuple[str, ...]
    model_version: str
    catalog_hash: str

    def enclosure(self, code: str) -> Enclosure:
        """Return the enclosure of a chunk."""
        return next(one for one in self.catalogue.enclosures if one.code == code)


def plan(brief: Brief, catalogue: Catalogue, catalog_hash: str | None = None) -> Plan:
    """Plan a study of a brief over a catalogue, whose hash may be given where it is known."""
    left = allowed(brief, catalogue)
    chunks = tuple(enclosure.code for enclosure in left.enclosures)
    return Plan(brief, left, chunks, MODEL_VERSION, catalog_hash or content_hash(catalogue))


def chunk_size(plan: Plan, enclosure_code: str) -> int:
    """Return the number of candidates of one chunk."""
    return space_of(plan.brief, plan.catalogue, plan.enclosure(enclosure_code)).size


def most_candidates(plan: Plan) -> int:
    """Return a number that a plan's candidates do not exceed, without listing any of them."""
    parts = plan.catalogue
    others = len(parts.coolers) * len(parts.supplies) * max(len(parts.drives), 1)
    return others * sum(_most_fan_sets(enclosure, parts.fans) for enclosure in parts.enclosures)


def _most_fan_sets(enclosure: Enclosure, fans: tuple[Fan, ...]) -> int:
    """Return how many fan sets an enclosure takes, whether or not they hold the required models."""
    mounts = defaultdict(list)
    for opening in enclosure.openings:
        if opening.kind == "fan_mount":
            mounts[opening.side, opening.fan_size_m].append(opening)
    alone = {key: replace(enclosure, openings=tuple(group)) for key, group in mounts.items()}
    return prod(len(fan_choices(box, side, fans)) for (side, _), box in alone.items())


def score_chunk(plan: Plan, enclosure_code: str, progress: Progress | None = None) -> EnclosureOutcome:
    """Score all candidates of one enclosure; ``progress`` is told how many more are dealt with."""
    return score_enclosure(plan.brief, plan.catalogue, plan.enclosure(enclosure_code), progress=progress)


def merge(
    plan: Plan, outcomes: Iterable[EnclosureOutcome], resolved: Resolved | None = None, each: Each = map
) -> dict[str, Any]:
    """Return the record of a study from the outcomes of all its chunks, in any order.

    ``resolved`` says whether two accepted candidates can be told apart, by draws of both unless it is given. ``each``
    applies a method of ``Builds`` to candidates, as ``map`` does; it may do so elsewhere, with ``Builds`` of its own.
    """
    builds, listed = Builds(plan), sorted(outcomes, key=lambda one: one.enclosure)
    leaders = sorted((one.best for one in listed if one.best), key=lambda best: best[0].order)[:ENTRIES]
    near = [one.nearest_miss for one in listed if one.nearest_miss is not None]
    told, missed = each(builds.account, leaders), each(builds.miss, near)
    accounts = {best[0].candidate.id: account for best, account in zip(leaders, told, strict=True)}
    misses = {miss.candidate.id: entry for miss, entry in zip(near, missed, strict=True)}
    found = shortlist(listed, resolved or _by_draws(plan, accounts))
    return study_record(
        brief=plan.brief,
        chunks=len(plan.chunks),
        found=found,
        entries=[_entry(plan, entry, found, accounts) for entry in found.entries],
        misses=[misses[miss.candidate.id] for miss in found.nearest_misses],
        notes=_notes(plan, found, accounts),
        model_version=plan.model_version,
        catalog_hash=plan.catalog_hash,
    )


def front(outcomes: Iterable[EnclosureOutcome], most_bytes: int) -> dict[str, Any]:
    """Return the front of a study, as JSON of at most so many bytes, from the outcomes of all chunks in any order."""
    listed = list(outcomes)
    return front_record(merged(one.front for one in listed), listed, most_bytes)


@dataclass(frozen=True)
class Account:
    """What is told of the best builds of an enclosure: a record by the id of each, and draws of the first."""

    records: Mapping[str, BuildRecord]
    samples: Samples


@dataclass
class Builds:
    """Candidates of a plan as builds; what they have in common is prepared once."""

    plan: Plan
    cases: dict[tuple[str, int], Case] = field(default_factory=dict)
    aired: dict[tuple[Any, ...], Cells] = field(default_factory=dict)

    def build(self, one: Candidate) -> Build:
        """Return a candidate as the pipeline takes it."""
        key = one.enclosure.code, one.drive_count
        if key not in self.cases:
            self.cases[key] = case_of(self.plan.brief, self.plan.catalogue, one.enclosure, one.drive)
        return Build(self.cases[key], one.fans, one.cooler, one.supply, one.drive)

    def air(self, build: Build) -> Cells:
        """Return the air of a build's settings, which builds with the same fans share."""
        fans = tuple((opening.code, fan.code) for opening, fan in build.fans.mounts)
        shared = shared_air(build.case, build.supply, build.drive)
        key = build.case.enclosure.code, build.case.drive_count, fans, shared
        if key not in self.aired:
            self.aired[key] = solve_air(build.case, build.fans, shared)
        return self.aired[key]

    def account(self, best: Sequence[Scored]) -> Account:
        """Describe the best builds of an enclosure, and draw the first at its settings."""
        first = best[0]
        drawn = sample(self.build(first.candidate), np.array(first.rows), np.array(first.steps))
        return Account({one.candidate.id: self.record(one) for one in best}, drawn)

    def record(self, one: Scored) -> BuildRecord:
        """Describe an accepted candidate."""
        build = self.build(one.candidate)
        return describe(build, one.rows, one.steps, self.plan.catalogue, one.criteria, self.air(build))

    def miss(self, miss: NearMiss) -> dict[str, Any]:
        """Describe a candidate that misses by least, as far as its parts fit together."""
        if not miss.rows:
            return miss_entry(miss, None, ())
        build = self.build(miss.candidate)
        record = describe(build, miss.rows, miss.steps, self.plan.catalogue)
        return miss_entry(miss, record, shortfalls(build, record))


def _by_draws(plan: Plan, accounts: Mapping[str, Account]) -> Resolved:
    """Tell by draws whether two accepted candidates differ for sure in what they are worth."""
    weights = weights_of(plan.brief)

    def resolved(one: Scored, other: Scored) -> bool:
        fixed, other_fixed = ({name: each.criteria[name] for name in CERTAIN} for each in (one, other))
        drawn, other_drawn = (accounts[each.candidate.id].samples for each in (one, other))
        return difference(drawn, other_drawn, fixed, other_fixed, weights).resolved

    return resolved


def _entry(plan: Plan, entry: Entry, found: Shortlist, accounts: Mapping[str, Account]) -> dict[str, Any]:
    """Return an entry with a word on how it compares with the first, or the first with the second."""
    first = found.entries[0].best
    others = [one.best for one in found.entries[1:2]] if entry.best is first else [first]
    weights = weights_of(plan.brief)
    said = [against(one.candidate.enclosure.code, entry.best.criteria, one.criteria, weights) for one in others]
    return shortlist_entry(entry, accounts[entry.best.candidate.id].records, said)


def _notes(plan: Plan, found: Shortlist, accounts: Mapping[str, Account]) -> tuple[str, ...]:
    """Say what to go by where the whole list ties."""
    best = [entry.best for entry in found.entries]
    if len(best) < 2 or any(len(entry.tied_with) < len(best) - 1 for entry in found.entries):
        return ()
    tied = [_tied(one, accounts[one.candidate.id]) for one in best]
    return (tie_note(tied, weights_of(plan.brief), plan.brief.currency),)


def _tied(one: Scored, account: Account) -> Tied:
    return Tied(one.candidate.enclosure.code, one.criteria, account.records[one.candidate.id], account.samples)
