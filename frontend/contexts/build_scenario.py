"""What a build does in one scenario: its air, its temperatures, where its noise comes from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from advisor.engine.inputs import SCENARIOS
from frontend.contexts.answers import build_address, nearest
from frontend.contexts.tables import Cell, Column, Table
from frontend.pictures import air, intervals, noise
from frontend.pictures.air import AirPicture
from frontend.pictures.air.figures import AirFigures
from frontend.pictures.housing import Housing
from frontend.pictures.intervals import Intervals
from frontend.pictures.noise import NoisePicture
from frontend.templatetags.quantities import fixed, flow, flow_with, number, quantity, share, signed
from frontend.templatetags.words import place, scenario, scenario_says, sentence_case

Record = Mapping[str, Any]
_DENSITY_KG_M3 = 1.2  # at which a throughflow in kg/s is said in m3/h
_ZONES = (Column("Zone"), Column("Air", numeric=True), Column("Pressure", numeric=True), Column("Fresh", numeric=True))


@dataclass(frozen=True, slots=True)
class Switch:
    """A link to the same page in another scenario."""

    code: str
    words: str
    address: str
    current: bool


@dataclass(frozen=True, slots=True)
class ScenarioView:
    """One scenario of a build; pictures are None, and ``zones`` has rows, where the record keeps no more."""

    code: str
    title: str
    says: str
    switches: tuple[Switch, ...]
    air: AirPicture | None
    facts: tuple[tuple[str, str], ...]
    wrong_ways: tuple[str, ...]
    zones: Table
    temperatures: Intervals
    noise: NoisePicture | None
    level: Mapping[str, float]


def is_whole(build: Record) -> bool:
    """Tell whether a record has the flow of every opening and every way of the sound, as alternatives' have not."""
    return all("openings" in build["airflow"][code] for code in SCENARIOS)


def scenario_shown(build: Record, asked: str | None) -> str:
    """Return the scenario asked for, or the one that limits the build."""
    return asked if asked in SCENARIOS else nearest(build)[0]


def scenario_view(build: Record, code: str, housing: Housing, study: str) -> ScenarioView:
    """Return what is known of a build in one scenario."""
    whole = is_whole(build)
    picture = air.of_build(build, code, housing) if whole else None
    here = build_address(study, build["id"])
    found = build["airflow"][code]
    return ScenarioView(
        code,
        scenario(code),
        scenario_says(code),
        tuple(Switch(one, scenario(one), f"{here}?scenario={one}#scenario", one == code) for one in SCENARIOS),
        picture,
        tuple(_facts(found)),
        tuple(wrong_ways(picture.figures)) if picture else (),
        Table("Air of each zone", _ZONES, () if whole else tuple(_zone(one) for one in found["zones"])),
        intervals.temperatures(build, code),
        noise.of_build(build, code) if whole else None,
        build["predictions"][code]["noise_dba"],
    )


def _facts(found: Record) -> Iterator[tuple[str, str]]:
    yield (
        "Air through it",
        f"{flow(found['throughflow_kgs'] / _DENSITY_KG_M3)}, drawn in at " + quantity(found["intake_c"], "°C"),
    )
    yield "Changed", f"{number(found['air_changes_per_h'], -1)} times an hour"
    yield "Fresh where heat arises", share(found["fresh_share"])
    yield "Filtered on its way in", share(found["filtered_share"])
    yield "Leaves without passing heat", share(found["short_circuit_share"])


def wrong_ways(figures: AirFigures) -> Iterator[str]:
    """Yield a sentence on each opening through which air goes against what is meant."""
    for one in figures.streams:
        if one.wrong_way:
            air = f"{flow_with(one.flow_m3s or 0.0, one.flow_u_m3s)} at {fixed(one.temperature_c, '°C')}"
            yield (
                f"{sentence_case(one.said)} (no. {one.number} in the picture) blows the wrong way: {air} go from "
                f"{place(one.source)} to {place(one.target)}."
            )


def _zone(one: Record) -> tuple[Cell, ...]:
    return (
        Cell(sentence_case(place(one["code"]))),
        Cell(fixed(one["temperature_c"], "°C")),
        Cell(signed(one["pressure_pa"], "Pa")),
        Cell(share(one["fresh_share"])),
    )
