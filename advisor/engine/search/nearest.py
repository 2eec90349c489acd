"""The nearest miss of an enclosure without an accepted build: which build misses by least, and by what."""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from advisor.engine.case.fans import FanSet
from advisor.engine.case.named import NamedParts
from advisor.engine.fit import SCALES, Misfit, first_misfit
from advisor.engine.fit import Build as FitBuild
from advisor.engine.inputs import Brief, Catalogue, Cooler, Drive, Supply
from advisor.engine.judge.choice import MISS_DB
from advisor.engine.search.contest import SETTING_CODES, candidate
from advisor.engine.search.fitting import Fitted, Misfits
from advisor.engine.search.group import Sheet, least_misses, least_of_pairs, reasons, sheet_of
from advisor.engine.search.groups import SLIP, Field, Group, groups
from advisor.engine.search.outcome import DIGITS, Candidate, NearMiss
from advisor.engine.search.space import Space
from advisor.engine.storage.layouts import drives_for

BEYOND_SOUND = 100.0  # a miss that no noise makes, in steps of ``MISS_DB``; a price may

_Part = TypeVar("_Part")


def nearest_miss(
    brief: Brief, catalogue: Catalogue, space: Space, named: NamedParts, found: Misfits, cases: Sequence[Fitted],
    fields: Sequence[Field],
) -> NearMiss | None:  # fmt: skip
    """Return the candidate that misses by least: of those that fit and are carried, else of those that do not fit."""
    near = _nearest_fitting(brief, space, fields)
    if near is not None:
        return near
    unfit = _unfit(brief, catalogue, space, named, found, cases)
    return min(unfit, key=lambda miss: miss.order, default=None)


def _nearest_fitting(brief: Brief, space: Space, fields: Sequence[Field]) -> NearMiss | None:
    """Judge groups in the order of how little they could miss by, until none can come nearer."""
    near: _Near | None = None
    queue: list[tuple[float, int, Group, np.ndarray, np.ndarray | None]] = []
    numbers = itertools.count()

    def put(group: Group, wanted: np.ndarray, miss: np.ndarray, bounded: bool) -> None:
        least = np.where(wanted, miss, np.inf).min(initial=np.inf)
        heapq.heappush(queue, (float(least), next(numbers), group, wanted, miss if bounded else None))

    for group in groups(fields, exact=False):
        put(group, group.carried, _static_miss(brief, group), False)
    while queue:
        _, _, group, wanted, miss = heapq.heappop(queue)
        least = _static_miss(brief, group) if miss is None else miss
        edge = (near.miss.miss if near else np.inf) + SLIP
        wanted = wanted & (least <= edge)
        if not wanted.any():
            continue
        if miss is None:
            put(group, wanted, np.maximum(least, group.least_miss(wanted, _louder(edge))[0]), True)
        elif group.air.exact:
            found = _judged(brief, space, group, wanted, edge)
            near = min((one for one in (near, found) if one), key=lambda one: one.miss.order, default=None)
        else:
            for part in group.parts():
                put(part, wanted & part.members[:, None], miss, False)
    return near.with_reason(brief) if near else None


def _louder(miss: float) -> float:
    """How many times the target's energy a setting may have to miss by no more, infinite for a miss beyond sound."""
    return float(10.0 ** (0.1 * MISS_DB * miss)) if miss < BEYOND_SOUND else np.inf


@dataclass(frozen=True)
class _Near:
    """The nearest miss so far, without its reason yet, and where it was found."""

    miss: NearMiss
    group: Group
    pair: int
    cooler: int

    def with_reason(self, brief: Brief) -> NearMiss:
        """Return the miss with the code that it is counted under."""
        if np.isfinite(_budget_miss(brief, self.group.price[self.pair, self.cooler])):
            return replace(self.miss, code="over_budget")
        bench, pair = self.group.contest.bench, np.array([self.pair])
        only = np.arange(len(bench.coolers.count))[None, :] == self.cooler
        number = reasons(bench, sheet_of(bench, self.group.fans, self.group.air.shared, pair), only)[0, self.cooler]
        return replace(self.miss, code=SETTING_CODES[int(number)])


