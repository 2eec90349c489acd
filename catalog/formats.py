"""How the catalogue's files are laid out: which key of a block belongs to which column of which model.

A key that is not listed here is called as its column. Loader, exporter and provenance all read this one description.
"""

from __future__ import annotations

from django.db.models import Model

from catalog import models as catalog
from catalog.models.vocabulary import FACES, OUTSIDE
from catalog.shapes import Children, Derived, Group, Link, Vector, layout

_ORIGIN = (Link("maker", "maker"), Link("source", "source"))
_POSITION = Vector("position_mm", ("x_mm", "y_mm", "z_mm"))


def _curve(optional: bool) -> Group:
    keys = ("speed_rpm", "density_kg_m3", "points_m3h_pa", "rest_loss_pa_s2_m6")
    columns = {key: f"curve_{key}" for key in keys}
    return Group("curve", columns, "curve_points_m3h_pa", optional, {"density_kg_m3": 1.2})


_FILTER = Group(
    "filter",
    {
        "class": "filter_class",
        "area_cm2": "filter_area_cm2",
        "linear_pa_s_m": "filter_linear_pa_s_m",
        "quadratic_pa_s2_m2": "filter_quadratic_pa_s2_m2",
    },
    "filter_linear_pa_s_m",
    optional=True,
)
_SERVICE = ("tool_free_bays", "filters_reachable", "fan_control_outside", "cable_space_mm", "front_ports")

ENCLOSURES = layout(
    "enclosure",
    catalog.Enclosure,
    *_ORIGIN,
    Vector("size_mm", ("width_mm", "height_mm", "depth_mm")),
    Group("insertion_loss_db", {face: f"loss_{face}_db" for face in FACES}, "loss_front_db"),
    Group("service", {key: key for key in _SERVICE}, "cable_space_mm"),
    Children("zones", layout("zone", catalog.Zone, _POSITION)),
    Children(
        "openings",
        layout(
            "opening",
            catalog.Opening,
            Link("from", "from_zone", "zones", OUTSIDE),
            Link("to", "to_zone", "zones", OUTSIDE),
            _POSITION,
            _FILTER,
        ),
    ),
    Children(
        "bay_groups",
        layout("bay group", catalog.BayGroup, Link("zone", "zone", "zones"), Link("opening", "opening", "openings")),
    ),
    Children(
        "seats",
        layout("seat", catalog.Seat, Link("zone", "zone", "zones"), Link("fed_by", "fed_by", "openings")),
        name_column="role",
    ),
    Children("sound_shares", layout("sound share", catalog.SoundShare), name_column="place", keyed_by="place"),
    Derived("supply_opening"),
)

SOURCES = layout("source", catalog.Source)
MAKERS = layout("maker", catalog.Maker)

# The parts by the name of their file; enclosures fill a folder of files instead.
PARTS = {
    "fans": layout("fan", catalog.Fan, *_ORIGIN, _curve(optional=False)),
    "coolers": layout("cooler", catalog.Cooler, *_ORIGIN),
    "supplies": layout("supply", catalog.Supply, *_ORIGIN, _curve(optional=False)),
    "drives": layout("drive", catalog.Drive, *_ORIGIN),
    "adapters": layout("adapter", catalog.Adapter, *_ORIGIN),
    "controllers": layout("controller", catalog.Controller, *_ORIGIN),
    "ssds": layout("solid-state drive", catalog.SolidStateDrive, *_ORIGIN),
    "cards": layout("card", catalog.Card, *_ORIGIN),
    "processors": layout("processor", catalog.Processor, *_ORIGIN),
    "graphics": layout("graphics board", catalog.Graphics, *_ORIGIN, _curve(optional=True)),
    "boards": layout("board", catalog.Board, *_ORIGIN),
    "ups_units": layout("UPS unit", catalog.Ups, *_ORIGIN),
    "enclosures": ENCLOSURES,
}
FILES = {"sources": SOURCES, "makers": MAKERS, **PARTS}


def kind_of(model: type[Model]) -> str:
    """Return the kind of file, a key of ``FILES``, that holds a model's rows."""
    return next(kind for kind, layout in FILES.items() if layout.model is model)
