"""Scoring one enclosure: all its candidates counted, the best ones found, or the one that misses by least."""

from __future__ import annotations

import heapq
import itertools
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from advisor.engine.case.fans import FanSet
from advisor.engine.case.named import named_parts
from advisor.engine.inputs import Brief, Catalogue, Enclosure
from advisor.engine.judge.reasons import NO_COMMON_SETTING, NOISE
from advisor.engine.search.contest import SETTING_CODES, Contest, contests, scored
from advisor.engine.search.fitting import count_misfits, fitted_cases, part_misfits
from advisor.engine.search.front import Gathered
from advisor.engine.search.group import Sheet, Verdict, choose_settings, reasons, sheet_of
from advisor.engine.search.groups import SLIP, Field, Group, field_of, groups
from advisor.engine.search.nearest import nearest_miss
from advisor.engine.search.outcome import ALTERNATIVES, EnclosureOutcome, Scored
from advisor.engine.search.space import Space, space_of

Progress = Callable[[int], None]


@dataclass
class _Tally:
    """Counts and best candidates so far."""

    accepted: int
    pruned: int
    rejected: Counter[str]
    best: list[Scored]
    solves: int
    gathered: Gathered

    @property
    def edge(self) -> float:
        """Desirability that a candidate must reach to be among the best kept; 0 while there is room."""
        return self.best[-1].desirability if len(self.best) > ALTERNATIVES else 0.0

    def keep(self, scored: list[Scored]) -> None:
        self.best = sorted([*self.best, *scored], key=lambda one: one.order)[: ALTERNATIVES + 1]


def score_enclosure(
    brief: Brief, catalogue: Catalogue, enclosure: Enclosure, *, prune: bool = True, progress: Progress | None = None
) -> EnclosureOutcome:
    """Score every candidate of one enclosure.

    ``catalogue`` is what ``space.allowed`` left. With ``prune`` candidates that cannot be among the enclosure's best
    six are
    counted as pruned without being judged. ``progress`` is called with the number of candidates dealt with.
    """
    space = space_of(brief, catalogue, enclosure)
    named = named_parts(brief, catalogue)
    found = part_misfits(brief, catalogue, space, named)
    tally = _Tally(0, 0, count_misfits(space, found), [], 0, Gathered())
    cases = fitted_cases(brief, catalogue, space, named, found)
    fields = [field_of(space, contest) for contest in contests(brief, space, found, cases)]
    fitting_coolers = sum(misfit is None for misfit in found.coolers)
    overloaded = sum(len(case.overloaded) for case in cases) * len(space.fan_sets) * fitting_coolers
    if overloaded:
        tally.rejected["supply_rating"] += overloaded
    report = progress or (lambda count: None)
    report(sum(tally.rejected.values()))
    for field in fields:
        _count_unaffordable(brief, field, tally)
    if prune:
        _judge_promising(brief, space, fields, tally, report)
    else:
        for group in groups(fields, exact=True):
            wanted = _payable(brief, group)
            _judge(space, group, wanted, tally, None)
            report(int(wanted.sum()))
    miss = None
    if not tally.accepted and space.size:
        miss = nearest_miss(brief, catalogue, space, named, found, cases, fields)
    return EnclosureOutcome(
        enclosure.code,
        space.size,
        tally.accepted,
        tally.pruned,
        dict(tally.rejected),
        tuple(tally.best),
        miss,
        tally.solves,
        front=tally.gathered.front(space),
    )


def _count_unaffordable(brief: Brief, field: Field, tally: _Tally) -> None:
    """Count candidates whose supply cannot carry or start them, and those over the budget."""
    carries, starts = field.carried
    _count(tally, "supply_rating", ~carries)
    _count(tally, "supply_surge", carries & ~starts)
    _count(tally, "over_budget", carries & starts & ~_affordable(brief, field.price))


def _affordable(brief: Brief, price: np.ndarray) -> np.ndarray:
    return price <= brief.budget if brief.budget is not None else np.ones(price.shape, dtype=bool)


def _payable(brief: Brief, group: Group) -> np.ndarray:
    """Which candidates (pairs, coolers) of a group its supplies carry and start, and the budget allows."""
    return np.asarray(group.carried & _affordable(brief, group.price))


