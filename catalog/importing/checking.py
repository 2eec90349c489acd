"""What only shows when all blocks are read: codes given twice, names of nobody, parts that contradict each other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from catalog.built_in import BUILT_IN, is_built_in
from catalog.connections import check_enclosure
from catalog.formats import FILES, MAKERS, SOURCES
from catalog.importing.refusals import Place, Refusal, nearest
from catalog.ownership import PREFIX, is_own_code
from catalog.records import Record
from catalog.shapes import Format

_LEAVE_OUT = "another {}, or no such block: every catalogue has it"


@dataclass(frozen=True, slots=True)
class Parsed:
    """A block as a record, with where it stands; one that is not ``whole`` lacks the values that were refused."""

    kind: str
    place: Place
    record: Record
    whole: bool = True

    @property
    def layout(self) -> Format:
        return FILES[self.kind]

    @property
    def code(self) -> str:
        return str(self.record.columns.get("code", ""))


@dataclass(frozen=True, slots=True)
class Known:
    """What is there already and stays: codes of sources, names of makers, kinds of parts by code, the supplies."""

    sources: set[str]
    makers: set[str]
    parts: dict[str, str]
    supplies: tuple[Parsed, ...] = ()


def check_together(parsed: list[Parsed], known: Known, own: bool = False) -> Iterator[Refusal]:
    """Yield a refusal for everything that does not hold between blocks, of the catalogue or of somebody's ``own``."""
    yield from _reserved(parsed, own)
    yield from _built_in(parsed)
    yield from _twice(parsed, known)
    yield from _same_names(parsed)
    yield from _references(parsed, known)
    yield from _shared_paths(parsed, known.supplies)
    for block in parsed:
        if block.kind == "enclosures":
            for problem in check_enclosure(block.record, block.whole):
                yield Refusal(block.place, problem.column, problem.value, problem.reason, problem.accepted)


def _reserved(parsed: list[Parsed], own: bool) -> Iterator[Refusal]:
    """Codes of own parts and no others begin alike, so that nobody meets another's part by its code."""
    for block in parsed:
        if block.layout is MAKERS or not block.code or is_built_in(block.kind, block.code):
            continue
        if is_own_code(block.code) != (own and block.layout.is_part):
            reason = "is not the code of an own part" if own else f"begins with {PREFIX}, as only own parts do"
            accepted = f"a code that begins with {PREFIX}" if own else f"a code that does not begin with {PREFIX}"
            yield Refusal(block.place, "code", block.code, reason, accepted)


def _built_in(parsed: list[Parsed]) -> Iterator[Refusal]:
    """Files may repeat what is built in, but not say otherwise."""
    for block in parsed:
        for code, says in BUILT_IN.get(block.kind, {}).items():
            columns = {"code": code, **says}
            same_name = block.layout is MAKERS and block.record.columns.get("name") == says["name"]
            if (block.code == code or same_name) and block.record.columns != columns:
                field = "code" if block.code == code else "name"
                value = block.record.columns[field]
                yield Refusal(
                    block.place, field, value, "is built in and says otherwise", f"another {field}, or {columns}"
                )


def _twice(parsed: list[Parsed], known: Known) -> Iterator[Refusal]:
    """Briefs name parts by code alone, so one code may not mean parts of two kinds."""
    places: dict[tuple[bool | str, str], Place] = {}
    for block in parsed:
        key = (block.layout.is_part or block.kind, block.code)
        if not block.code:
            continue
        if key in places:
            yield Refusal(block.place, "code", block.code, f"is used by {places[key]} too", "a code of its own")
        places.setdefault(key, block.place)
        kept = known.parts.get(block.code) if block.layout.is_part else None
        if kept and kept != block.kind:
            reason = f"is already loaded as one of the {kept}"
            yield Refusal(block.place, "code", block.code, reason, "a code of its own")


def _same_names(parsed: list[Parsed]) -> Iterator[Refusal]:
    seen: set[str] = set()
    for block in parsed:
        name = block.record.columns.get("name")
        if block.layout is MAKERS and name:
            if name in seen:
                yield Refusal(block.place, "name", name, "is the name of another maker too", "a name of its own")
            seen.add(name)


def _references(parsed: list[Parsed], known: Known) -> Iterator[Refusal]:
    sources = known.sources | {block.code for block in parsed if block.layout is SOURCES}
    makers = known.makers | {block.record.columns.get("name", "") for block in parsed if block.layout is MAKERS}
    for block in parsed:
        if not block.layout.is_part:
            continue
        columns = block.record.columns
        named = [("source", columns.get("source"), sources), ("maker", columns.get("maker"), makers)]
        named += [
            (f"sources.{figure}", note.source, sources) for figure, note in block.record.notes.items() if note.source
        ]
        for field, word, words in named:
            if word and word not in words:
                yield Refusal(block.place, field, word, "is not known", nearest(word, words) or "none, there are none")


def _shared_paths(parsed: list[Parsed], kept: tuple[Parsed, ...]) -> Iterator[Refusal]:
    """Supplies that share an air path are solved once, so they must agree on everything that the air meets."""
    replaced = {block.code for block in parsed if block.kind == "supplies"}
    columns = ("curve_points_m3h_pa", "curve_speed_rpm", "curve_density_kg_m3", "curve_rest_loss_pa_s2_m6")
    columns += ("path_area_cm2", "path_loss")
    first = {block.record.columns["air_path"]: block for block in kept if block.code not in replaced}
    for block in parsed:
        if block.kind != "supplies" or not block.whole:
            continue
        other = first.setdefault(block.record.columns["air_path"], block)
        differing = [c for c in columns if other.record.columns[c] != block.record.columns[c]]
        if differing:
            keys = ", ".join(block.layout.key_of(column) for column in differing)
            reason = f"is the air path of {other.place} too, which differs in {keys}"
            yield Refusal(
                block.place, "air_path", block.record.columns["air_path"], reason, "the same air, or another name"
            )
