"""Which candidates of an enclosure fit, counted by the first check they fail, without walking them one by one."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cache

import numpy as np

from advisor.engine.case.case import Case, prepare
from advisor.engine.case.named import NamedParts
from advisor.engine.fit import Misfit
from advisor.engine.fit import enclosure as of_enclosure
from advisor.engine.fit import parts as of_parts
from advisor.engine.inputs import Brief, Catalogue, Drive, Supply
from advisor.engine.pipeline import Load, SharedAir, load_of, shared_air
from advisor.engine.power.draw import peak_draw
from advisor.engine.power.loads import build_loads
from advisor.engine.power.spin_up import peak_watts, rest_at_start
from advisor.engine.search.space import Space
from advisor.engine.storage.bays import plan_bays
from advisor.engine.storage.layouts import drives_for


@dataclass(frozen=True)
class Misfits:
    """First misfit of each part alone: enclosure, then drives, coolers, supplies in the space's order."""

    enclosure: Misfit | None
    drives: tuple[Misfit | None, ...]
    coolers: tuple[Misfit | None, ...]
    supplies: tuple[Misfit | None, ...]


def part_misfits(brief: Brief, catalogue: Catalogue, space: Space, named: NamedParts) -> Misfits:
    """Check every part of a space against its enclosure and brief."""
    box = space.enclosure
    enclosure = _first(
        of_enclosure.too_wide(box, brief), of_enclosure.too_high(box, brief), of_enclosure.too_deep(box, brief),
        of_enclosure.orientation(box, brief), of_enclosure.board_form(box, named.board),
        of_enclosure.card_length(box, brief), of_enclosure.card_slots(box, brief, named.board),
    )  # fmt: skip
    return Misfits(
        enclosure,
        _drive_misfits(brief, catalogue, space, named),
        tuple(_first(of_parts.cooler_socket(c, brief), of_parts.cooler_height(box, c)) for c in space.coolers),
        tuple(_first(of_parts.supply_form(box, s), of_parts.supply_length(box, s)) for s in space.supplies),
    )


def _first(*checks: Misfit | None) -> Misfit | None:
    return next((found for found in checks if found is not None), None)


def _drive_misfits(brief: Brief, catalogue: Catalogue, space: Space, named: NamedParts) -> tuple[Misfit | None, ...]:
    """First misfit of every drive model; what only their number decides is checked once a number."""
    box = space.enclosure

    @cache
    def places(count: int) -> Misfit | None:
        return _first(
            of_enclosure.drive_bays(box, brief, count, catalogue.adapters),
            of_enclosure.hot_swap(box, brief, count, catalogue.adapters),
        )

    @cache
    def ports(count: int) -> Misfit | None:
        return of_parts.controller_ports(box, brief, named.board, count, catalogue.controllers)

    def first(drive: Drive | None) -> Misfit | None:
        count = drives_for(brief, drive) if drive else 0
        if count is None:
            return of_parts.layout_capacity(drive, brief) if drive else None
        own = of_parts.drives_per_box(drive, count) if drive else None
        return _first(places(count), own, ports(count))

    return tuple(first(drive) for drive in space.drives)


@dataclass(frozen=True)
class Fitted:
    """A case with the pairs (drive, supply) that fit it: indices into the space, loads, shared airs, what supplies
    carry.

    ``spare_w``, ``spare_12v_w``, ``surge_w`` (pairs,) are what each supply has left for fans, in full load and at
    start.
    ``drive_price`` (pairs,) is that of all drives; ``fixed_price`` of enclosure, adapters and controllers.
    ``overloaded`` lists
    pairs (drive, supply, what is left of each) left out since the supply cannot carry even what needs no fan.
    """

    case: Case
    drive: np.ndarray
    supply: np.ndarray
    loads: tuple[Load, ...]
    air_of: np.ndarray
    airs: tuple[SharedAir, ...]
    spare_w: np.ndarray
    spare_12v_w: np.ndarray
    surge_w: np.ndarray
    drive_price: np.ndarray
    fixed_price: float
    overloaded: tuple[tuple[int, int, float, float, float], ...]


