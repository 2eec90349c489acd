"""How the form of an enclosure that is measured is laid out: in the order in which one walks around it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.forms import BoundField

from advisor.brief.field import Field
from advisor.tape.fields import ONE_OF, PANEL, PARTS, WHOLE
from advisor.tape.geometry import FACES
from frontend.forms.own_enclosure import TapeForm
from frontend.templatetags.words import sentence_case

_LONGEST_SAID = 60
_SIZE = ("name", "code", "width_mm", "height_mm", "depth_mm")
_MATERIAL = ("material", "thickness_mm", "lining_mm", "seam_mm", "feet_mm", "mass_kg", "price", "orientations")
_INSIDE = ("board_plane", "board_forms", "cooler_height_mm", "card_length_mm", "card_slots", "slot_cover_share")
_USE = ("cable_space_mm", "front_ports", "filters_reachable", "fan_control_outside")
# A group of entries in sight; the others of its block are folded.
_FAN_FIRST = ("face", "size_mm", "count", "side")
_BAYS_FIRST = ("count", "form", "place", "hot_swap")


@dataclass(frozen=True, slots=True)
class Fold:
    """Entries under one title, folded while nobody needs them; ``said`` is what they hold, in one line."""

    title: str
    entries: tuple[BoundField, ...]
    said: str = ""
    is_open: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One row of fans or bays: entries in sight and the rest of them."""

    title: str
    entries: tuple[BoundField, ...]
    more: Fold


@dataclass(frozen=True, slots=True)
class TapePage:
    """The form's sections."""

    size: tuple[BoundField, ...]
    panels: tuple[Fold, ...]
    fans: tuple[Row, ...]
    bays: tuple[Row, ...]
    inside: tuple[BoundField, ...]
    supply: tuple[BoundField, ...]
    divider: Fold
    material: tuple[BoundField, ...]
    use: Fold
    may_add_fans: bool
    may_add_bays: bool


def tape_page(form: TapeForm) -> TapePage:
    """Return the sections of a form."""
    return TapePage(
        _whole(form, _SIZE),
        tuple(_fold(form, f"panels-{face}", PANEL, sentence_case(face), "closed, as usual") for face in FACES),
        _rows(form, "fans", "Fans", _FAN_FIRST),
        _rows(form, "bays", "Bays", _BAYS_FIRST),
        _whole(form, _INSIDE),
        tuple(form.entries("supply", ONE_OF["supply"])),
        _fold(form, "divider", ONE_OF["divider"], "A wall or shelf that parts two chambers", "none"),
        _whole(form, _MATERIAL),
        _folded("Cables, ports and service", _whole(form, _USE), "as usual"),
        form.rows["fans"] < PARTS["fans"][1],
        form.rows["bays"] < PARTS["bays"][1],
    )


def _whole(form: TapeForm, names: Iterable[str]) -> tuple[BoundField, ...]:
    by_name = {field.name: field for field in WHOLE}
    return tuple(form.entries("", [by_name[name] for name in names]))


def _rows(form: TapeForm, key: str, title: str, first: Iterable[str]) -> tuple[Row, ...]:
    fields = PARTS[key][0]
    by_name = {field.name: field for field in fields}
    rest = [field for field in fields if field.name not in first]
    return tuple(
        Row(
            f"{title}, place {row + 1}",
            tuple(form.entries(f"{key}-{row}", [by_name[name] for name in first])),
            _fold(form, f"{key}-{row}", rest, "More about them", "as usual"),
        )
        for row in range(form.rows[key])
    )


def _fold(form: TapeForm, block: str, fields: Iterable[Field], title: str, nothing: str) -> Fold:
    return _folded(title, tuple(form.entries(block, fields)), nothing)


def _folded(title: str, entries: tuple[BoundField, ...], nothing: str) -> Fold:
    said = [f"{entry.label.lower()} {_short(entry)}" for entry in entries if _short(entry)]
    return Fold(title, entries, ", ".join(said) or nothing, any(entry.errors for entry in entries))


def _short(entry: BoundField) -> str:
    """Return what stands in an entry, with its unit or the word of its choice."""
    value = entry.value()
    if not value:
        return ""
    words = dict(getattr(entry.field.widget, "choices", ()))
    if isinstance(value, list):
        return ", ".join(str(words.get(one, one))[:_LONGEST_SAID] for one in value[:6])
    unit = entry.field.unit
    text = str(words.get(value, value))[:_LONGEST_SAID]
    return f"{text} {unit}" if unit else text
