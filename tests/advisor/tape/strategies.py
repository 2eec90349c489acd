"""Entries as people may make them, drawn widely: most hang together, some do not."""

from __future__ import annotations

from hypothesis import strategies as st

from advisor.brief import Field
from advisor.tape.fields import BAY_PLACES, BAYS, DIVIDER_FIELDS, FAN, PANEL, SUPPLY, WHOLE
from advisor.tape.geometry import FACES

SIZES_MM = (40, 60, 80, 92, 120, 140, 180, 200)


def _some(fields: dict) -> st.SearchStrategy[dict]:
    """Any of some fields."""
    return st.fixed_dictionaries({}, optional=fields)


PANELS = st.one_of(
    st.builds(dict, holes_share=st.floats(0.02, 0.95)),
    _some(
        {
            "holes_share": st.floats(0.02, 0.95),
            "hole_mm": st.floats(0.5, 20),
            "filter": st.sampled_from(["none", "coarse", "medium", "fine"]),
            "material": st.sampled_from(["steel", "aluminium", "glass", "plastic", "wood"]),
            "thickness_mm": st.floats(0.5, 20),
            "lining_mm": st.floats(0, 20),
        }
    ),
    st.fixed_dictionaries(
        {"slot_width_mm": st.floats(1, 10), "slot_length_mm": st.floats(10, 60), "slot_count": st.integers(1, 12)}
    ),
    st.fixed_dictionaries({"gap_mm": st.floats(1, 20)}, optional={"gap_length_mm": st.floats(100, 900)}),
)


@st.composite
def _fans(draw: st.DrawFn, parted: bool) -> dict:
    faces = [*FACES, "wall", *(["divider"] if parted else [])]
    fan = {"face": draw(st.sampled_from(faces)), "size_mm": draw(st.sampled_from(SIZES_MM))}
    more = {
        "count": st.integers(1, 3),
        "side": st.sampled_from(["intake", "exhaust"]),
        "may_be_empty": st.booleans(),
        "onto": st.sampled_from(["drives", "board"]),
        "guard": st.sampled_from(["none", "wire", "stamped"]),
    }
    return fan | draw(_some(more)) | ({"chamber": draw(st.sampled_from(["main", "second"]))} if parted else {})


@st.composite
def _bays(draw: st.DrawFn, parted: bool) -> dict:
    places = [place for place in BAY_PLACES if parted or place != "own_chamber"]
    more = {
        "place": st.sampled_from(places),
        "form": st.sampled_from(["3.5", "2.5", "5.25"]),
        "spacing_mm": st.floats(1, 30),
        "air_along": st.sampled_from(["length", "width"]),
        "rows": st.integers(1, 3),
        "sealed": st.booleans(),
        "hot_swap": st.booleans(),
        "back_plane_share": st.floats(0.1, 1),
    }
    return {"count": draw(st.integers(1, 6))} | draw(_some(more))


_DIVIDERS = st.one_of(
    st.fixed_dictionaries(
        {"direction": st.just("upright")},
        optional={"board_side": st.sampled_from(["left", "right"]), "open_cm2": st.floats(1, 300)},
    ),
    st.fixed_dictionaries(
        {"direction": st.just("level")},
        optional={
            "board_side": st.sampled_from(["above", "below"]),
            "open_cm2": st.floats(1, 300),
            "reaches_front": st.booleans(),
        },
    ),
)


@st.composite
def entries(draw: st.DrawFn) -> dict:
    """An entry: size, some panels, one to four fan places, up to three places for drives, perhaps a divider."""
    parted = draw(st.booleans())
    entry = {
        "width_mm": draw(st.floats(140, 600)),
        "height_mm": draw(st.floats(140, 800)),
        "depth_mm": draw(st.floats(220, 900)),
        "panels": draw(st.dictionaries(st.sampled_from(FACES), PANELS, max_size=4)),
        "fans": draw(st.lists(_fans(parted), min_size=1, max_size=4)),
        "bays": draw(st.lists(_bays(parted), max_size=3)),
    }
    if parted:
        entry["divider"] = draw(_DIVIDERS)
    more = {
        "feet_mm": st.one_of(st.just(0.0), st.floats(1, 40)),
        "seam_mm": st.floats(0.25, 2),
        "material": st.sampled_from(["steel", "aluminium", "glass", "plastic", "wood"]),
        "lining_mm": st.floats(0, 15),
        "board_plane": st.sampled_from(["upright", "flat", "turned"]),
        "slot_cover_share": st.sampled_from([0.0, 0.1, 0.5]),
        "supply": _some(
            {
                "forms": st.lists(st.sampled_from(["atx", "sfx", "flex"]), min_size=1, max_size=2, unique=True),
                "breathes": st.sampled_from(["inside", "own_duct"]),
                "position": st.sampled_from(["bottom", "top"]),
            }
        ),
    }
    return entry | draw(_some(more))


def _value(field: Field) -> st.SearchStrategy:
    """Any value that a field accepts, its ends among them."""
    match field.kind:
        case "number":
            ends = st.sampled_from([field.minimum, field.maximum])
            return st.one_of(st.floats(field.minimum, field.maximum), ends)
        case "integer":
            return st.integers(int(field.minimum), int(field.maximum))
        case "flag":
            return st.booleans()
        case "choice":
            return st.sampled_from(field.choices)
        case "choices":
            return st.lists(st.sampled_from(field.choices), min_size=1, unique=True)
        case _:
            return st.text(max_size=int(field.maximum or 0)) if field.name == "name" else st.just("by-tape")


def _drawn(fields: tuple[Field, ...], **more: st.SearchStrategy) -> st.SearchStrategy[dict]:
    required = {field.name: _value(field) for field in fields if field.required}
    optional = {field.name: _value(field) for field in fields if not field.required}
    return st.fixed_dictionaries(required, optional=optional | more)


def extremes() -> st.SearchStrategy[dict]:
    """Entries drawn from the table of fields itself, up to the ends of every range."""
    return _drawn(
        WHOLE,
        panels=st.dictionaries(st.sampled_from(FACES), _drawn(PANEL), max_size=3),
        fans=st.lists(_drawn(FAN), max_size=3),
        bays=st.lists(_drawn(BAYS), max_size=2),
        divider=_drawn(DIVIDER_FIELDS),
        supply=_drawn(SUPPLY),
    )
