"""From what someone wrote to a checked brief, or to everything that is wrong with it. Nothing here raises."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from advisor.brief.cautions import cautions
from advisor.brief.contradictions import KnownParts, contradictions
from advisor.brief.defaults import with_defaults
from advisor.brief.fields import FIELD_OF, FIELDS
from advisor.brief.values import Caution, Problem, Refused, missing, nearest, problem, read_value, shown
from advisor.engine.inputs import Brief
from advisor.engine.units import to_si

MOST_UNKNOWN = 20
_LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class BriefReading:
    """A brief and its cautions, or None and the problems."""

    brief: Brief | None
    problems: tuple[Problem, ...]
    warnings: tuple[Caution, ...] = ()


def read_brief(mapping: object, known_parts: KnownParts | None = None) -> BriefReading:
    """Check a brief and turn it into the engine's record, in SI units and with every default filled in.

    Parameters
    ----------
    mapping : object
        Field names to values as they come from JSON or YAML; anything else is a problem.
    known_parts : mapping, optional
        Codes of the catalogue's parts to their kinds; without it, part codes are not looked up.

    Examples
    --------
    >>> reading = read_brief({"processor_watts": 65, "board_form": "atx", "noise_target_dba": 30, "drive_count": 1})
    >>> reading.brief.processor_watts, reading.problems
    (65.0, ())
    >>> reading = read_brief({"processor_watts": -5, "board_form": "atx", "noise_target_dba": 30, "drive_count": 1})
    >>> reading.problems[0].message
    'processor_watts: -5 is out of range; accepted: a number from 1 to 1000 W.'
    """
    if not isinstance(mapping, Mapping):
        return BriefReading(None, (problem("", mapping, "is not a brief", "a mapping of field names to values"),))
    given, problems = _read_fields(mapping)
    problems += _unknown_fields(mapping)
    refused = {one.field for one in problems}
    values = with_defaults(given)
    problems += contradictions(values, refused, known_parts)
    if problems:
        order = {field.name: place for place, field in enumerate(FIELDS)}
        return BriefReading(None, tuple(sorted(problems, key=lambda one: order.get(one.field, -1))))
    return BriefReading(_brief(values), (), tuple(cautions(values, given)))


def _read_fields(mapping: Mapping[Any, Any]) -> tuple[dict[str, Any], list[Problem]]:
    """Return the accepted values of the fields that were given, and the problems of all others."""
    given: dict[str, Any] = {}
    problems = []
    for field in FIELDS:
        if field.name not in mapping:
            if field.required:
                problems.append(missing(field.name))
            continue
        value = mapping[field.name]
        if value is None and field.nullable:
            continue
        try:
            given[field.name] = read_value(field, value)
        except Refused as refused:
            problems.append(problem(field.name, value, str(refused)))
    return given, problems


def _unknown_fields(mapping: Mapping[Any, Any]) -> Iterator[Problem]:
    unknown = [name for name in mapping if not isinstance(name, str) or name not in FIELD_OF]
    for name in unknown[:MOST_UNKNOWN]:
        plain = isinstance(name, str) and 0 < len(name) <= _LONGEST_NAME and name.isprintable()
        accepted = f"the fields of a brief{nearest(name, FIELD_OF)}"
        label = name if plain else shown(name)
        yield Problem(label, shown(mapping[name]), accepted, f"{label} is not a field; accepted: {accepted}.")
    if len(unknown) > MOST_UNKNOWN:
        rest = f"{len(unknown) - MOST_UNKNOWN} more"
        yield Problem(
            "", rest, "the fields of a brief", f"{rest} names are not fields; accepted: the fields of a brief."
        )


def _brief(values: Mapping[str, Any]) -> Brief:
    return Brief(**{field.target: _inner(field.unit, values[field.name]) for field in FIELDS})


def _inner(unit: str, value: Any) -> Any:
    return to_si(value, "mm") if unit == "mm" and value is not None else value