def count_misfits(space: Space, found: Misfits) -> Counter[str]:
    """Count candidates by the first misfit of their parts, in the fixed order of checks."""
    counts: Counter[str] = Counter()
    if found.enclosure is not None:
        counts[found.enclosure.code] = space.size
        return +counts
    each = len(space.fan_sets)
    for drive in found.drives:
        if drive is not None:
            counts[drive.code] += each * len(space.coolers) * len(space.supplies)
            continue
        for cooler in found.coolers:
            if cooler is not None:
                counts[cooler.code] += each * len(space.supplies)
                continue
            for supply in found.supplies:
                if supply is not None:
                    counts[supply.code] += each
    return +counts


def fitted_cases(brief: Brief, catalogue: Catalogue, space: Space, named: NamedParts, found: Misfits) -> list[Fitted]:
    """Prepare one case per number of drives, with the pairs whose parts fit on their own."""
    if found.enclosure is not None:
        return []
    counts: dict[int, list[int]] = {}
    for index, drive in enumerate(space.drives):
        if found.drives[index] is None:
            counts.setdefault(drives_for(brief, drive) if drive else 0, []).append(index)  # type: ignore[arg-type]
    supplies = [k for k, misfit in enumerate(found.supplies) if misfit is None]
    if not supplies:
        return []
    return [
        _fitted(brief, catalogue, space, named, count, drives, supplies) for count, drives in sorted(counts.items())
    ]


def _fitted(
    brief: Brief,
    catalogue: Catalogue,
    space: Space,
    named: NamedParts,
    count: int,
    drives: list[int],
    supplies: list[int],
) -> Fitted:
    box = space.enclosure
    bays = plan_bays(box, brief.drive_form, count, brief.spare_bays, brief.hot_swap, catalogue.adapters)
    controllers = of_parts.chosen_controllers(box, brief, named.board, count, catalogue.controllers) or ()
    case = prepare(brief, box, catalogue, bays, controllers, count)  # type: ignore[arg-type]
    by_code = {adapter.code: adapter for adapter in catalogue.adapters}
    extras = sum(by_code[code].price * n for code, n in case.bays.adapters) + sum(part.price for part in controllers)
    pairs = [(d, s) for d in drives for s in supplies]
    needs = {d: _needs(case, space.drives[d]) for d in drives}
    room = np.array([_room(needs[d], space.supplies[s]) for d, s in pairs])
    carried = room[:, 0] >= 0
    overloaded = tuple((*pairs[k], *room[k].tolist()) for k in np.flatnonzero(~carried))
    pairs, room = [pair for pair, ok in zip(pairs, carried, strict=True) if ok], room[carried]
    airs = [shared_air(case, space.supplies[s], space.drives[d]) for d, s in pairs]
    distinct = tuple(dict.fromkeys(airs))
    return Fitted(
        case, np.array([d for d, _ in pairs], dtype=int), np.array([s for _, s in pairs], dtype=int),
        tuple(load_of(case, space.supplies[s], space.drives[d]) for d, s in pairs),
        np.array([distinct.index(air) for air in airs], dtype=int), distinct,
        room[:, 0], room[:, 1], room[:, 2],
        np.array([count * (space.drives[d].price if space.drives[d] else 0.0) for d, _ in pairs]),  # type: ignore[union-attr]
        box.price + extras, overloaded,
    )  # fmt: skip


def _needs(case: Case, drive: Drive | None) -> tuple[float, float, float]:
    """What a case and its drives draw without fans [W]: at most, of it from 12 V, and from 12 V while drives start."""
    loads = build_loads(
        case.brief, drive, case.drive_count, board=case.named.board, ssd=case.named.ssd, card=case.named.card,
        controllers=case.controllers,
    )  # fmt: skip
    peak = peak_draw(loads, 0.0)
    start = peak_watts(drive, case.drive_count, 1, rest_at_start(loads, 0.0)) if drive and case.drive_count else 0.0
    return float(peak.dc_w), float(peak.twelve_volt_w), start


def _room(needs: tuple[float, float, float], supply: Supply) -> tuple[float, float, float]:
    """What a supply has left [W] beside these needs: of its rating, of 12 V, of 12 V while drives start."""
    most, twelve_volt, start = needs
    usable = of_parts.SUPPLY_HEADROOM
    return usable * supply.rating_w - most, usable * supply.rating_12v_w - twelve_volt, supply.rating_12v_w - start
