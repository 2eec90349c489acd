"""Records as plain JSON: dictionaries, lists, texts, and numbers with as many digits as mean something."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Mapping
from functools import cache
from types import NoneType
from typing import Any

DIGITS = 7


def plain(value: Any) -> Any:
    """Return a value made of dataclasses, mappings and sequences as JSON holds it.

    >>> from advisor.engine.record.records import Figure
    >>> plain({"drive_c": Figure(41.23456789, 0.5), "faces": ("front",)})
    {'drive_c': {'value': 41.23457, 'standard_uncertainty': 0.5}, 'faces': ['front']}
    """
    return _writer(value.__class__)(value)


@cache
def _writer(kind: type) -> Callable[[Any], Any]:
    """Return what writes values of a type; a record has tens of thousands of them, of a few types."""
    if issubclass(kind, float):
        return _rounded
    if issubclass(kind, str | bool | int | NoneType):
        return _as_it_is
    if issubclass(kind, Mapping):
        return lambda value: {str(name): plain(one) for name, one in value.items()}
    if issubclass(kind, list | tuple):
        return lambda value: [plain(one) for one in value]
    names = tuple(field.name for field in dataclasses.fields(kind))
    return lambda value: {name: plain(getattr(value, name)) for name in names}


def _as_it_is(value: Any) -> Any:
    return value


def _rounded(value: float) -> float:
    """Round to significant digits; a number that JSON has no text for is a fault of ours, not an answer."""
    if not math.isfinite(value):
        raise ValueError(f"a report cannot hold {value}; every number must be finite")
    return float(f"{value:.{DIGITS}g}")
