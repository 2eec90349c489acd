"""The nearest miss of an enclosure without an accepted build: which build misses by least, and by what."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from advisor.engine.case.fans import FanSet
from advisor.engine.case.named import NamedParts
from advisor.engine.fit import Misfit, first_misfit, normalised
from advisor.engine.fit import Build as FitBuild
from advisor.engine.inputs import Brief, Catalogue, Cooler, Drive, Supply
from advisor.engine.pipeline import solve_air
from advisor.engine.search.contest import SETTING_CODES, Contest, candidate, carried
from advisor.engine.search.fitting import Misfits
from advisor.engine.search.group import least_misses, reasons, sheets
from advisor.engine.search.outcome import Candidate, NearMiss
from advisor.engine.search.space import Space
from advisor.engine.storage.layouts import drives_for


def nearest_miss(
    brief: Brief, catalogue: Catalogue, space: Space, named: NamedParts, found: Misfits, ready: Sequence[Contest]
) -> NearMiss | None:
    """Return the candidate that misses by least: of those that fit and are carried, else of those that do not fit."""
    near: NearMiss | None = None
    for contest in ready:
        for fans in space.fan_sets:
            for miss in _judged(brief, space, contest, fans, near):
                near = miss if near is None or miss.order < near.order else near
    if near is not None:
        return near
    unfit = _unfit(brief, catalogue, space, named, found, ready)
    return min(unfit, key=lambda miss: miss.order, default=None)


def _budget_miss(brief: Brief, price: np.ndarray) -> np.ndarray:
    if brief.budget is None:
        return np.zeros_like(price)
    excess = np.maximum(price - brief.budget, 0.0) / brief.budget
    return excess / normalised_scale("over_budget")


def normalised_scale(code: str) -> float:
    """Return the scale that a miss of 1 stands for."""
    return 1.0 / normalised(code, 1.0)


def _judged(brief: Brief, space: Space, contest: Contest, fans: FanSet, near: NearMiss | None) -> Iterator[NearMiss]:
    """Yield the least miss of every sheet of candidates that fit."""
    rating, surge = carried(contest, fans)
    price = contest.price(fans)
    budget = _budget_miss(brief, price)
    wanted = rating & surge
    if near is not None:
        wanted = wanted & (budget <= near.miss + 1e-9)
    for index, air in enumerate(contest.fitted.airs):
        pairs = np.flatnonzero((contest.fitted.air_of == index) & wanted.any(axis=1))
        if not len(pairs):
            continue
        cells = solve_air(contest.fitted.case, fans, air)
        for sheet in sheets(contest.bench, fans, air, cells, pairs):
            mask = np.ascontiguousarray(wanted[sheet.pairs])
            miss, rows, steps = least_misses(contest.bench, sheet, mask)
            total = np.where(mask, np.maximum(miss, budget[sheet.pairs]), np.inf)
            least = total.min()
            close = np.argwhere(total <= least + 1e-9)
            p, q = min(close, key=lambda at: _order(space, contest, fans, sheet.pairs[at[0]], at[1], total[tuple(at)], price))
            only = np.zeros_like(mask)
            only[p, q] = True
            number = int(reasons(contest.bench, sheet, only)[p, q])
            over = budget[sheet.pairs[p], q] > 0
            yield NearMiss(
                candidate(space, contest, fans, sheet.pairs[p], q, float(price[sheet.pairs[p], q])),
                "over_budget" if over else SETTING_CODES[number], 0, float(total[p, q]), "",
                tuple(int(v) for v in rows[p, q]), tuple(int(v) for v in steps[p, q]),
            )  # fmt: skip


def _order(space: Space, contest: Contest, fans: FanSet, pair: int, q: int, miss: float, price: np.ndarray) -> tuple:
    one = candidate(space, contest, fans, pair, q, float(price[pair, q]))
    return NearMiss(one, "", 0, miss, "").order


def _unfit(
    brief: Brief, catalogue: Catalogue, space: Space, named: NamedParts, found: Misfits, ready: Sequence[Contest]
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
    yield from _overloaded(brief, catalogue, space, named, drives_ok, coolers_ok, found)


def _overloaded(
    brief: Brief, catalogue: Catalogue, space: Space, named: NamedParts, drives: Sequence[Drive | None],
    coolers: Sequence[Cooler], found: Misfits,
) -> Iterator[NearMiss]:  # fmt: skip
    """Yield candidates whose supply cannot carry or start them."""
    supplies = [s for s, misfit in zip(space.supplies, found.supplies, strict=True) if misfit is None]
    for fans in space.fan_sets:
        for drive in drives:
            for cooler in coolers:
                for supply in supplies:
                    build = FitBuild(
                        space.enclosure, named.board, drive, cooler, supply, fans.full_power_w + cooler.power_w,
                        catalogue.adapters, catalogue.controllers, named.ssd, named.card,
                    )  # fmt: skip
                    misfit = first_misfit(brief, build)
                    if misfit is not None:
                        yield _miss(brief, space, fans, cooler, supply, drive, misfit)


def _cheapest(
    brief: Brief, space: Space, named: NamedParts, misfit: Misfit, drives: Iterable[Drive | None], coolers: Iterable[Cooler],
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


def _least(parts: Sequence, price) -> list:  # noqa: ANN001
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
