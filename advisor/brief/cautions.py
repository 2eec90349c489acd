"""What the writer of an acceptable brief should know about it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from advisor.brief.defaults import ASSUMED_GRAPHICS, USUAL_HOT_DAY_C
from advisor.brief.fields import FIELD_OF
from advisor.brief.values import Caution
from advisor.engine.storage.layouts import layout

Values = Mapping[str, Any]

# Limits above these are unusual: drives are kept under 40 to 45 °C (common practice, no source).
USUAL_LIMITS_C = {"limit_processor_c": 95.0, "limit_graphics_c": 95.0, "limit_drive_c": 50.0}


def cautions(values: Values, given: Values) -> Iterator[Caution]:
    """Yield cautions on a brief: ``values`` with the defaults filled in, ``given`` without."""
    yield from _noise(values)
    yield from _limits(values)
    yield from _graphics(values, given)
    yield from _storage(values)
    if "hot_day_c" not in given and values["hot_day_c"] > USUAL_HOT_DAY_C:
        text = f"hot_day_c was not given; {values['hot_day_c']:g} °C is taken, the ambient_c given."
        yield Caution("hot_day_c", text)


def _noise(v: Values) -> Iterator[Caution]:
    target, background = v["noise_target_dba"], v["room_background_dba"]
    if target < background:
        text = (
            f"noise_target_dba ({target:g} dBA, the machine alone) is below room_background_dba ({background:g} dBA): "
            "the room will drown it, so the last decibels cannot be heard there and cost something."
        )
        yield Caution("noise_target_dba", text)


def _limits(v: Values) -> Iterator[Caution]:
    for name, usual in USUAL_LIMITS_C.items():
        if v[name] > usual:
            text = f"{name} ({v[name]:g} °C) is above what is usual ({usual:g} °C): check the part's data sheet."
            yield Caution(name, text)


def _graphics(v: Values, given: Values) -> Iterator[Caution]:
    for name in ASSUMED_GRAPHICS:
        unit = f" {FIELD_OF[name].unit}".rstrip()
        if v["graphics_count"] and name not in given:
            yield Caution(name, f"{name} was not given; {v[name]:g}{unit} is taken.")
        elif not v["graphics_count"] and given.get(name):
            yield Caution(name, f"{name} has no effect, since graphics_watts is 0.")


def _storage(v: Values) -> Iterator[Caution]:
    several = v["drive_count"] is None or v["drive_count"] > 1
    if several and not layout(v["layout"]).redundant:
        text = f"layout '{v['layout']}' has no redundancy: a failed drive takes its data with it."
        yield Caution("layout", text)
