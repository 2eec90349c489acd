"""Shapes of the catalogue's parts, made from the layouts of its files, so that a new kind or column has one too.

Of each kind there is the answer (every key, ``Fan``), the body of POST and PUT (``FanBody``: what has a default may be
left out) and that of PATCH (``FanPatch``: any keys). Blocks inside an enclosure have the first two.
"""

from __future__ import annotations

from enum import Enum

from api.kinds import KINDS
from api.schema.columns import CODE_PATTERN, LINE_PATTERN, code_shape, column_shape, with_default
from api.schema.shapes import Schema, address, by_name, many, moment, named, one_of, or_null, record, text, with_help
from catalog.importing.notes import MOST_NOTES
from catalog.importing.parsing import MOST_CHILDREN
from catalog.models.columns import Checked
from catalog.shapes import Children, Derived, Entry, Format, Group, Link, Scalar, Vector


class Use(Enum):
    """What a shape is for; the value ends its name."""

    ANSWER = ""
    BODY = "Body"
    PATCH = "Patch"


OWNERS = ("catalogue", "you", "somebody")
_READ_ONLY: dict[str, Schema] = {
    "url": address("Its address."),
    "owner": one_of(OWNERS, "Whose it is: the catalogue's, yours, or, for curators, somebody's who offers it."),
    "offered": or_null(moment("Since when its owner offers it to the catalogue (UTC); null when not on offer.")),
    "decline_note": text("Why the catalogue declined it; empty when it did not."),
    "contributor": text("Who gave it to the catalogue, or would; empty when nobody is to be named."),
}
_SENT_BACK = "Written by the service: leave it out, or send it back as it was. "
_ON_POST = "Whose it shall be: `you`, or `catalogue` for curators, who mean that unless told. Later it stays as it is."
_OUTLINE_LEAVES_OUT = "An enclosure without its inside: zones, openings, bays, seats and sound shares are in the whole."

_SOURCES = by_name(code_shape("Code of a source."), "Sources of single figures that have another than the part's.")
_UNCERTAINTY = by_name(
    {
        "anyOf": [
            {"type": "number", "minimum": 0, "maximum": 1e9},
            {"type": "string", "pattern": r"^\d{1,6}(\.\d{1,12})? ?%$"},
        ],
        "description": "One standard uncertainty in the figure's unit, or a percentage such as '5 %'.",
    },
    "Standard uncertainties of single figures, by their keys, such as `price` or `openings.front.area_cm2`.",
)
_FIGURE_KEYS = {"propertyNames": {"pattern": r"^[A-Za-z0-9._-]{1,200}$"}, "maxProperties": MOST_NOTES}
_NOTES: dict[str, Schema] = {"sources": _SOURCES | _FIGURE_KEYS, "uncertainty": _UNCERTAINTY | _FIGURE_KEYS}


def read_only(layout: Format) -> tuple[str, ...]:
    """Return the keys that only the service writes."""
    return tuple(_READ_ONLY) if layout.is_part else ("url",)


def components() -> dict[str, Schema]:
    """Return every shape of the catalogue by its name."""
    found: dict[str, Schema] = {}
    for kind in KINDS:
        for use in Use:
            found[kind.name + use.value] = _whole(kind.layout, use)
        for entry in kind.layout.children:
            for use in (Use.ANSWER, Use.BODY):
                found[entry.format.model.__name__ + use.value] = _record(entry.format, use, entry.keyed_by)
        if any(kind.layout.children):
            outline = _whole(kind.layout.outside, Use.ANSWER)
            found[f"{kind.name}Outline"] = with_help(outline, _OUTLINE_LEAVES_OUT)
    return found


def _whole(layout: Format, use: Use) -> Schema:
    """One part, or a maker or a source, with what only the service writes."""
    shape = _record(layout, use)
    for key in read_only(layout):
        told = _READ_ONLY[key]
        if use is Use.BODY and key == "owner":
            told = one_of(OWNERS, _ON_POST)
        elif use is not Use.ANSWER:
            told = {**with_help(told, _SENT_BACK + told["description"]), "readOnly": True}
        shape["properties"][key] = told
        if use is Use.ANSWER:
            shape["required"].append(key)
    return shape


