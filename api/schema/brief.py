"""The brief as JSON schema, made of the one table of its fields."""

from __future__ import annotations

import copy
from typing import Any

from advisor.brief import FIELDS, Field
from advisor.brief.fields import LONGEST_CODE
from api.schema.shapes import PLAIN, Schema, described, many, record, text

_TYPES = {"number": "number", "integer": "integer", "flag": "boolean", "text": "string", "currency": "string"}


def brief_schema() -> Schema:
    """Return the schema of a brief."""
    fields = {field.name: field_schema(field) for field in FIELDS}
    found = record("What someone needs.", [field.name for field in FIELDS if not field.required], **fields)
    return found | {"anyOf": [{"required": ["drive_count"]}, {"required": ["usable_capacity_tb"]}]}


def field_schema(field: Field) -> Schema:
    """Return the schema of one field: its description with unit, its range, its choices, its default."""
    help = described(field.help, field.unit)
    found = {"title": field.label} if field.label else {}
    found["description"] = f"{help} Default: {field.default_note}." if field.default_note else help
    found |= _value(field)
    if field.nullable:
        found["type"] = [found["type"], "null"]
    if field.default is not None:
        found["default"] = _plain(field.default)
    return found


def _value(field: Field) -> dict[str, Any]:
    limits = {} if field.minimum is None else {"minimum": field.minimum, "maximum": field.maximum}
    match field.kind:
        case "number" | "integer":
            return {"type": _TYPES[field.kind], **limits}
        case "text":
            return {"type": "string", "maxLength": field.maximum, "pattern": PLAIN}
        case "currency":
            return {"type": "string", "pattern": "^[A-Z]{3}$"}
        case "choice":
            return {"type": "string", "enum": list(field.choices)}
        case "choices":
            return {"type": "array", "items": {"type": "string", "enum": list(field.choices)}, "minItems": 1}
        case "codes":
            code = {"type": "string", "minLength": 1, "maxLength": LONGEST_CODE, "pattern": PLAIN}
            return {"type": "array", "items": code, "maxItems": field.maximum}
        case "weights":
            help = "Weight of this criterion."
            weights = {name: {"type": "number", "description": help, **limits} for name in field.choices}
            return {"type": "object", "properties": weights, "additionalProperties": False}
        case _:
            return {"type": _TYPES[field.kind]}


def _plain(value: Any) -> Any:
    return list(value) if isinstance(value, tuple) else copy.copy(value)


CAUTION = record(
    "Something about an acceptable brief that its writer should know.",
    field=text("Field of the brief."),
    message=text("A sentence."),
)
WARNINGS = many(CAUTION, "What the writer of the brief should know, such as values that were taken for granted.")
