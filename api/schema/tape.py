"""Shapes of enclosures entered by tape, made of the one table of their fields, and of what is derived from them."""

from __future__ import annotations

from advisor.brief import Field
from advisor.tape.fields import BAYS, DIVIDER_FIELDS, FAN, MOST_BAYS, MOST_FANS, PANEL, SUPPLY, WHOLE
from advisor.tape.geometry import FACES
from api.schema.brief import field_schema
from api.schema.shapes import Schema, many, named, number, or_null, record, text, with_help

MOST_DERIVED = 1000

_PANEL_HELP = "One outer face; what is left out is closed. A panel left out is closed and as the enclosure."
_ENTRY_HELP = "An enclosure as a tape measure and a photograph give it. Outer sizes, fans and holes are enough."


def _block(help: str, fields: tuple[Field, ...]) -> Schema:
    optional = [field.name for field in fields if not field.required]
    return record(help, optional, **{field.name: field_schema(field) for field in fields})


def entry_schema() -> Schema:
    """Return the schema of an entry."""
    by_face = {face: with_help(or_null(named("TapePanel")), f"The {face}; null for a closed one.") for face in FACES}
    panels = record("Panels by face.", FACES, **by_face)
    fields = {field.name: field_schema(field) for field in WHOLE} | {
        "panels": or_null(panels),
        "fans": or_null(many(named("TapeFans"), "Places of fans.", maxItems=MOST_FANS)),
        "bays": or_null(many(named("TapeBays"), "Bays for drives.", maxItems=MOST_BAYS)),
        "divider": or_null(named("TapeDivider")),
        "supply": or_null(named("TapeSupply")),
    }
    fields["divider"] = with_help(fields["divider"], "What parts a second chamber off; null without one.")
    fields["supply"] = with_help(fields["supply"], "Where the power supply sits; null for the defaults.")
    return record(_ENTRY_HELP, set(fields) - {field.name for field in WHOLE if field.required}, **fields)


_INPUT = record(
    "Something that went into a relation.",
    name=text("Its name, which ends in its unit."),
    value={"description": "A number or a word.", "type": ["number", "string"]},
)
_DERIVED = record(
    "One figure that was derived.",
    figure=text("Its key in the enclosure, with dots on the way down, such as `openings.rear_fans.area_cm2`."),
    value=number("Its value."),
    unit=text("Its unit; empty for plain numbers."),
    standard_uncertainty=number("One standard uncertainty, in the unit.", minimum=0),
    relation=text("The relation that it follows from."),
    source=text("Who says so."),
    inputs=many(_INPUT, "What went in."),
)
_DERIVED_LIST = many(named("DerivedFigure"), "Every figure that was derived, in order.", maxItems=MOST_DERIVED)

COMPONENTS: dict[str, Schema] = {
    "TapeEntry": entry_schema(),
    "TapePanel": _block(_PANEL_HELP, PANEL),
    "TapeFans": _block("Like fans in one place.", FAN),
    "TapeBays": _block("Like bays in one place.", BAYS),
    "TapeDivider": _block("What parts the chamber of the board from a second one.", DIVIDER_FIELDS),
    "TapeSupply": _block("Where the power supply sits and breathes.", SUPPLY),
    "DerivedFigure": _DERIVED,
    "OwnEnclosure": record(
        "An own enclosure as it was entered.",
        enclosure=with_help(named("Enclosure"), "The enclosure."),
        derived=_DERIVED_LIST,
    ),
    "OwnEnclosurePreview": record(
        "What would be stored; `code` is the word that its code would end in.",
        enclosure=with_help(named("EnclosureBody"), "The enclosure."),
        derived=_DERIVED_LIST,
    ),
}
