"""Which columns a list of parts shows: few, and those by which people choose."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.db.models import Prefetch, Q

from catalog.kinds import Kind
from catalog.models import BayGroup, Opening
from catalog.models.columns import Count, Quantity
from catalog.models.vocabulary import DriveForm
from frontend.contexts.columns import keys_of, label_of
from frontend.contexts.values import value_text
from frontend.templatetags.quantities import NOTHING, exact


@dataclass(frozen=True, slots=True)
class ListColumn:
    """A column: its words, the key that it is sorted by, if it can be, and what it says of a row."""

    words: str
    key: str
    numeric: bool
    text: Callable[[Any], str]


def _loudest(row: Any) -> str:
    readings = row.sound_rpm_dba
    return exact(readings[-1][1], "dBA") if readings else "no fan"


def _free_flow(row: Any) -> str:
    return exact(row.curve_points_m3h_pa[-1][0], "m³/h")


def _bays(row: Any) -> str:
    counts: dict[str, int] = {}
    for group in row.bay_groups.all():
        counts[group.form] = counts.get(group.form, 0) + group.count
    words = dict(DriveForm.choices)
    return ", ".join(f"{counts[form]} × {words[form]}" for form in words if form in counts) or NOTHING


def _fans(row: Any) -> str:
    counts: dict[float, int] = {}
    for opening in row.openings.all():
        counts[opening.fan_size_mm] = counts.get(opening.fan_size_mm, 0) + opening.fan_count
    return ", ".join(f"{counts[size]} × {exact(size, 'mm')}" for size in sorted(counts, reverse=True)) or NOTHING


def _longest_runtime(row: Any) -> str:
    load, minutes = row.runtime_w_min[0]
    return f"{exact(minutes, 'min')} at {exact(load, 'W')}"


_COMPUTED = {
    "free_flow": ListColumn("Most flow", "", True, _free_flow),
    "loudest": ListColumn("Sound at full speed", "", True, _loudest),
    "bays": ListColumn("Bays", "", False, _bays),
    "fans": ListColumn("Places for fans", "", False, _fans),
    "runtime": ListColumn("Runs", "", False, _longest_runtime),
}
_SHOWN = {
    "enclosures": ("width_mm", "height_mm", "depth_mm", "*bays", "*fans", "cooler_height_mm", "mass_kg", "price"),
    "fans": ("size_mm", "min_rpm", "max_rpm", "*free_flow", "*loudest", "power_w", "price"),
    "coolers": ("height_mm", "r_air_k_w", "max_rpm", "*loudest", "price"),
    "supplies": ("form", "rating_w", "length_mm", "*free_flow", "price"),
    "drives": ("form", "capacity_tb", "idle_w", "seek_w", "idle_sound_dba", "limit_c", "price"),
    "adapters": ("from_form", "bays", "to_form", "drives", "hot_swap", "price"),
    "controllers": ("ports", "slots", "heat_w", "needed_air_m_s", "limit_c", "price"),
    "ssds": ("capacity_tb", "heat_w", "needed_air_m_s", "limit_c", "price"),
    "cards": ("slots", "ports", "heat_w", "needed_air_m_s", "limit_c", "price"),
    "processors": ("heat_w", "inner_k_w", "limit_c", "socket", "price"),
    "graphics": ("heat_w", "length_mm", "slots", "airflow", "limit_c", "price"),
    "boards": ("form", "socket", "sata_ports", "m2_slots", "card_slots", "heat_w", "price"),
    "ups_units": ("rating_w", "*runtime", "price"),
    "makers": ("note",),
    "sources": ("kind", "bench", "date", "note"),
}
_HAS_FANS = Q(fan_count__gt=0)


def list_columns(kind: Kind) -> tuple[ListColumn, ...]:
    """Return the columns of a kind's list, after the one that names the part."""
    columns = dict(keys_of(kind.layout))
    return tuple(
        _COMPUTED[key[1:]] if key.startswith("*") else _plain(kind, key, columns[key]) for key in _SHOWN[kind.file]
    )


def fetched_along(kind: Kind) -> tuple[Prefetch, ...]:
    """Return what computed columns look into, and no more of it."""
    if kind.file != "enclosures":
        return ()
    bays = BayGroup.objects.only("enclosure", "form", "count")
    fans = Opening.objects.meeting(_HAS_FANS).only("enclosure", "fan_size_mm", "fan_count")
    return Prefetch("bay_groups", bays), Prefetch("openings", fans)


def _plain(kind: Kind, key: str, name: str) -> ListColumn:
    column = kind.layout.columns[name]
    return ListColumn(
        label_of(key),
        key,
        isinstance(column, Quantity | Count),
        lambda row: value_text(column, getattr(row, name)),
    )