def _record(layout: Format, use: Use, without: str = "") -> Schema:
    fields = {entry.key: _field(layout, entry, use) for entry in layout.entries if entry.key != without}
    optional = [entry.key for entry in layout.entries if _may_lack(layout, entry)]
    if layout.is_part:
        fields |= _NOTES
        optional += _NOTES
    if use is not Use.ANSWER:
        fields |= {key: _erasable(fields[key]) for key in optional}
    left_out = {Use.ANSWER: [], Use.BODY: optional, Use.PATCH: list(fields)}[use]
    return record(" ".join((layout.model.__doc__ or "").split("\n\n")[0].split()), left_out, **fields)


def _may_lack(layout: Format, entry: Entry) -> bool:
    match entry:
        case Scalar():
            return entry.column in layout.defaults
        case Link():
            return layout.columns[entry.column].null and not entry.none_word
        case Group():
            return entry.optional
        case _:
            return False


def _erasable(shape: Schema) -> Schema:
    """Where a key may be left out, null says the same."""
    return shape if isinstance(shape["type"], list) else or_null(shape)


def _field(layout: Format, entry: Entry, use: Use) -> Schema:
    match entry:
        case Scalar():
            return _column(layout.columns[entry.column], use)
        case Vector():
            return _vector([layout.columns[column] for column in entry.columns])
        case Group():
            return _group(layout, entry, use)
        case Link():
            return _link(layout, entry)
        case Derived():
            return code_shape("Code of the opening through which the power supply breathes.")
        case Children():
            return _children(entry, use)


def _column(column: Checked, use: Use) -> Schema:
    return column_shape(column) if use is Use.ANSWER else with_default(column_shape(column), column)


def _vector(columns: list[Checked]) -> Schema:
    items = [column_shape(column) for column in columns]
    help = " ".join(str(column.help_text) for column in columns)
    return many({}, help, minItems=len(items), maxItems=len(items)) | {"prefixItems": items, "items": False}


def _group(layout: Format, entry: Group, use: Use) -> Schema:
    columns = {key: layout.columns[name] for key, name in entry.columns.items()}
    lacking = [key for key, column in columns.items() if column.name in layout.defaults or key in entry.defaults]
    fields = {key: _column(column, use) for key, column in columns.items()}
    if use is not Use.ANSWER:
        fields |= {key: {**fields[key], "default": value} for key, value in entry.defaults.items()}
        fields |= {key: _erasable(fields[key]) for key in lacking}
    left_out = {Use.ANSWER: [], Use.BODY: lacking, Use.PATCH: list(fields)}[use]
    help = f"The {layout.noun}'s {entry.key.replace('_', ' ')}" + ("; null without one." if entry.optional else ".")
    shape = record(help, left_out, **fields)
    return or_null(shape) if entry.optional else shape


def _link(layout: Format, entry: Link) -> Schema:
    column = layout.columns[entry.column]
    help = str(column.help_text).replace("empty for outside", f"'{entry.none_word}' for the room")
    shape = text(help, pattern=LINE_PATTERN, minLength=1, maxLength=80) if entry.key == "maker" else code_shape(help)
    return or_null(shape) if column.null and not entry.none_word else shape


def _children(entry: Children, use: Use) -> Schema:
    use = Use.ANSWER if use is Use.ANSWER else Use.BODY
    item = named(entry.format.model.__name__ + use.value)
    help = f"The {entry.key.replace('_', ' ')} inside"
    if entry.keyed_by:
        names = {"propertyNames": {"pattern": CODE_PATTERN}, "maxProperties": MOST_CHILDREN}
        return by_name(item, f"{help}, by {entry.keyed_by}.") | names
    return many(item, f"{help}, in order.", maxItems=MOST_CHILDREN)
