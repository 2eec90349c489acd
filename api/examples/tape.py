"""Examples of enclosures entered by tape. All is invented; tests post the entries."""

from __future__ import annotations

import json
from typing import Any

from rest_framework.utils.encoders import JSONEncoder

from advisor.tape.block import TapeResult
from advisor.tape.entering import derive
from advisor.tape.reading import read_tape
from api.kinds import KIND_OF
from api.serializers.tape import derived_body
from catalog.exporting import block_of
from catalog.importing.parsing import BlockParser
from catalog.importing.refusals import Place
from catalog.shapes import Format

_LAYOUT = KIND_OF["enclosures"].layout
_CODE = "own-k3v7q2xa-workshop-tower"
_SHOWN_FIGURES = 4
_STANDING = {"owner": "you", "offered": None, "decline_note": "", "contributor": ""}

ENTRIES: dict[str, Any] = {
    "least": {
        "name": "Workshop tower",
        "width_mm": 215,
        "height_mm": 465,
        "depth_mm": 440,
        "panels": {"front": {"holes_share": 0.5}},
        "fans": [{"face": "front", "size_mm": 120, "count": 2}, {"face": "rear", "size_mm": 120}],
        "bays": [{"count": 4}],
    },
    "two_chambers": {
        "name": "Cube with two chambers",
        "code": "two-chambers",
        "width_mm": 305,
        "height_mm": 420,
        "depth_mm": 400,
        "material": "steel",
        "thickness_mm": 0.8,
        "panels": {
            "front": {"holes_share": 0.5, "holes_area_cm2": 560, "filter": "fine", "chamber": "main"},
            "top": {"slot_width_mm": 4, "slot_length_mm": 90, "slot_count": 20, "chamber": "main"},
            "right": {"holes_share": 0.45, "holes_area_cm2": 300, "hole_mm": 2, "filter": "medium"},
            "left": {"material": "glass"},
        },
        "fans": [
            {"face": "front", "size_mm": 120, "count": 3, "chamber": "main"},
            {"face": "rear", "size_mm": 120, "chamber": "main", "may_be_empty": True},
        ],
        "divider": {"direction": "upright", "at_mm": 200, "board_side": "left", "open_cm2": 18},
        "bays": [
            {"count": 4, "place": "own_chamber", "spacing_mm": 6.5, "hot_swap": True, "tool_free": True},
            {"count": 2, "form": "2.5", "chamber": "second"},
        ],
        "supply": {"forms": ["atx", "sfx"], "breathes": "own_duct", "vent_cm2": 120, "filter": "medium"},
    },
    "rack_with_fan_wall": {
        "name": "Rack of twelve",
        "width_mm": 430,
        "height_mm": 132,
        "depth_mm": 650,
        "feet_mm": 0,
        "panels": {"front": {"holes_share": 0.7, "hole_mm": 10}, "rear": {"holes_share": 0.5, "holes_area_cm2": 150}},
        "fans": [{"face": "wall", "size_mm": 92, "count": 4}],
        "bays": [{"count": 12, "hot_swap": True}],
        "supply": {"forms": ["redundant_1u"]},
    },
}


def entered() -> dict[str, Any]:
    """Return the answer to the first of them; of its derived figures the first ones."""
    return {"enclosure": _body(_LAYOUT), "derived": _figures(_result())}


def previewed() -> dict[str, Any]:
    """Return what would be stored of it."""
    result = _result()
    return {"enclosure": result.block, "derived": _figures(result)}


def page() -> dict[str, Any]:
    """Return a list that holds it."""
    return {"next": None, "previous": None, "results": [_body(_LAYOUT.outside)]}


def _result() -> TapeResult:
    entry = read_tape(ENTRIES["least"]).entry
    assert entry is not None
    return derive(entry)


def _figures(result: TapeResult) -> list[dict[str, Any]]:
    return derived_body(result.derived[:_SHOWN_FIGURES])


def _body(layout: Format) -> dict[str, Any]:
    record = BlockParser(_LAYOUT, Place("example")).parse({**_result().block, "code": _CODE})
    address = f"http://localhost:8000/api/v1/enclosures/{_CODE}/"
    body = {"url": address, **block_of(layout, record, whole=True), **_STANDING}
    return json.loads(json.dumps(body, cls=JSONEncoder))
