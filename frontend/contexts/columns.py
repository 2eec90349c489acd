"""How the columns of the catalogue are called on pages: labels, units, words and subjects."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from advisor.brief.words import CHOICES
from catalog.models.columns import Checked, Choice
from catalog.shapes import Derived, Format, Group, Link, Scalar, Vector
from frontend.templatetags.words import sentence_case

_UNITS = {
    "cm2": "cm²",
    "degC": "°C",
    "m3/h": "m³/h",
    "kg/m3": "kg/m³",
    "Pa/(m3/s)2": "Pa/(m³/s)²",
    "Pa s/m": "Pa·s/m",
    "Pa s2/m2": "Pa·s²/m²",
}
_SUFFIX = re.compile(r"_(mm|rpm|w|c|k|db|dba|cm2|kg|tb|a|s|h|mb_s|m_s|w_k|k_w|kg_m3|pa_s_m|pa_s2_m2|w_min)$")
_IN_HELP = re.compile(r" \[[^\]]*\]")

_BOARDS = {form: words.partition(" (")[0] for form, words in CHOICES["board_form"].items()}
_SUPPLIES = {"atx": "ATX", "sfx": "SFX", "flex": "Flex", "redundant_1u": "redundant, 1U"}
_WORDS: dict[str | tuple[str, str], Mapping[str, str]] = {
    "board_forms": _BOARDS,
    "supply_forms": _SUPPLIES,
    "orientations": CHOICES["orientation"],
    ("board", "form"): _BOARDS,
    ("supply", "form"): _SUPPLIES,
}

# Where the key itself would not tell.
LABELS = {
    "min_rpm": "Slowest speed",
    "max_rpm": "Full speed",
    "control": "Speed is set by",
    "steps_rpm": "Steps of its switch",
    "may_stop": "May rest",
    "sound_rpm_dba": "Sound power by speed",
    "power_w": "Electric power",
    "life_h": "Bearing life",
    "curve.speed_rpm": "Curve measured at",
    "curve.density_kg_m3": "Air density then",
    "curve.points_m3h_pa": "Pressure by flow",
    "curve.rest_loss_pa_s2_m6": "Loss of the fan at rest",
    "height_mm": "Height",
    "r_solid_k_w": "Resistance, lid to fins",
    "r_air_k_w": "Resistance, fins to air",
    "speed_exponent": "Exponent of its own speed",
    "flow_exponent": "Exponent of the passing flow",
    "rating_12v_w": "Rating on 12 V",
    "sound_share_dba": "Sound power by load",
    "speed_steps": "Fan speed by load",
    "path_area_cm2": "Free area through its case",
    "path_loss": "Loss through its case",
    "efficiency": "Efficiency by load",
    "idle_w": "Power, idle",
    "seek_w": "Power, seeking",
    "spin_up_a": "Current at spin-up",
    "spin_up_s": "Time to spin up",
    "idle_sound_dba": "Sound power, idle",
    "seek_sound_dba": "Sound power, seeking",
    "limit_c": "Temperature limit",
    "yearly_failure_rate": "Share that fails in a year",
    "read_error_rate": "Unrecoverable read errors",
    "max_per_box": "Most in one enclosure",
    "surface_cm2": "Surface",
    "transfer_mb_s": "Transfer rate",
    "from_form": "Fills bays of",
    "bays": "Bays filled",
    "to_form": "Takes drives of",
    "drives": "Drives taken",
    "gap_area_cm2": "Free area beside a drive",
    "loss_filled": "Loss, filled",
    "loss_empty": "Loss, empty",
    "empty_area_cm2": "Clear area, empty",
    "heat_w": "Heat at full load",
    "needed_air_m_s": "Air speed wanted",
    "rise_k": "Rise over its air",
    "inner_k_w": "Resistance, chip to lid",
    "r_k_w": "Resistance, chip to air",
    "airflow": "Blows its air",
    "sata_ports": "Drive ports",
    "m2_slots": "Places for solid-state drives",
    "runtime_w_min": "Runtime by load",
    "mass_kg": "Mass, empty",
    "cooler_height_mm": "Tallest cooler",
    "card_length_mm": "Longest card",
    "supply_length_mm": "Longest power supply",
    "size_mm": "Size",
    "width_mm": "Width",
    "depth_mm": "Depth",
    "board_forms": "Main boards",
    "supply_forms": "Power supplies",
    "orientations": "May stand",
    "wall_w_k": "Conductance to the room",
    "position_mm": "Middle (right, rear, up)",
    "x_mm": "Middle, from the left",
    "y_mm": "Middle, from the front",
    "z_mm": "Middle, from below",
    "from": "From",
    "to": "To",
    "area_cm2": "Free area",
    "loss_coefficient": "Loss, velocity heads",
    "fan_size_mm": "Fan size",
    "fan_count": "Fans",
    "obstruction_db": "Louder by obstruction",
    "narrowed_beyond_mm": "Narrowed by cards beyond",
    "narrowed_share": "Share a long card takes",
    "filter.class": "Filter",
    "filter.area_cm2": "Filter face",
    "filter.linear_pa_s_m": "Filter loss, linear",
    "filter.quadratic_pa_s2_m2": "Filter loss, quadratic",
    "maldistribution": "Mean over slowest gap",
    "preheat": "Preheat factor",
    "cross_area_cm2": "Cross-section of its air",
    "source_kind": "How its figures came about",
    "service.tool_free_bays": "Drives go in without tools",
    "service.filters_reachable": "Filters come out from outside",
    "service.fan_control_outside": "Fan control outside",
    "service.cable_space_mm": "Space for cables",
    "service.front_ports": "Ports at the front",
}

# What stands beside what on the page of a part, and in the form for an own one.
SUBJECTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "Size and fit",
        (
            *("size_mm", "width_mm", "height_mm", "depth_mm", "thickness_mm", "length_mm", "mass_kg", "form", "socket"),
            *("sockets", "slots", "board_forms", "cooler_height_mm", "card_length_mm", "card_slots", "supply_forms"),
            *("supply_length_mm", "orientations", "kind", "from_form", "bays", "to_form", "drives", "max_per_box"),
            *("sata_ports", "m2_slots", "ports", "hot_swap"),
        ),
    ),
    ("Speed", ("min_rpm", "max_rpm", "control", "steps_rpm", "may_stop")),
    (
        "Air",
        (
            *("airflow", "curve.points_m3h_pa", "curve.speed_rpm", "curve.density_kg_m3", "curve.rest_loss_pa_s2_m6"),
            *("air_path", "speed_steps", "path_area_cm2", "path_loss", "gap_area_cm2", "loss_filled", "surface_cm2"),
        ),
    ),
    (
        "Heat",
        (
            *("heat_w", "needed_air_m_s", "rise_k", "r_solid_k_w", "r_air_k_w", "r_k_w", "inner_k_w"),
            *("speed_exponent", "flow_exponent", "limit_c"),
        ),
    ),
    (
        "Sound",
        (
            *("sound_rpm_dba", "sound_share_dba", "idle_sound_dba", "seek_sound_dba"),
            *(f"insertion_loss_db.{face}" for face in ("front", "rear", "left", "right", "top", "bottom")),
        ),
    ),
    (
        "Power",
        (
            *("rating_w", "rating_12v_w", "efficiency", "runtime_w_min", "power_w", "idle_w", "seek_w"),
            *("spin_up_a", "spin_up_s"),
        ),
    ),
    ("Storage and life", ("capacity_tb", "transfer_mb_s", "yearly_failure_rate", "read_error_rate", "life_h")),
    (
        "Use",
        tuple(
            f"service.{key}"
            for key in ("tool_free_bays", "filters_reachable", "fan_control_outside", "cable_space_mm", "front_ports")
        ),
    ),
    ("Price", ("price",)),
)
NAMING = ("code", "name", "maker", "source")


def label_of(key: str) -> str:
    """Return how people call a column, from its key in the catalogue's files.

    >>> label_of("thickness_mm"), label_of("r_air_k_w"), label_of("insertion_loss_db.front")
    ('Thickness', 'Resistance, fins to air', 'Insertion loss, front')
    """
    if key in LABELS:
        return LABELS[key]
    first, _, face = key.rpartition(".")
    if first == "insertion_loss_db":
        return f"Insertion loss, {face}"
    last = _SUFFIX.sub("", face).replace("_", " ")
    return sentence_case(last.replace("ups", "UPS"))


def unit_of(column: Checked) -> str:
    """Return a column's unit as pages write it; sound power levels are A-weighted ones."""
    if column.unit == "dB" and column.name.endswith("_dba"):
        return "dBA"
    return unit_words(column.unit)


