"""The parts of a build: what is bought, and what the brief brings along."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from advisor.engine.inputs import Adapter
from advisor.engine.pipeline import Build
from advisor.engine.record.records import PartLine

# Masses [kg] where the catalogue has none: common values of such parts (from memory), for lifting only.
DRIVE_KG = {"3.5": 0.7, "2.5": 0.15}
SUPPLY_KG, COOLER_KG, BOARD_KG, GRAPHICS_KG, FAN_KG, ADAPTER_KG, CARD_KG = 1.8, 0.8, 0.9, 1.2, 0.2, 1.5, 0.2


def part_lines(build: Build, adapters: dict[str, Adapter]) -> tuple[PartLine, ...]:
    """Return every part with its place; ``adapters`` by code are those the catalogue has."""
    return (*_bought(build, adapters), *_brought(build))


def _bought(build: Build, adapters: dict[str, Adapter]) -> Iterator[PartLine]:
    case, box = build.case, build.case.enclosure
    yield PartLine("enclosure", box.code, box.name, 1, "", box.price)
    for side, mounts in (("intake", build.fans.intake), ("exhaust", build.fans.exhaust)):
        for opening, fan in mounts:
            yield PartLine(f"{side}_fan", fan.code, fan.name, opening.fan_count, opening.code, fan.price)
    yield PartLine("cooler", build.cooler.code, build.cooler.name, 1, "processor", build.cooler.price)
    yield PartLine("supply", build.supply.code, build.supply.name, 1, box.supply_opening, build.supply.price)
    for fill in case.bays.fills:
        if fill.drives and build.drive is not None:
            yield PartLine("drive", build.drive.code, build.drive.name, fill.drives, fill.group, build.drive.price)
    for fill in case.bays.fills:
        if fill.adapter:
            one = adapters[fill.adapter]
            yield PartLine("adapter", one.code, one.name, fill.adapter_count, fill.group, one.price)
    zone = {seat.role: seat.zone for seat in box.seats}
    counted = Counter(part.code for part in case.controllers)
    for part in {one.code: one for one in case.controllers}.values():
        yield PartLine("controller", part.code, part.name, counted[part.code], zone["controller"], part.price)


def _brought(build: Build) -> Iterator[PartLine]:
    """Parts that come with the brief; their prices are not part of the build's."""
    case, named = build.case, build.case.named
    zone = {seat.role: seat.zone for seat in case.enclosure.seats}
    listed = (
        ("board", named.board, 1),
        ("processor", named.processor, 1),
        ("graphics", named.graphics, case.brief.graphics_count),
        ("ssd", named.ssd, case.brief.ssd_count),
        ("card", named.card, case.brief.card_count),
    )
    for role, part, count in listed:
        if part is not None and count:
            yield PartLine(role, part.code, part.name, count, zone[role], None)


def loaded_kg(build: Build) -> float:
    """Return about what the build weighs with everything in it [kg]: the enclosure's mass and usual masses of parts."""
    case, brief = build.case, build.case.brief
    fans = sum(opening.fan_count for opening, _ in build.fans.mounts)
    adapters = sum(count for _, count in case.bays.adapters)
    drives = DRIVE_KG.get(build.drive.form, 0.7) * case.drive_count if build.drive else 0.0
    cards = CARD_KG * (brief.card_count + len(case.controllers)) + GRAPHICS_KG * brief.graphics_count
    inside = SUPPLY_KG + COOLER_KG + BOARD_KG + FAN_KG * fans + ADAPTER_KG * adapters
    return case.enclosure.mass_kg + inside + drives + cards