def _judge_promising(brief: Brief, space: Space, fields: list[Field], tally: _Tally, report: Progress) -> None:
    """Judge groups in the order of what they could be at best, until none can reach the best kept.

    A group is bounded first without flows, then with few; only then are its candidates judged.
    """
    queue: list[tuple[float, int, Group, np.ndarray, np.ndarray | None]] = []
    numbers = itertools.count()

    def put(group: Group, wanted: np.ndarray, score: np.ndarray, bounded: bool) -> None:
        most = np.where(wanted, score, -1.0).max(initial=-1.0)
        heapq.heappush(queue, (-float(most), next(numbers), group, wanted, score if bounded else None))

    for group in groups(fields, exact=False):
        wanted = _payable(brief, group)
        # no setting of these is quiet enough, whatever the air does
        loud = wanted & (group.noise_margin < -SLIP)
        _count(tally, "noise", loud)
        report(int(loud.sum()))
        put(group, wanted & ~loud, group.static_bound, False)
    while queue:
        _, _, group, wanted, score = heapq.heappop(queue)
        hopeful = wanted & ((group.static_bound if score is None else score) >= tally.edge - SLIP)
        tally.pruned += int(wanted.sum() - hopeful.sum())
        report(int(wanted.sum() - hopeful.sum()))
        if not hopeful.any():
            continue
        if score is None:
            score, solved = group.bound(hopeful)
            tally.solves += solved
            put(group, hopeful, score, True)
        elif group.air.exact:
            _judge(space, group, hopeful, tally, group.quiet_settings(hopeful))
            report(int(hopeful.sum()))
        else:
            for part in group.parts():
                put(part, hopeful & part.members[:, None], score, False)


def _judge(space: Space, group: Group, wanted: np.ndarray, tally: _Tally, settings: np.ndarray | None) -> None:
    """Choose settings for the wanted candidates of a group, count them and keep the best.

    ``settings`` are those that any of them could be set to, all where none are given.
    """
    contest, fans, price = group.contest, group.fans, group.price
    pairs = np.flatnonzero(wanted.any(axis=1))
    if not len(pairs):
        return
    sheet = sheet_of(contest.bench, fans, group.air.shared, pairs, settings)
    tally.solves += sheet.solved
    mask = np.ascontiguousarray(wanted[pairs])
    verdict = choose_settings(contest.bench, sheet, mask)
    refused = mask & ~verdict.accepted
    if refused.any():
        reason = _reasons(group, sheet, refused, tally, settings is None)
        for number, count in zip(*np.unique(reason[refused], return_counts=True), strict=True):
            tally.rejected[SETTING_CODES[number]] += int(count)
    tally.accepted += int(verdict.accepted.sum())
    score = np.where(verdict.accepted, contest.score(verdict.figures, price[pairs]), -1.0)
    tally.gathered.add(group, pairs, verdict.accepted, verdict.figures, score)
    _keep_best(space, contest, fans, pairs, verdict, score, price, tally)


def _reasons(group: Group, sheet: Sheet, refused: np.ndarray, tally: _Tally, whole: bool) -> np.ndarray:
    """Why the refused candidates of a sheet have no setting; a limit may still be met where it is too loud."""
    bench = group.contest.bench
    reason = reasons(bench, sheet, refused)
    unsure = refused & (reason > NOISE) & (reason < NO_COMMON_SETTING)
    again = np.flatnonzero(unsure.any(axis=1))
    if whole or not len(again):
        return reason
    full = sheet_of(bench, group.fans, group.air.shared, sheet.pairs[again])
    tally.solves += full.solved
    reason[again] = np.where(unsure[again], reasons(bench, full, unsure[again]), reason[again])
    return reason


def _count(tally: _Tally, code: str, mask: np.ndarray) -> None:
    count = int(mask.sum())
    if count:
        tally.rejected[code] += count


def _keep_best(
    space: Space, contest: Contest, fans: FanSet, pairs: np.ndarray, verdict: Verdict, score: np.ndarray,
    price: np.ndarray,
    tally: _Tally,
) -> None:  # fmt: skip
    """Offer the best few of a sheet to the enclosure's best; equal ones at the edge all come along."""
    accepted = np.sort(score[score >= 0])
    if not len(accepted):
        return
    edge = accepted[-(ALTERNATIVES + 1)] if len(accepted) > ALTERNATIVES else accepted[0]
    edge = max(edge, tally.edge)
    chosen = np.argwhere((score >= edge - 1e-9) & (score >= 0))
    tally.keep([scored(space, contest, fans, pairs[p], q, verdict, p, float(score[p, q]), price) for p, q in chosen])
