"""All checks of a whole build, in their order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from advisor.engine.fit import enclosure as of_enclosure
from advisor.engine.fit import parts as of_parts
from advisor.engine.fit.misfit import Misfit
from advisor.engine.inputs import Adapter, AirCooledPart, Board, Brief, Cooler, Drive, Enclosure, Supply
from advisor.engine.power.draw import peak_draw
from advisor.engine.power.loads import build_loads
from advisor.engine.power.spin_up import rest_at_start, spin_up_plan
from advisor.engine.storage.layouts import drives_for


@dataclass(frozen=True)
class Build:
    """The parts of a build that may not fit, with the adapters and controllers it may draw on.

    ``fans_full_w`` is what all fans draw at full speed [W], the cooler's included.
    """

    enclosure: Enclosure
    board: Board
    drive: Drive | None
    cooler: Cooler
    supply: Supply
    fans_full_w: float
    adapters: tuple[Adapter, ...] = ()
    controllers: tuple[AirCooledPart, ...] = ()
    ssd: AirCooledPart | None = None
    card: AirCooledPart | None = None


def misfits(brief: Brief, build: Build) -> Iterator[Misfit]:
    """Yield every misfit of a build in the order of ``ORDER``.

    Where the drives cannot be counted, what depends on their number is not checked; where no controllers can be
    had, the draw is that without them.
    """
    count = drives_for(brief, build.drive) if build.drive else 0
    checks = chain(
        _of_the_enclosure(brief, build, count),
        _of_the_drives(brief, build, count),
        _of_the_cooler(brief, build),
        _of_the_supply(brief, build, count),
    )
    return (found for found in checks if found is not None)


def first_misfit(brief: Brief, build: Build) -> Misfit | None:
    """Return the misfit under which a build is counted, or None where everything fits."""
    return next(misfits(brief, build), None)


def _of_the_enclosure(brief: Brief, build: Build, count: int | None) -> Iterator[Misfit | None]:
    box = build.enclosure
    yield of_enclosure.too_wide(box, brief)
    yield of_enclosure.too_high(box, brief)
    yield of_enclosure.too_deep(box, brief)
    yield of_enclosure.orientation(box, brief)
    yield of_enclosure.board_form(box, build.board)
    yield of_enclosure.card_length(box, brief)
    yield of_enclosure.card_slots(box, brief, build.board)
    if count is not None:
        yield of_enclosure.drive_bays(box, brief, count, build.adapters)
        yield of_enclosure.hot_swap(box, brief, count, build.adapters)


def _of_the_drives(brief: Brief, build: Build, count: int | None) -> Iterator[Misfit | None]:
    if build.drive is not None:
        yield of_parts.layout_capacity(build.drive, brief)
        if count is not None:
            yield of_parts.drives_per_box(build.drive, count)
    if count is not None:
        yield of_parts.controller_ports(build.enclosure, brief, build.board, count, build.controllers)


def _of_the_cooler(brief: Brief, build: Build) -> Iterator[Misfit | None]:
    yield of_parts.cooler_socket(build.cooler, brief)
    yield of_parts.cooler_height(build.enclosure, build.cooler)


def _of_the_supply(brief: Brief, build: Build, count: int | None) -> Iterator[Misfit | None]:
    yield of_parts.supply_form(build.enclosure, build.supply)
    yield of_parts.supply_length(build.enclosure, build.supply)
    if count is None:
        return
    added = of_parts.chosen_controllers(build.enclosure, brief, build.board, count, build.controllers)
    loads = build_loads(
        brief, build.drive, count, board=build.board, ssd=build.ssd, card=build.card, controllers=added or ()
    )
    peak = peak_draw(loads, build.fans_full_w)
    yield of_parts.supply_rating(build.supply, float(peak.dc_w), float(peak.twelve_volt_w))
    if build.drive is not None:
        plan = spin_up_plan(build.drive, count, rest_at_start(loads, build.fans_full_w), build.supply)
        yield of_parts.supply_surge(build.supply, plan)