def _static_miss(brief: Brief, group: Group) -> np.ndarray:
    """Least miss (pairs, coolers) by price and by the quietest steps alone."""
    return np.maximum(_budget_miss(brief, group.price), -group.noise_margin / MISS_DB)


def _budget_miss(brief: Brief, price: np.ndarray) -> np.ndarray:
    if brief.budget is None:
        return np.full(price.shape, -np.inf)
    return np.where(price > brief.budget, (price / brief.budget - 1.0) / SCALES["over_budget"][0], -np.inf)


def _judged(brief: Brief, space: Space, group: Group, wanted: np.ndarray, edge: float) -> _Near | None:
    """Return the nearest of a group's wanted candidates, if any misses by ``edge`` or less.

    A setting that is too loud by more is not chosen then, and left out.
    """
    contest, fans = group.contest, group.fans
    pairs = np.flatnonzero(wanted.any(axis=1))
    if not len(pairs):
        return None
    budget = _budget_miss(brief, group.price)
    sheet = sheet_of(contest.bench, fans, group.air.shared, pairs, group.quiet_settings(wanted, _louder(edge)))
    least = np.maximum(least_of_pairs(contest.bench, sheet)[:, None], budget[pairs])
    return _of_sheet(space, group, sheet, np.where(wanted[pairs], least, np.inf), budget[pairs])


def _of_sheet(space: Space, group: Group, sheet: Sheet, least: np.ndarray, budget: np.ndarray) -> _Near | None:
    """Return the nearest of a sheet; ``least`` (pairs, coolers) is no more than each miss, infinite for what is not
    wanted.
    """
    contest, price = group.contest, group.price[sheet.pairs]
    near: _Near | None = None
    listed = np.lexsort((price.ravel(), np.round(least.ravel(), DIGITS)))
    for p, q in zip(*np.unravel_index(listed, least.shape), strict=True):
        known = (round(float(least[p, q]), DIGITS), round(float(price[p, q]), 6))
        if not np.isfinite(least[p, q]) or (near is not None and known > near.miss.order[1:3]):
            break
        only = np.zeros(least.shape, dtype=bool)
        only[p, q] = True
        miss, rows, steps = least_misses(contest.bench, sheet, only)
        if not np.isfinite(miss[p, q]):
            continue
        found = NearMiss(
            candidate(space, contest, group.fans, sheet.pairs[p], q, float(price[p, q])), "", 0,
            float(max(miss[p, q], budget[p, q])), "",
            tuple(int(v) for v in rows[p, q]), tuple(int(v) for v in steps[p, q]),
        )  # fmt: skip
        if near is None or found.order < near.miss.order:
            near = _Near(found, group, int(sheet.pairs[p]), int(q))
    return near


def _unfit(
    brief: Brief, catalogue: Catalogue, space: Space, named: NamedParts, found: Misfits, cases: Sequence[Fitted]
) -> Iterator[NearMiss]:
    """Yield, for every way in which parts do not fit, its cheapest candidate."""
    if found.enclosure is not None:
        yield from _cheapest(brief, space, named, found.enclosure, space.drives, space.coolers, space.supplies)
        return
    drives_ok = [d for d, misfit in zip(space.drives, found.drives, strict=True) if misfit is None]
    coolers_ok = [c for c, misfit in zip(space.coolers, found.coolers, strict=True) if misfit is None]
    for drive, misfit in zip(space.drives, found.drives, strict=True):
        if misfit is not None:
            yield from _cheapest(brief, space, named, misfit, [drive], space.coolers, space.supplies)
    for drive in drives_ok:
        for cooler, misfit in zip(space.coolers, found.coolers, strict=True):
            if misfit is not None:
                yield from _cheapest(brief, space, named, misfit, [drive], [cooler], space.supplies)
        for supply, misfit in zip(space.supplies, found.supplies, strict=True):
            if misfit is not None:
                yield from _cheapest(brief, space, named, misfit, [drive], coolers_ok, [supply])
    yield from _overloaded(brief, catalogue, space, named, found, cases)


