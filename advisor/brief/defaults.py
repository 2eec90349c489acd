"""Defaults: those that stand in the table of fields, and those that depend on what else a brief says."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from advisor.brief.fields import FIELDS

# Taken for graphics boards of which a brief tells only the heat (common practice, no source).
ASSUMED_GRAPHICS = {"graphics_length_mm": 270.0, "graphics_slots": 2, "graphics_noise_dba": 36.0}
NO_GRAPHICS = {"graphics_length_mm": 0.0, "graphics_slots": 0, "graphics_noise_dba": 0.0}
USUAL_HOT_DAY_C = 30.0


def with_defaults(given: Mapping[str, Any]) -> dict[str, Any]:
    """Return every field with its value: as given, or its default."""
    values = {field.name: given.get(field.name, field.default) for field in FIELDS}
    if values["graphics_count"] is None:
        values["graphics_count"] = int(values["graphics_watts"] > 0.0)
    for name, assumed in (ASSUMED_GRAPHICS if values["graphics_count"] else NO_GRAPHICS).items():
        values[name] = assumed if values[name] is None else values[name]
    if values["hot_day_c"] is None:
        values["hot_day_c"] = max(USUAL_HOT_DAY_C, values["ambient_c"])
    return values
