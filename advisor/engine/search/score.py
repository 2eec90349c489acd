"""Scoring one enclosure: all its candidates counted, the best ones found, or the one that misses by least."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from advisor.engine.case.fans import FanSet
from advisor.engine.case.named import named_parts
from advisor.engine.inputs import Brief, Catalogue, Enclosure
from advisor.engine.pipeline import solve_air
from advisor.engine.search.contest import SETTING_CODES, Contest, carried, contests, scored
from advisor.engine.search.fitting import count_misfits, fitted_cases, part_misfits
from advisor.engine.search.group import Verdict, choose_settings, reasons, sheets
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

    def keep(self, scored: list[Scored]) -> None:
        self.best = sorted([*self.best, *scored], key=lambda one: one.order)[: ALTERNATIVES + 1]


def score_enclosure(
    brief: Brief, catalogue: Catalogue, enclosure: Enclosure, *, prune: bool = True, progress: Progress | None = None
) -> EnclosureOutcome:
    """Score every candidate of one enclosure.

    ``catalogue`` is what ``space.allowed`` left. With ``prune`` candidates that cannot be among the enclosure's best six are
    counted as pruned without being judged. ``progress`` is called with the number of candidates dealt with.
    """
    space = space_of(brief, catalogue, enclosure)
    named = named_parts(brief, catalogue)
    found = part_misfits(brief, catalogue, space, named)
    tally = _Tally(0, 0, count_misfits(space, found), [], 0)
    cases = fitted_cases(brief, catalogue, space, named, found)
    ready = contests(brief, space, found, cases)
    fitting_coolers = sum(misfit is None for misfit in found.coolers)
    overloaded = sum(len(case.overloaded) for case in cases) * len(space.fan_sets) * fitting_coolers
    if overloaded:
        tally.rejected["supply_rating"] += overloaded
    report = progress or (lambda count: None)
    report(sum(tally.rejected.values()))
    for contest in ready:
        for fans in space.fan_sets:
            _judge(brief, space, contest, fans, tally)
            report(len(contest.fitted.drive) * len(contest.coolers))
    miss = None
    if not tally.accepted and space.size:
        miss = nearest_miss(brief, catalogue, space, named, found, ready)
    return EnclosureOutcome(
        enclosure.code, space.size, tally.accepted, tally.pruned, dict(tally.rejected), tuple(tally.best), miss, tally.solves
    )


def _judge(brief: Brief, space: Space, contest: Contest, fans: FanSet, tally: _Tally) -> None:
    rating, surge = carried(contest, fans)
    price = contest.price(fans)
    affordable = price <= brief.budget if brief.budget is not None else np.ones_like(rating)
    wanted = rating & surge & affordable
    _count(tally, "supply_rating", ~rating)
    _count(tally, "supply_surge", rating & ~surge)
    _count(tally, "over_budget", rating & surge & ~affordable)
    for index, air in enumerate(contest.fitted.airs):
        pairs = np.flatnonzero((contest.fitted.air_of == index) & wanted.any(axis=1))
        if not len(pairs):
            continue
        cells = solve_air(contest.fitted.case, fans, air)
        tally.solves += len(cells.scenario)
        for sheet in sheets(contest.bench, fans, air, cells, pairs):
            mask = np.ascontiguousarray(wanted[sheet.pairs])
            verdict = choose_settings(contest.bench, sheet, mask)
            refused = mask & ~verdict.accepted
            if refused.any():
                reason = reasons(contest.bench, sheet, refused)
                for number, count in zip(*np.unique(reason[refused], return_counts=True), strict=True):
                    tally.rejected[SETTING_CODES[number]] += int(count)
            tally.accepted += int(verdict.accepted.sum())
            score = np.where(verdict.accepted, contest.score(verdict.figures, price[sheet.pairs]), -1.0)
            _keep_best(space, contest, fans, sheet.pairs, verdict, score, price, tally)


def _count(tally: _Tally, code: str, mask: np.ndarray) -> None:
    count = int(mask.sum())
    if count:
        tally.rejected[code] += count


def _keep_best(
    space: Space, contest: Contest, fans: FanSet, pairs: np.ndarray, verdict: Verdict, score: np.ndarray, price: np.ndarray,
    tally: _Tally,
) -> None:  # fmt: skip
    """Offer the best few of a sheet to the enclosure's best; equal ones at the edge all come along."""
    accepted = np.sort(score[score >= 0])
    if not len(accepted):
        return
    edge = accepted[-(ALTERNATIVES + 1)] if len(accepted) > ALTERNATIVES else accepted[0]
    if len(tally.best) > ALTERNATIVES:
        edge = max(edge, tally.best[-1].desirability)
    chosen = np.argwhere((score >= edge - 1e-9) & (score >= 0))
    tally.keep([scored(space, contest, fans, pairs[p], q, verdict, p, float(score[p, q]), price) for p, q in chosen])
