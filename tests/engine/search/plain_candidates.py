"""Candidates written out plainly: every combination of parts in an enclosure, its id and its price."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from advisor.engine.case.fans import FanSet
from advisor.engine.inputs import Brief, Catalogue, Cooler, Drive, Enclosure, Supply


@dataclass(frozen=True)
class Parts:
    """The parts that tell candidates apart."""

    enclosure: Enclosure
    fans: FanSet
    cooler: Cooler
    supply: Supply
    drive: Drive | None

    @property
    def id(self) -> str:
        sides = []
        for side in (self.fans.intake, self.fans.exhaust):
            codes = []
            for _, fan in side:
                if fan.code not in codes:
                    codes.append(fan.code)
            sides.append("+".join(codes) if codes else "none")
        drive = self.drive.code if self.drive else "none"
        return "~".join([self.enclosure.code, *sides, self.cooler.code, self.supply.code, drive])


def usable(parts: tuple, brief: Brief) -> list:
    """Parts of one kind that are not excluded; where the brief requires some of the kind, only these."""
    left = [part for part in parts if part.code not in brief.excluded_parts]
    wanted = [part for part in left if part.code in brief.required_parts]
    return wanted or left


def sides(enclosure: Enclosure, side: str, fans: list) -> Iterator[tuple]:
    """Every way to equip one side: one model for all mounts of a size, or none where all of them may be empty."""
    mounts: dict[float, list] = {}
    for opening in enclosure.openings:
        if opening.kind == "fan_mount" and opening.side == side:
            mounts.setdefault(opening.fan_size_m, []).append(opening)
    choices = []
    for size in sorted(mounts):
        models = [fan for fan in fans if abs(fan.size_m - size) < 1e-6]
        choices.append([[(mount, fan) for mount in mounts[size]] for fan in models])
        if all(mount.may_be_empty for mount in mounts[size]):
            choices[-1].append([])
    for choice in product(*choices):
        yield tuple(pair for equipped in choice for pair in equipped)


def candidates(brief: Brief, catalogue: Catalogue, enclosure: Enclosure) -> Iterator[Parts]:
    """Every combination of parts in one enclosure."""
    fans = [fan for fan in catalogue.fans if fan.code not in brief.excluded_parts]
    required = {fan.code for fan in fans if fan.code in brief.required_parts}
    drives = [drive for drive in usable(catalogue.drives, brief) if drive.form == brief.drive_form]
    if brief.drive_capacity_tb is not None:
        drives = [drive for drive in drives if drive.capacity_tb == brief.drive_capacity_tb]
    if brief.drive_count == 0:
        drives = [None]
    for intake, exhaust in product(sides(enclosure, "intake", fans), sides(enclosure, "exhaust", fans)):
        if not required <= {fan.code for _, fan in intake + exhaust}:
            continue
        for rest in product(usable(catalogue.coolers, brief), usable(catalogue.supplies, brief), drives):
            yield Parts(enclosure, FanSet(intake, exhaust), *rest)


def fan_watts(parts: Parts) -> float:
    return sum(mount.fan_count * fan.power_w for mount, fan in parts.fans.mounts) + parts.cooler.power_w


def parts_price(parts: Parts, count: int) -> float:
    fans = sum(mount.fan_count * fan.price for mount, fan in parts.fans.mounts)
    drives = count * parts.drive.price if parts.drive else 0.0
    return round(parts.enclosure.price + fans + parts.cooler.price + parts.supply.price + drives, 6)
