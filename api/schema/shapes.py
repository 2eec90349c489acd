"""Words to write JSON schemas in: every shape has a description, with its unit in square brackets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

Schema = dict[str, Any]
# No control characters. More is refused that a pattern can't say, such as marks that turn the direction of text.
PLAIN = "^[^\\x00-\\x1f\\x7f-\\x9f]*$"


def described(help: str, unit: str = "") -> str:
    """Return a description with its unit, where there is one."""
    return f"{help} [{unit}]" if unit else help


def number(help: str, unit: str = "", **limits: Any) -> Schema:
    """A number; ``limits`` are further keywords, such as ``minimum``."""
    return {"type": "number", "description": described(help, unit), **limits}


def whole(help: str, unit: str = "", **limits: Any) -> Schema:
    return {"type": "integer", "description": described(help, unit), **limits}


def text(help: str, **limits: Any) -> Schema:
    return {"type": "string", "description": help, **limits}


def flag(help: str, **more: Any) -> Schema:
    return {"type": "boolean", "description": help, **more}


def one_of(choices: Iterable[str], help: str, **more: Any) -> Schema:
    return {"type": "string", "enum": list(choices), "description": help, **more}


def moment(help: str) -> Schema:
    return text(help, format="date-time")


def address(help: str) -> Schema:
    return text(help, format="uri")


def many(item: Schema, help: str, **limits: Any) -> Schema:
    return {"type": "array", "items": item, "description": help, **limits}


def by_name(item: Schema, help: str, names: Iterable[str] | None = None) -> Schema:
    """An object whose keys are names: those listed, all of them there, or any."""
    if names is None:
        return {"type": "object", "additionalProperties": item, "description": help}
    return record(help, **dict.fromkeys(names, item))


def record(help: str, optional: Iterable[str] = (), **fields: Schema) -> Schema:
    """An object of just these fields, all there but for the optional ones."""
    left_out = set(optional)
    return {
        "type": "object",
        "description": help,
        "properties": fields,
        "required": [name for name in fields if name not in left_out],
        "additionalProperties": False,
    }


def or_null(schema: Schema) -> Schema:
    """The same, or null; the description says when."""
    if "type" not in schema:
        help = {"description": schema["description"]} if "description" in schema else {}
        return {**help, "anyOf": [schema, {"type": "null"}]}
    changed = schema | {"type": [schema["type"], "null"]}
    return changed | {"enum": [*schema["enum"], None]} if "enum" in schema else changed


def named(name: str) -> Schema:
    """A schema among the document's components."""
    return {"$ref": f"#/components/schemas/{name}"}


def page_of(item: Schema, what: str) -> Schema:
    """One page of a list."""
    return record(
        f"One page of {what}.",
        next=or_null(address("Address of the next page; null on the last.")),
        previous=or_null(address("Address of the page before; null on the first.")),
        results=many(item, f"The {what} of this page, in order."),
    )


def with_help(schema: Mapping[str, Any], help: str) -> Schema:
    """The same schema under another description; a component keeps its own beside it."""
    return {**schema, "description": help}
