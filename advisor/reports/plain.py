"""Records as plain JSON: dictionaries, lists, texts, and numbers with as many digits as mean something."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping
from functools import cache
from typing import Any

DIGITS = 7


def plain(value: Any) -> Any:
    """Return a value made of dataclasses, mappings and sequences as JSON holds it.

    >>> from advisor.engine.record.records import Figure
    >>> plain({"drive_c": Figure(41.23456789, 0.5), "faces": ("front",)})
    {'drive_c': {'value': 41.23457, 'standard_uncertainty': 0.5}, 'faces': ['front']}
    """
    if isinstance(value, float):
        return _rounded(value)
    if value is None or isinstance(value, str | bool | int):
        return value
    if isinstance(value, Mapping):
        return {str(name): plain(one) for name, one in value.items()}
    if isinstance(value, list | tuple):
        return [plain(one) for one in value]
    return {name: plain(getattr(value, name)) for name in _names(value.__class__)}


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(field.name for field in dataclasses.fields(kind))


def _rounded(value: float) -> float:
    """Round to significant digits; a number that JSON has no text for is a fault of ours, not an answer."""
    if not math.isfinite(value):
        raise ValueError(f"a report cannot hold {value}; every number must be finite")
    return float(f"{value:.{DIGITS}g}")
