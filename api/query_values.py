"""How values of query parameters are described in the schema of the interface."""

from __future__ import annotations

from api.schema.shapes import Schema, flag, number, one_of, text, whole
from catalog.finding.values import Value


def value_schema(value: Value, help: str) -> Schema:
    """Return the schema of a value under a description."""
    match value.form:
        case "number":
            return number(help)
        case "whole":
            return whole(help)
        case "flag":
            return flag(help)
        case "day":
            return text(help, format="date")
        case "words":
            return text(f"{help} One of {value.accepted}.")
        case "word":
            return one_of(value.choices, help)
        case "codes":
            return text(f"{help} {value.accepted.capitalize()}.")
    return text(help, minLength=1, maxLength=value.longest)
