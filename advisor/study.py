"""A study from brief to answer: plan it, score it enclosure by enclosure, merge what was found."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from advisor.assembly import content_hash
from advisor.engine.case.case import Case
from advisor.engine.desirability import weights_of
from advisor.engine.inputs import Brief, Catalogue, Enclosure
from advisor.engine.judge.cells import Cells
from advisor.engine.pipeline import Build, shared_air, solve_air
from advisor.engine.record.building import case_of
from advisor.engine.record.describe import describe
from advisor.engine.record.misses import shortfalls
from advisor.engine.record.ranking import against
from advisor.engine.record.records import BuildRecord
from advisor.engine.record.ties import CERTAIN, Tied, tie_note
from advisor.engine.sampling import Samples, difference, sample
from advisor.engine.search.outcome import ENTRIES, Candidate, EnclosureOutcome, NearMiss, Scored
from advisor.engine.search.score import score_enclosure
from advisor.engine.search.shortlist import Entry, Resolved, Shortlist, shortlist
from advisor.engine.search.space import allowed, space_of
from advisor.engine.version import MODEL_VERSION
from advisor.reports import miss_entry, shortlist_entry, study_record

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


def plan(brief: Brief, catalogue: Catalogue) -> Plan:
    """Plan a study of a brief over a catalogue."""
    left = allowed(brief, catalogue)
    chunks = tuple(enclosure.code for enclosure in left.enclosures)
    return Plan(brief, left, chunks, MODEL_VERSION, content_hash(catalogue))


def chunk_size(plan: Plan, enclosure_code: str) -> int:
    """Return the number of candidates of one chunk."""
    return space_of(plan.brief, plan.catalogue, plan.enclosure(enclosure_code)).size


def score_chunk(plan: Plan, enclosure_code: str, progress: Progress | None = None) -> EnclosureOutcome:
    """Score all candidates of one enclosure; ``progress`` is told how many more are dealt with."""
    return score_enclosure(plan.brief, plan.catalogue, plan.enclosure(enclosure_code), progress=progress)


def merge(
    plan: Plan, outcomes: Iterable[EnclosureOutcome], resolved: Resolved | None = None, each: Each = map
) -> dict[str, Any]:
    """Return the record of a study from the outcomes of all its chunks, in any order.

    ``resolved`` says whether two accepted candidates can be told apart, by draws of both unless it is given. ``each``
    may be a thread pool's ``map``.
    """
    builds, listed = Builds(plan), sorted(outcomes, key=lambda one: one.enclosure)
    if resolved is None:
        leaders = sorted((one.best[0] for one in listed if one.best), key=lambda best: best.order)[:ENTRIES]
        list(each(builds.samples, leaders))
        resolved = builds.resolved
    found = shortlist(listed, resolved)
    told = [one for entry in found.entries for one in (entry.best, *entry.alternatives)]
    records = dict(zip((one.candidate.id for one in told), each(builds.record, told), strict=True))
    return study_record(
        brief=plan.brief,
        chunks=len(plan.chunks),
        found=found,
        entries=[_entry(plan, entry, found, records) for entry in found.entries],
        misses=list(each(builds.miss, found.nearest_misses)),
        notes=_notes(builds, found, records),
        model_version=plan.model_version,
        catalog_hash=plan.catalog_hash,
    )


@dataclass
class Builds:
    """Candidates of a plan as builds; what they have in common is prepared once."""

    plan: Plan
    cases: dict[tuple[str, int], Case] = field(default_factory=dict)
    drawn: dict[str, Samples] = field(default_factory=dict)
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

    def samples(self, one: Scored) -> Samples:
        """Draw an accepted candidate at its settings, once."""
        if one.candidate.id not in self.drawn:
            self.drawn[one.candidate.id] = sample(self.build(one.candidate), np.array(one.rows), np.array(one.steps))
        return self.drawn[one.candidate.id]

    def resolved(self, one: Scored, other: Scored) -> bool:
        """Tell whether two accepted candidates differ for sure in what they are worth."""
        mine, theirs = ({name: each.criteria[name] for name in CERTAIN} for each in (one, other))
        return difference(self.samples(one), self.samples(other), mine, theirs, weights_of(self.plan.brief)).resolved

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


def _entry(plan: Plan, entry: Entry, found: Shortlist, records: Mapping[str, BuildRecord]) -> dict[str, Any]:
    """Return an entry with a word on how it compares with the first, or the first with the second."""
    first = found.entries[0].best
    others = [one.best for one in found.entries[1:2]] if entry.best is first else [first]
    weights = weights_of(plan.brief)
    said = [against(one.candidate.enclosure.code, entry.best.criteria, one.criteria, weights) for one in others]
    return shortlist_entry(entry, records, said)


def _notes(builds: Builds, found: Shortlist, records: Mapping[str, BuildRecord]) -> tuple[str, ...]:
    """Say what to go by where the whole list ties."""
    best = [entry.best for entry in found.entries]
    if len(best) < 2 or any(len(entry.tied_with) < len(best) - 1 for entry in found.entries):
        return ()
    tied = [
        Tied(one.candidate.enclosure.code, one.criteria, records[one.candidate.id], builds.samples(one)) for one in best
    ]
    return (tie_note(tied, weights_of(builds.plan.brief), builds.plan.brief.currency),)
