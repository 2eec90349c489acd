"""How the fields of an enclosure that is measured are called, and what their choices mean to people."""

from __future__ import annotations

import re

from advisor.brief.field import Field
from advisor.brief.words import CHOICES
from frontend.templatetags.quantities import exact

LABELS = {
    "code": "Short word for it",
    "width_mm": "Outer width",
    "height_mm": "Outer height",
    "depth_mm": "Outer depth",
    "feet_mm": "Height of the feet",
    "material": "Material",
    "thickness_mm": "Thickness",
    "lining_mm": "Foam inside",
    "seam_mm": "Gap around the panels",
    "board_plane": "How the main board lies",
    "board_forms": "Main boards that it takes",
    "cooler_height_mm": "Tallest processor cooler",
    "card_length_mm": "Longest card",
    "slot_cover_share": "Holes in slot covers",
    "cable_space_mm": "Space for cables",
    "filters_reachable": "Filters come out from outside",
    "fan_control_outside": "Fan control outside",
    "mass_kg": "Mass when empty",
    "orientations": "Ways it may stand",
    "holes_share": "Holes: open share",
    "holes_area_cm2": "Holes: size of their field",
    "hole_mm": "Holes: width of one",
    "slot_width_mm": "Slots: width of one",
    "slot_length_mm": "Slots: length of one",
    "slot_count": "Slots: how many",
    "gap_mm": "Edge gap: width",
    "gap_length_mm": "Edge gap: length in all",
    "filter": "Dust filter",
    "filter_area_cm2": "Face of the filter",
    "cover": "Stands off the chassis",
    "chamber": "Chamber",
    "face": "Where they sit",
    "size_mm": "Size of one fan",
    "count": "How many",
    "side": "Which way they blow",
    "may_be_empty": "May stay empty",
    "onto": "What they blow on",
    "guard": "Guard",
    "form": "Width of the drives",
    "place": "Where they stand",
    "spacing_mm": "Gap between two drives",
    "air_along": "Air passes along their",
    "rows": "One behind the other",
    "sealed": "Closed at the sides",
    "bypass_cm2": "Free area beside the cage",
    "back_plane_share": "Holes in the back plane",
    "hot_swap": "Changeable while it runs",
    "tool_free": "In without tools",
    "direction": "How it stands",
    "at_mm": "Where it stands",
    "board_side": "Side of the main board",
    "open_cm2": "Free area of its holes",
    "reaches_front": "Reaches the front",
    "forms": "Power supplies that it takes",
    "length_mm": "Longest power supply",
    "breathes": "Takes its air from",
    "vent_cm2": "Opening of its own",
    "position": "Sits at the",
}
WORDS = {
    "board_forms": CHOICES["board_form"],
    "orientations": CHOICES["orientation"],
    "forms": {"atx": "ATX", "sfx": "SFX", "flex": "Flex", "redundant_1u": "redundant, one rack unit"},
    "form": {"3.5": "3.5 inch", "2.5": "2.5 inch", "5.25": "5.25 inch"},
    "board_plane": {
        "upright": "upright beside a side panel",
        "flat": "flat like the bottom",
        "turned": "turned, its ports up",
    },
    "face": {"wall": "in a fan wall behind the front space", "divider": "in the divider between the chambers"},
    "place": {
        **{face: f"in a cage behind the {face}" for face in ("front", "left", "right", "bottom")},
        "own_chamber": "in a cage in a chamber of their own",
        "still": "at a wall in still air",
    },
    "side": {"intake": "in (intake)", "exhaust": "out (exhaust)"},
    "breathes": {"inside": "its chamber", "own_duct": "an opening of its own in the bottom"},
    "direction": {"upright": "a wall between left and right", "level": "a shelf between above and below"},
    "onto": {"drives": "the drives", "board": "the main board"},
}
_LONGEST_USUAL = 20  # characters: a list of choices shows no more on phones
_YES = (("true", "yes"), ("false", "no"))
_NAMES = re.compile(r"\b[a-z]+(?:_[a-z0-9]+)+\b")


def label_of(field: Field) -> str:
    """Return how people call a field."""
    return LABELS.get(field.name, field.name.replace("_mm", "").replace("_", " ").capitalize())


def words_of(field: Field) -> list[tuple[str, str]]:
    """Return the choices of a field with their words."""
    if field.kind == "flag":
        return [*_YES]
    known = WORDS.get(field.name, {})
    return [(word, known.get(word, word.replace("_", " "))) for word in field.choices]


def hint_of(field: Field) -> str:
    """Return help, range and what is taken where the field is left empty."""
    return " ".join(filter(None, (named(field.help).replace("`", ""), _range(field), _usual(field))))


def usual_of(field: Field) -> str:
    """Return the words of the choice to leave a field as is usual."""
    if field.required:
        return "choose one"
    said = _default(field)
    return "as usual" if len(said) > _LONGEST_USUAL else f"as usual: {said}"


def named(text: str) -> str:
    """Return a text with labels for the names of fields.

    >>> named("needed where slot_count is above 0")
    'needed where “Slots: how many” is above 0'
    """
    return _NAMES.sub(lambda found: f"“{LABELS[found[0]]}”" if found[0] in LABELS else found[0].replace("_", " "), text)


def _range(field: Field) -> str:
    if field.kind not in ("number", "integer") or field.minimum is None or field.maximum is None:
        return ""
    return f"{exact(field.minimum)} to {exact(field.maximum, field.unit.replace('cm2', 'cm²'))}."


def _usual(field: Field) -> str:
    said = _default(field)
    if field.required or not said:
        return ""
    if field.kind not in ("choice", "flag"):
        return f"Left empty: {said}."
    return f"As usual: {said}." if len(said) > _LONGEST_USUAL else ""  # a short one is said by the choice itself


def _default(field: Field) -> str:
    if field.default_note:
        return named(field.default_note)
    match field.default:
        case bool():
            return "yes" if field.default else "no"
        case int() | float():
            return exact(field.default, field.unit.replace("cm2", "cm²"))
        case tuple():
            return ", ".join(dict(words_of(field))[word] for word in field.default)
        case None:
            return ""
    return dict(words_of(field)).get(field.default, str(field.default))
