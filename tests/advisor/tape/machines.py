"""Whole builds in tape-entered and in hand-drawn enclosures, with the same parts, at the same settings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from advisor.assembly.enclosures import enclosure as assembled
from advisor.engine.case.fans import FanSet
from advisor.engine.inputs import Brief, Catalogue, Enclosure, Fan
from advisor.engine.pipeline import Build
from advisor.engine.record.building import build_of
from advisor.engine.record.describe import describe
from advisor.engine.sampling import sample
from advisor.engine.scenarios import SCENARIO_TABLE
from advisor.tape.block import TapeResult, enclosure_of
from advisor.tape.entering import derive
from advisor.tape.files import read_tape_file
from advisor.tape.reading import read_tape
from catalog.formats import ENCLOSURES
from catalog.importing.parsing import BlockParser
from catalog.importing.refusals import Place
from catalog.importing.writing import write_record
from catalog.models import Enclosure as Row
from catalog.provenance import Origin, notes_by_part, source_kinds
from tests.advisor.tape.strategies import SIZES_MM
from tests.engine import builds
from tests.engine.make_parts import make_cooler, make_drive, make_supply

ENTRIES = Path(__file__).parents[3] / "fixtures" / "tape"
COOLER_STEP = 4


def stored(block: dict) -> Enclosure:
    """Write a block into the catalogue and return what the engine gets of it."""
    record = BlockParser(ENCLOSURES, Place("entry")).parse(block)
    write_record(ENCLOSURES, record)
    row = Row.objects.with_wiring().get(code=block["code"])
    notes = notes_by_part().get(("enclosure", row.pk), {})
    return assembled(row, Origin(row.source_id, notes, source_kinds()))


def derived(mapping: dict) -> TapeResult:
    """Return what an entry that must be accepted is derived into."""
    reading = read_tape(mapping)
    assert reading.entry is not None, [problem.message for problem in reading.problems]
    return derive(reading.entry)


def entered(mapping: dict) -> Enclosure:
    """Store what an entry is derived into, in the place of the entry before, and return what the engine gets."""
    Row.objects.all().delete()
    return stored({**derived(mapping).block, "code": "by-tape"})


def fan_of(size_m: float) -> Fan:
    return replace(builds.fan(0.12, f"fan-{1000 * size_m:.0f}"), size_m=size_m)


# Parts without a catalogue: a fan of every size, supplies of three forms, one cooler and one drive.
PLAIN = Catalogue(
    fans=tuple(fan_of(size / 1000) for size in SIZES_MM),
    coolers=(make_cooler(height_m=0.01),),
    supplies=tuple(
        make_supply(code=f"supply-{form}", form=form, length_m=0.1, air_path=form) for form in ("atx", "sfx", "flex")
    ),
    drives=(make_drive(),),
)


def plain_brief(box: Enclosure) -> Brief:
    """A small machine with up to three drives, as many as the enclosure holds."""
    held = sum(group.count for group in box.bay_groups if group.form == "3.5")
    changes = {"board_form": "mini_itx", "graphics_watts": 0.0, "graphics_count": 0, "card_count": 0}
    return builds.brief_of(min(held, 3), **changes, required_parts=())


def plain_build(box: Enclosure) -> Build:
    """A build of the plain parts, with fans on every mount."""
    models = {fan.size_m: fan for fan in PLAIN.fans}
    supply = next(one for one in PLAIN.supplies if one.form in box.supply_forms)
    return builds.build_of(box, plain_brief(box), builds.fans_of(box, models, models), PLAIN.coolers[0], supply)


def entry_files() -> list[Path]:
    return sorted(ENTRIES.glob("*.yaml"))


def stored_file(path: Path) -> Enclosure:
    """Store the enclosure that a file enters."""
    (one,) = read_tape_file(path)
    assert one.reading.entry is not None, [problem.message for problem in one.reading.problems]
    return stored(enclosure_of(one.reading.entry, f"taped-{one.reading.entry.code}").block)


def fans_for(box: Enclosure, parts: Catalogue) -> FanSet:
    """The first fan on temperature control of every size, on all mounts."""
    by_size = {}
    for fan in parts.fans:
        if fan.control == "temperature":
            by_size.setdefault(round(fan.size_m, 4), fan)
    sides = []
    for side in ("intake", "exhaust"):
        mounts = [one for one in box.openings if one.kind == "fan_mount" and one.side == side]
        sides.append(tuple((mount, by_size[round(mount.fan_size_m, 4)]) for mount in mounts))
    return FanSet(*sides)


def machine(box: Enclosure, parts: Catalogue, brief: Brief) -> Build:
    """A build in an enclosure from the first parts that fit."""
    cooler = next(one for one in parts.coolers if one.height_m <= box.cooler_height_m and one.max_rpm > 0)
    supply = next(
        one
        for one in parts.supplies
        if one.form in box.supply_forms and one.length_m <= box.supply_length_m and one.rating_w >= 300
    )
    drive = next(one for one in parts.drives if one.form == "3.5") if brief.drive_count else None
    return build_of(brief, parts, box, fans_for(box, parts), cooler, supply, drive)


def middle(build: Build) -> tuple[np.ndarray, np.ndarray]:
    """Rows and cooler steps (5,) at half speed in every scenario."""
    i, e = (len(steps) for steps in build.fans.steps)
    return np.arange(5) * i * e + (i // 2) * e + e // 2, np.full(5, COOLER_STEP)


@dataclass(frozen=True)
class Compared:
    """One figure of both: scenario, name, by hand, by tape, and standard uncertainties of tape and difference."""

    scenario: str
    name: str
    by_hand: float
    by_tape: float
    tape_u: float
    difference_u: float

    @property
    def gap(self) -> float:
        return self.by_tape - self.by_hand


WANTED = ("processor", "graphics", "drive")


def compare(hand: Build, tape: Build, parts: Catalogue) -> Iterator[Compared]:
    """Yield the warmest processor, graphics board and drive and the level, in every scenario, of both builds.

    The uncertainty of a difference is that of common draws: what both share (parts, room) counts once.
    """
    told, drawn = [], []
    for build in (hand, tape):
        rows, steps = middle(build)
        told.append(describe(build, tuple(rows), tuple(steps), parts))
        drawn.append(sample(build, rows, steps))
    for s, scenario in enumerate(SCENARIO_TABLE):
        said = [one.predictions[scenario.code] for one in told]
        spread = float(np.std(drawn[1].noise_dba[:, s] - drawn[0].noise_dba[:, s]))
        yield _compared(scenario.code, "noise", [one.noise.noise_dba for one in said], spread)
        for role in WANTED:
            parts_of = [one.warmest(role) for one in said]
            if parts_of[0] is None or parts_of[1] is None:
                continue
            columns = [_columns(build, role) for build in (hand, tape)]
            warmest = [one.temperature_c[:, s, column].max(axis=1) for one, column in zip(drawn, columns, strict=True)]
            spread = float(np.std(warmest[1] - warmest[0]))
            yield _compared(scenario.code, role, [one.temperature_c for one in parts_of], spread)


def _compared(scenario: str, name: str, figures: list, spread: float) -> Compared:
    by_hand, by_tape = figures
    return Compared(scenario, name, by_hand.value, by_tape.value, by_tape.standard_uncertainty, spread)


def _columns(build: Build, role: str) -> list[int]:
    return [place for place, name in enumerate(build.case.components.names) if name.partition(":")[0] == role]
