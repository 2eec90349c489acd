"""What would be derived of an enclosure that is measured: its picture, and every figure with how it came about."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from advisor.engine.units import to_si
from advisor.tape.block import TapeResult
from advisor.tape.ledger import Derived
from catalog.formats import ENCLOSURES
from catalog.shapes import Children
from frontend.contexts.columns import label_of, unit_words, word_of
from frontend.pictures import air, housing
from frontend.pictures.air import AirPicture
from frontend.pictures.housing import Bays, Housing, OpeningPlace, ZonePlace, extent
from frontend.templatetags.quantities import exact, stated
from frontend.templatetags.words import place, role, sentence_case

_TITLES = {
    "openings": "Openings",
    "zones": "Zones of air",
    "bay_groups": "Bays for drives",
    "seats": "Where parts sit",
    "insertion_loss_db": "What the faces hold back",
    "sound_shares": "Where the sound leaves",
}
_UNIT = re.compile("_(mm|cm2|kg)$")
_PARTS = ("processor", "graphics", "board", "memory", "ssd", "card", "controller", "drives", "supply")


@dataclass(frozen=True, slots=True)
class Relation:
    """An equation of a handbook, with its number on the page."""

    number: int
    equation: str
    source: str


@dataclass(frozen=True, slots=True)
class DerivedLine:
    """One figure: what it is, its value with one standard uncertainty, its relation, and what went in."""

    name: str
    value: str
    relation: Relation
    inputs: str


@dataclass(frozen=True, slots=True)
class DerivedGroup:
    """Figures of one subject."""

    title: str
    lines: tuple[DerivedLine, ...]


@dataclass(frozen=True, slots=True)
class TapePreview:
    """An enclosure as it would be stored."""

    name: str
    facts: tuple[tuple[str, str], ...]
    air: AirPicture
    groups: tuple[DerivedGroup, ...]
    relations: tuple[Relation, ...]
    count: int


def tape_preview(result: TapeResult) -> TapePreview:
    """Return what the preview shows of a derived enclosure."""
    relations: dict[tuple[str, str], Relation] = {}
    for line in result.derived:
        relations.setdefault((line.relation, line.source), Relation(len(relations) + 1, line.relation, line.source))
    groups: dict[str, list[DerivedLine]] = {}
    for line in result.derived:
        first = line.figure.partition(".")[0]
        title = _TITLES.get(first, "The enclosure")
        groups.setdefault(title, []).append(_line(line, relations[line.relation, line.source]))
    return TapePreview(
        result.block["name"],
        tuple(_facts(result.block)),
        air.of_housing(housing_of(result.block)),
        tuple(DerivedGroup(title, tuple(lines)) for title, lines in groups.items()),
        tuple(relations.values()),
        len(result.derived),
    )


def housing_of(block: Mapping[str, Any]) -> Housing:
    """Return an enclosure's block as pictures need it."""
    width, height, depth = (to_si(one, "mm") for one in block["size_mm"])
    size = (width, depth, height)
    upright = Housing(
        block["code"],
        block["name"],
        size,
        tuple(ZonePlace(one["code"], _position(one)) for one in block["zones"]),
        tuple(_opening(one, size) for one in block["openings"]),
        tuple(Bays(one["code"], one["count"], one["zone"], one.get("opening") or "") for one in block["bay_groups"]),
        tuple((one["role"], one["zone"]) for one in block["seats"]),
    )
    return housing.turned(upright, "upright")


def _opening(one: Mapping[str, Any], size: tuple[float, float, float]) -> OpeningPlace:
    fan = (to_si(one.get("fan_size_mm", 0.0), "mm"), one.get("fan_count", 0))
    reach = extent(one["face"], to_si(one["height_mm"], "mm"), to_si(one["area_cm2"], "cm2"), fan, size)
    return OpeningPlace(
        one["code"],
        one["kind"],
        one["from"],
        one["to"],
        _position(one),
        reach,
        one["face"],
        one["face"],
        "filter" in one,
        one.get("two_way", False),
        fan[1],
        fan[0],
    )


def _position(one: Mapping[str, Any]) -> tuple[float, float, float]:
    x, y, z = (to_si(value, "mm") for value in one["position_mm"])
    return x, y, z


def _facts(block: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    columns = ENCLOSURES.columns
    yield "Size", f"{' × '.join(exact(one) for one in block['size_mm'])} mm"
    yield "Mass, empty", exact(block["mass_kg"], "kg")
    yield "Main boards", ", ".join(word_of(columns["board_forms"], one) for one in block["board_forms"])
    yield "Tallest processor cooler", exact(block["cooler_height_mm"], "mm")
    yield "Longest card", f"{exact(block['card_length_mm'], 'mm')}, {block['card_slots']} slots"
    supplies = ", ".join(word_of(columns["supply_forms"], one) for one in block["supply_forms"])
    yield "Power supply", f"{supplies}, up to {exact(block['supply_length_mm'], 'mm')}"
    bays = ", ".join(f"{one['count']} × {one['form']} inch" for one in block["bay_groups"])
    yield "Bays", bays or "none"


def _line(line: Derived, relation: Relation) -> DerivedLine:
    unit = "dB" if line.unit == "dB" else unit_words(line.unit)
    return DerivedLine(_name(line.figure), stated(line.value, line.uncertainty, unit), relation, _inputs(line))


def _inputs(line: Derived) -> str:
    return ", ".join(_input(name, value) for name, value in line.inputs)


def _input(name: str, value: float | str) -> str:
    """Return what went into a relation; names end in their unit.

    >>> _input("size_mm", 120.0), _input("guard", "stamped")
    ('size 120\u202fmm', 'guard stamped')
    """
    found = _UNIT.search(name)
    unit, words = (found[1], name[: found.start()]) if found else ("", name)
    text = exact(value, unit_words(unit)) if isinstance(value, int | float) else str(value)
    return f"{words.replace('_', ' ')} {text}"


def _name(figure: str) -> str:
    """Return a figure's name as people read it: the thing, then what of it.

    >>> _name("openings.rear_fans.area_cm2"), _name("insertion_loss_db.front"), _name("seats.processor.preheat")
    ('Rear fans: free area', 'Front', 'Processor: preheat factor')
    """
    first, *rest = figure.split(".")
    if not rest or first in ("insertion_loss_db",):
        return sentence_case(rest[-1] if rest else label_of(first))
    entry = ENCLOSURES.by_key.get(first)
    if not isinstance(entry, Children):
        return label_of(figure)
    thing = role(rest[0]) if rest[0] in _PARTS and first in ("seats", "sound_shares") else place(rest[0])
    key = ".".join(rest[1:])
    return f"{sentence_case(thing)}: {label_of(key).lower()}" if key else sentence_case(thing)