def unit_words(unit: str) -> str:
    """Return a unit of the catalogue as pages write it.

    >>> unit_words("cm2"), unit_words("W")
    ('cm²', 'W')
    """
    return _UNITS.get(unit, unit)


def help_of(column: Checked) -> str:
    """Return what a column is, without its unit, which stands beside the value."""
    return _IN_HELP.sub("", str(column.help_text))


def word_of(column: Checked, value: str) -> str:
    """Return one word of a column as people say it."""
    known = _WORDS.get(column.name) or _WORDS.get((column.model._meta.model_name or "", column.name))
    if known:
        return known.get(value, value)
    if isinstance(column, Choice):
        return str(dict(column.flatchoices).get(value, value)) or "any"
    return value


def keys_of(layout: Format) -> Iterator[tuple[str, str]]:
    """Yield key and column of everything that a block of its own says, groups and vectors part by part."""
    for entry in layout.entries:
        match entry:
            case Scalar():
                yield entry.key, entry.column
            case Vector():
                yield from ((column, column) for column in entry.columns)
            case Group():
                yield from ((f"{entry.key}.{key}", column) for key, column in entry.columns.items())
            case Link() | Derived():
                pass


def by_subject(layout: Format) -> list[tuple[str, list[tuple[str, str]]]]:
    """Return keys and columns of a kind of part under their subjects, without those that name it."""
    columns = dict(keys_of(layout))
    found = [(title, [(key, columns[key]) for key in keys if key in columns]) for title, keys in SUBJECTS]
    return [(title, keys) for title, keys in found if keys]
