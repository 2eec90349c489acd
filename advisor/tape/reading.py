"""From what someone entered to a checked entry, or to everything that is wrong with it. Nothing here raises."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from advisor.brief.fields import Field
from advisor.brief.values import Problem, Refused, nearest, problem, read_value, shown
from advisor.tape.contradictions import contradictions
from advisor.tape.defaults import (
    bay_defaults,
    divider_defaults,
    fan_defaults,
    panel_defaults,
    supply_defaults,
    whole_defaults,
)
from advisor.tape.entry import Bays, Divider, FanMount, Panel, SupplyPlace, TapeEntry
from advisor.tape.fields import KEYS, ONE_OF, PANEL, PARTS, WHOLE
from advisor.tape.geometry import FACES

MOST_UNKNOWN = 20
_LEFT_OUT = ("material", "thickness_mm", "lining_mm")  # of the whole: panels have taken them over


@dataclass(frozen=True, slots=True)
class TapeReading:
    """An entry, or None and the problems."""

    entry: TapeEntry | None
    problems: tuple[Problem, ...]


@dataclass
class _Reader:
    """Collects values, problems and the paths of fields that were given."""

    problems: list[Problem] = field(default_factory=list)
    given: set[str] = field(default_factory=set)

    def refuse(self, path: str, value: object, why: str, accepted: str) -> None:
        self.problems.append(problem(path, value, why, accepted))

    def mapping(self, path: str, value: object, known: tuple[str, ...]) -> Mapping[Any, Any]:
        """Return a mapping whose keys are all known, or an empty one beside a problem."""
        if not isinstance(value, Mapping):
            self.refuse(path, value, "is not a mapping", "field names with values")
            return {}
        unknown = [key for key in value if not isinstance(key, str) or key not in known]
        for key in unknown[:MOST_UNKNOWN]:
            name = key if isinstance(key, str) and 0 < len(key) <= 60 and key.isprintable() else shown(key)
            where = f"{path}.{name}" if path else name
            accepted = f"the fields {', '.join(known)}"
            told = f"{where} is not a field{nearest(key, known)}; accepted: {accepted}."
            self.problems.append(Problem(where, shown(value[key]), accepted, told))
        if len(unknown) > MOST_UNKNOWN:
            self.refuse(path, len(unknown), "names are not fields", f"the fields {', '.join(known)}")
        return value

    def fields(self, path: str, value: object, fields: tuple[Field, ...]) -> dict[str, Any]:
        """Read the fields of one block; those left out or refused hold their defaults."""
        block = self.mapping(path, value, tuple(one.name for one in fields))
        return {one.name: self.one(f"{path}.{one.name}" if path else one.name, one, block) for one in fields}

    def one(self, path: str, field: Field, block: Mapping[Any, Any]) -> Any:
        if field.name not in block or (block[field.name] is None and field.nullable):
            if field.required:
                told = f"{path} is missing; accepted: {field.accepted}."
                self.problems.append(Problem(path, "", field.accepted, told))
            return field.default
        try:
            read = read_value(field, block[field.name])
        except Refused as refused:
            self.refuse(path, block[field.name], str(refused), field.accepted)
            return field.default
        self.given.add(path)
        return read

    def listed(self, path: str, value: object, fields: tuple[Field, ...], most: int) -> list[dict[str, Any]]:
        if value is None:
            return []
        if not isinstance(value, list | tuple):
            self.refuse(path, value, "is not a list", f"a list of up to {most} blocks")
            return []
        if len(value) > most:
            self.refuse(path, value, "is too long", f"a list of up to {most} blocks")
            return []
        return [self.fields(f"{path}[{place}]", block, fields) for place, block in enumerate(value)]


def read_tape(mapping: object) -> TapeReading:
    """Check an entry and fill in every default.

    Parameters
    ----------
    mapping : object
        Field names to values as they come from JSON or YAML; anything else is a problem.

    Examples
    --------
    >>> size = {"width_mm": 210, "height_mm": 450, "depth_mm": 420}
    >>> reading = read_tape({**size, "fans": [{"face": "rear", "size_mm": 120}], "bays": [{"count": 2}]})
    >>> reading.entry.fans[0].side, reading.entry.bays[0].place, reading.problems
    ('exhaust', 'front', ())
    >>> read_tape({**size, "panels": {"front": {"holes_share": 1.2}}}).problems[0].message
    'panels.front.holes_share: 1.2 is out of range; accepted: a number from 0 to 0.95.'
    """
    reader = _Reader()
    if not isinstance(mapping, Mapping):
        return TapeReading(None, (problem("", mapping, "is not an entry", "a mapping of field names to values"),))
    values = _read_all(reader, mapping)
    if reader.problems:
        return TapeReading(None, tuple(reader.problems))
    given = frozenset(reader.given)
    before = tuple(contradictions(values, given, filled=False))
    if before:
        return TapeReading(None, before)
    filled = _fill(values)
    problems = tuple(contradictions(filled, given, filled=True))
    return TapeReading(None, problems) if problems else TapeReading(_entry(filled, given), ())


def _read_all(reader: _Reader, mapping: Mapping[Any, Any]) -> dict[str, Any]:
    reader.mapping("", mapping, KEYS)
    whole = {one.name: reader.one(one.name, one, mapping) for one in WHOLE}
    panels = reader.mapping("panels", _given(mapping, "panels"), FACES)
    values = {
        **whole,
        "panels": {face: reader.fields(f"panels.{face}", _given(panels, face), PANEL) for face in FACES},
    }
    for key, (fields, most) in PARTS.items():
        values[key] = reader.listed(key, mapping.get(key), fields, most)
    for key, fields in ONE_OF.items():
        wanted = mapping.get(key) is not None or key == "supply"
        values[key] = reader.fields(key, _given(mapping, key), fields) if wanted else None
    return values


def _given(block: Mapping[Any, Any], key: str) -> Any:
    """Return what is under a key; null, like a key left out, is an empty block."""
    value = block.get(key)
    return {} if value is None else value


def _fill(values: dict[str, Any]) -> dict[str, Any]:
    """Fill in defaults in the order in which they rest on each other."""
    v = dict(values)
    v["divider"] = divider_defaults(v["divider"], v) if v["divider"] else None
    v["panels"] = {face: panel_defaults(face, panel, v) for face, panel in v["panels"].items()}
    v["fans"] = [fan_defaults(fan, v) for fan in v["fans"]]
    v["bays"] = [bay_defaults(bays, v) for bays in v["bays"]]
    v["supply"] = supply_defaults(v["supply"], v)
    return whole_defaults(v)


def _entry(v: dict[str, Any], given: frozenset[str]) -> TapeEntry:
    whole = {one.name: v[one.name] for one in WHOLE if one.name not in _LEFT_OUT}
    return TapeEntry(
        **whole,
        panels={face: Panel(**panel) for face, panel in v["panels"].items()},
        fans=tuple(FanMount(**fan) for fan in v["fans"]),
        bays=tuple(Bays(**bays) for bays in v["bays"]),
        divider=Divider(**v["divider"]) if v["divider"] else None,
        supply=SupplyPlace(**v["supply"]),
        given=given,
    )
