"""Power, starting up, the UPS, storage and bays of a build."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from advisor.brief.words import CHOICES
from advisor.engine.inputs import SCENARIOS
from frontend.contexts.answers import part_address, watts
from frontend.contexts.sentences import Speech
from frontend.contexts.tables import Cell, Column, Table
from frontend.pictures.housing import Housing
from frontend.templatetags.quantities import (
    counted,
    duration,
    figure,
    hours,
    minutes,
    money,
    odds,
    quantity,
    share,
    years,
)
from frontend.templatetags.words import ROLES, place, scenario, sentence_case

Record = Mapping[str, Any]
_STATES = (
    Column("Scenario"),
    Column("From the wall", numeric=True),
    Column("Parts draw", numeric=True),
    Column("Of its rating", numeric=True),
    Column("Efficiency", numeric=True),
)


@dataclass(frozen=True, slots=True)
class Fact:
    """A figure with its name; ``address`` leads to what it is about."""

    name: str
    words: str
    address: str = ""


@dataclass(frozen=True, slots=True)
class BayGroup:
    """Bays side by side: ``drives`` are the names of those that hold one, ``empty`` how many hold none."""

    title: str
    temperature: str
    words: str
    drives: tuple[str, ...]
    empty: tuple[str, ...]


def power_states(power: Record) -> Table:
    """Return the power of every scenario."""
    rows = tuple(
        (
            Cell(scenario(code)),
            Cell(watts(one["wall_w"])),
            Cell(watts(one["load_w"])),
            Cell(share(one["load_share"])),
            Cell(share(one["efficiency"]), quiet="below what was measured" if one["extrapolated"] else ""),
        )
        for code in SCENARIOS
        for one in (power["scenarios"][code],)
    )
    return Table("Power by scenario", _STATES, rows)


def power_by_part(power: Record) -> Table:
    """Return what each kind of part draws in every scenario."""
    columns = (Column("Parts"), *(Column(scenario(code), numeric=True) for code in SCENARIOS))
    draws = [power["scenarios"][code]["draw_w"] for code in SCENARIOS]
    rows = tuple(
        (Cell(sentence_case(ROLES.get(name, name))), *(Cell(watts(one[name])) for one in draws))
        for name in draws[0]
        if any(one[name] for one in draws)
    )
    return Table("What draws it", columns, rows)


def power_facts(power: Record, currency: str, speech: Speech) -> Iterator[Fact]:
    """Yield a year's energy, how drives start, and the UPS."""
    spent = ", ".join(f"{share(part)} {scenario(code).lower()}" for code, part in power["duty"].items())
    cost = money(power["yearly_cost"], currency)
    yield Fact("In a year", f"{quantity(round(power['yearly_kwh']), 'kWh')} for {cost}, of its time {spent}")
    if power["spin_up"]:
        yield Fact("Starting its drives", _start(power["spin_up"]))
    ups = power["ups"]
    if ups:
        said = speech.say(ups["reason"])
        if ups["unit"]:
            said = f"{ups['name']}, {money(ups['price'], currency)}: carries {watts(ups['load_w'])} for "
            said += f"{minutes(ups['minutes'])}; not in the price"
        yield Fact("UPS", said, part_address("ups", ups["unit"]) if ups["unit"] else "")


def _start(plan: Record) -> str:
    peak, limit = watts(plan["peak_w_12v"]), watts(plan["limit_w_12v"])
    if not plan["possible"]:
        return f"peaks at {peak} at 12 V, more than the {limit} that the supply has: take a stronger supply"
    if plan["groups"] <= 1:
        return f"all at once: peak {peak} of the {limit} that the supply has at 12 V"
    return (
        f"in {plan['groups']} groups of up to {plan['group_size']}, {duration(plan['interval_s'])} apart (set "
        f"staggered spin-up): peak {peak} of the {limit} that the supply has at 12 V, all turn after "
        f"{duration(plan['seconds'])}"
    )


def storage_facts(storage: Record | None) -> Iterator[Fact]:
    """Yield what the drives hold together and how likely they keep it."""
    if storage is None:
        return
    drives = counted(storage["drives"], "drive")
    spares = f" and {counted(storage['hot_spares'], 'hot spare')}" if storage["hot_spares"] else ""
    yield Fact("Layout", f"{CHOICES['layout'][storage['layout']].partition(' (')[0]} of {drives}{spares}")
    usable, raw = quantity(storage["usable_tb"], "TB"), quantity(storage["raw_tb"], "TB")
    yield Fact("Usable", f"{usable} of {raw} ({share(storage['efficiency'])})")
    tolerated = storage["failures_tolerated"]
    yield Fact("May fail at once", counted(tolerated, "drive") if tolerated else "none")
    if storage["rebuild_h"]:
        yield Fact("Rebuild of a drive", hours(storage["rebuild_h"]))
    if storage["loss_in_rebuild"] is not None:
        yield Fact("Loss during a rebuild", odds(storage["loss_in_rebuild"]))
    yield Fact("Loss within five years", odds(storage["loss_5_years"]))
    yield Fact("Mean time to a loss", years(storage["mttdl_years"]))


def bay_groups(build: Record, housing: Housing) -> Iterator[BayGroup]:
    """Yield the groups of bays that hold drives, or could where they take the drives' form without adapters."""
    names = {line["part"]: line["name"] for line in build["parts"]}
    counts = {one.code: one.count for one in housing.bays}
    for code, found in groupby(build["bays"], key=lambda one: one["group"]):
        bays = list(found)
        first = bays[0]
        free = 0 if first["adapter"] else max(counts.get(code, 0) - len(bays), 0)
        adapter = f", in {names.get(first['adapter'], first['adapter'])}" if first["adapter"] else ""
        yield BayGroup(
            f"{sentence_case(place(code))} bays",
            figure(first["temperature_c"], "°C"),
            f"{len(bays)} × {names.get(first['drive'], first['drive'])}{adapter}. Each is shown as warm as "
            f"the warmest of its group gets in any scenario: {scenario(first['scenario']).lower()}.",
            tuple(place(one["bay"]) for one in bays),
            tuple(f"{place(code)} {len(bays) + n}" for n in range(1, free + 1)),
        )
