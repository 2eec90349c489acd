"""What most fields need: the column of the same name, from the unit of data sheets into SI."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable
from functools import cache
from typing import Any

from django.db import models

from advisor.engine.inputs import Point
from advisor.engine.units import to_si

# How an SI field's name ends, how the column's does, and the unit of data sheets that the column is in.
_ENDINGS = (("_m", "_mm", "mm"), ("_m2", "_cm2", "cm2"), ("_db", "_dba", ""))


def like_named(kind: type, row: models.Model, *apart: str) -> dict[str, Any]:
    """Return the fields of a record that a row has a column for, but for those that are set apart."""
    return {
        field: to_si(getattr(row, column), unit) if unit else _frozen(getattr(row, column))
        for field, column, unit in _plan(kind, type(row))
        if field not in apart
    }


@cache
def _plan(kind: type, model: type[models.Model]) -> tuple[tuple[str, str, str], ...]:
    columns = {column.name for column in model._meta.concrete_fields}
    plan = []
    for field in dataclasses.fields(kind):
        if field.name in columns:
            plan.append((field.name, field.name, ""))
        for si, ending, unit in _ENDINGS:
            column = field.name.removesuffix(si) + ending
            if field.name.endswith(si) and column in columns:
                plan.append((field.name, column, unit))
    return tuple(plan)


def _frozen(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


def points(pairs: Iterable[Iterable[float]]) -> tuple[Point, ...]:
    """Return pairs of numbers as the engine holds them."""
    return tuple((float(across), float(up)) for across, up in pairs)