def _overloaded(
    brief: Brief, catalogue: Catalogue, space: Space, named: NamedParts, found: Misfits, cases: Sequence[Fitted]
) -> Iterator[NearMiss]:
    """Yield, per set of fans, the candidates whose supply is too weak by least."""
    fitting = [c for c, misfit in zip(space.coolers, found.coolers, strict=True) if misfit is None]
    power = np.array([cooler.power_w for cooler in fitting])
    for case in cases:
        room = [
            *zip(case.drive, case.supply, case.spare_w, case.spare_12v_w, case.surge_w, strict=True),
            *case.overloaded,
        ]
        for fans in space.fan_sets if room and fitting else ():
            short = _shortage(np.array([row[2:] for row in room], dtype=float), fans.full_power_w + power)
            for row, q in np.argwhere(short <= short.min() + SLIP):
                d, s = int(room[row][0]), int(room[row][1])
                build = FitBuild(
                    space.enclosure, named.board, space.drives[d], fitting[q], space.supplies[s],
                    fans.full_power_w + power[q],
                    catalogue.adapters, catalogue.controllers, named.ssd, named.card,
                )  # fmt: skip
                misfit = first_misfit(brief, build)
                if misfit is not None:
                    yield _miss(brief, space, fans, fitting[q], space.supplies[s], space.drives[d], misfit)


def _shortage(room: np.ndarray, full_w: np.ndarray) -> np.ndarray:
    """Miss (rows, coolers) of supplies with ``room`` (rows, 3) [W] for fans: of rating and 12 V, else at the start."""
    rating = (full_w[None, :] - room[:, :2].min(axis=1)[:, None]) / SCALES["supply_rating"][0]
    surge = (full_w[None, :] - room[:, 2:]) / SCALES["supply_surge"][0]
    return np.where(rating > 0, rating, np.where(surge > 0, surge, np.inf))


def _cheapest(
    brief: Brief, space: Space, named: NamedParts, misfit: Misfit, drives: Iterable[Drive | None],
    coolers: Iterable[Cooler],
    supplies: Iterable[Supply],
) -> Iterator[NearMiss]:  # fmt: skip
    """Yield the cheapest candidate of some parts; the first by id of those that cost the same."""
    drives, coolers, supplies = list(drives), list(coolers), list(supplies)
    if not (space.fan_sets and drives and coolers and supplies):
        return
    fans = _least(space.fan_sets, lambda one: one.price)
    few = [
        (one, cooler, supply, drive)
        for one in fans
        for cooler in _least(coolers, lambda part: part.price)
        for supply in _least(supplies, lambda part: part.price)
        for drive in _least(drives, lambda part: _drives_price(brief, part))
    ]
    yield min((_miss(brief, space, *parts, misfit) for parts in few), key=lambda miss: miss.order)


def _least(parts: Sequence[_Part], price: Callable[[_Part], float]) -> list[_Part]:
    low = min(price(part) for part in parts)
    return [part for part in parts if price(part) <= low + 1e-9]


def _drives_price(brief: Brief, drive: Drive | None) -> float:
    count = drives_for(brief, drive) if drive else 0
    return (count or 0) * drive.price if drive else 0.0


def _miss(
    brief: Brief, space: Space, fans: FanSet, cooler: Cooler, supply: Supply, drive: Drive | None, misfit: Misfit
) -> NearMiss:
    """A candidate that does not fit: its price leaves out adapters and controllers, which are not known for it."""
    count = (drives_for(brief, drive) or 0) if drive else 0
    price = space.enclosure.price + fans.price + cooler.price + supply.price + _drives_price(brief, drive)
    one = Candidate(space.enclosure, fans, cooler, supply, drive, count, price)
    return NearMiss(one, misfit.code, 1, misfit.shortfall, misfit.text)
