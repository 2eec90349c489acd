"""Columns of the catalogue as JSON schemas: unit, range, vocabulary and help text of each, from the column itself."""

from __future__ import annotations

from functools import singledispatch
from typing import Any

from api.schema.shapes import Schema, flag, many, number, one_of, or_null, text, whole
from catalog.models.columns import Checked, Choice, Code, Count, Day, Flag, Quantity, Text
from catalog.models.lists import Numbers, Points, Words
from catalog.validators import CODE, MOST_POINTS, Range

CODE_PATTERN = f"^{CODE.pattern}$"
# One line, without control characters and marks that turn the direction of writing.
LINE_PATTERN = r"^[^\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]*$"


def column_shape(column: Checked) -> Schema:
    """Return what a column takes and gives: null too, where it may stay empty."""
    shape = _shape(column)
    if column.unit:
        shape["x-unit"] = column.unit
    return or_null(shape) if column.null else shape


def with_default(shape: Schema, column: Checked) -> Schema:
    """Return the same shape with what a key that is left out stands for."""
    return {**shape, "default": column.get_default()} if column.has_default() else shape


def limits(accepted: Range) -> dict[str, float]:
    """Return a range in the words of JSON schemas."""
    low = "exclusiveMinimum" if accepted.low_open else "minimum"
    high = "exclusiveMaximum" if accepted.high_open else "maximum"
    return {low: accepted.low, high: accepted.high}


@singledispatch
def _shape(column: Checked) -> Schema:
    raise TypeError(f"say in api/schema/columns.py what a {type(column).__name__} looks like")


@_shape.register
def _(column: Quantity) -> Schema:
    return number(_help(column), **limits(column.range))


@_shape.register
def _(column: Count) -> Schema:
    return whole(_help(column), **limits(column.range))


@_shape.register
def _(column: Flag) -> Schema:
    return flag(_help(column))


@_shape.register
def _(column: Day) -> Schema:
    return text(_help(column), format="date")


@_shape.register
def _(column: Text) -> Schema:
    return text(_help(column), pattern=LINE_PATTERN, minLength=0 if column.blank else 1, maxLength=column.max_length)


@_shape.register
def _(column: Code) -> Schema:
    return code_shape(_help(column))


@_shape.register
def _(column: Choice) -> Schema:
    return one_of(column.words, _help(column))


@_shape.register
def _(column: Points) -> Schema:
    first, second = (_bare(number("", **limits(accepted))) for accepted in (column.across, column.up))
    pair = {"type": "array", "prefixItems": [first, second], "minItems": 2, "maxItems": 2}
    return many(pair, _help(column), minItems=column.least, maxItems=MOST_POINTS)


@_shape.register
def _(column: Numbers) -> Schema:
    return many(_bare(number("", **limits(column.range))), _help(column), maxItems=MOST_POINTS)


@_shape.register
def _(column: Words) -> Schema:
    items = _bare(one_of(column.words, ""))
    return many(items, _help(column), minItems=column.least, maxItems=len(column.words), uniqueItems=True)


def code_shape(help: str, **more: Any) -> Schema:
    """A code: a short word that a thing is known by."""
    return text(help, pattern=CODE_PATTERN, maxLength=64, **more)


def _help(column: Checked) -> str:
    return str(column.help_text)


def _bare(schema: Schema) -> Schema:
    """The same without words of its own, which the list around it has."""
    return {key: value for key, value in schema.items() if key != "description"}
