"""Examples of parts: the first of each kind in the demo catalogue, whose every part is invented."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from django.conf import settings
from rest_framework.utils.encoders import JSONEncoder

from api.kinds import Kind
from catalog.exporting import block_of
from catalog.importing.parsing import BlockParser
from catalog.importing.plain_yaml import read_items
from catalog.importing.refusals import Place
from catalog.records import Record
from catalog.shapes import Format

FOLDER = settings.BASE_DIR / "fixtures" / "catalog"
_ROOM = "http://localhost:8000/api/v1/"
_IN_THE_CATALOGUE = {"owner": "catalogue", "offered": None, "decline_note": "", "contributor": ""}


@cache
def demo_block(kind: Kind) -> dict[str, Any]:
    """Return the first block of a kind's first file, as JSON has it."""
    one_file = FOLDER / f"{kind.file}.yaml"
    path = one_file if one_file.exists() else sorted((FOLDER / kind.file).iterdir())[0]
    (_, block), *_ = read_items(path.read_text(encoding="utf-8"))
    return json.loads(json.dumps(block, cls=JSONEncoder))


def new_block(kind: Kind) -> dict[str, Any]:
    """Return a block that can be added beside the demo catalogue."""
    named = {"name": f"{demo_block(kind)['name']} again"} if "name" in demo_block(kind) else {}
    return demo_block(kind) | {"code": f"another-{kind.word}"} | named


def demo_body(kind: Kind, layout: Format | None = None) -> dict[str, Any]:
    """Return the first part of a kind as an answer, with a layout of less than all if told."""
    layout = layout or kind.layout
    address = f"{_ROOM}{kind.path}/{demo_block(kind)['code']}/"
    block = block_of(layout, _record(kind), whole=True)
    body = {"url": address, **block, **(_IN_THE_CATALOGUE if layout.is_part else {})}
    return json.loads(json.dumps(body, cls=JSONEncoder))


def new_body(kind: Kind) -> dict[str, Any]:
    """Return the answer to such an addition."""
    code = new_block(kind)["code"]
    named = {key: value for key, value in new_block(kind).items() if key in ("code", "name")}
    return demo_body(kind) | named | {"url": f"{_ROOM}{kind.path}/{code}/"}


def own_body(kind: Kind, *, offered: bool) -> dict[str, Any]:
    """Return somebody's own part as its owner sees it."""
    code = f"own-k3v7q2xa-{kind.word}"
    standing = {"owner": "you", "offered": "2026-11-25T09:30:00Z" if offered else None, "contributor": "Mara Field"}
    return demo_body(kind) | standing | {"code": code, "url": f"{_ROOM}{kind.path}/{code}/"}


def demo_page(kind: Kind, layout: Format) -> dict[str, Any]:
    return {"next": None, "previous": None, "results": [demo_body(kind, layout)]}


def demo_figures(kind: Kind) -> dict[str, Any]:
    """Return one figure of the first part of a kind, as if declared."""
    block = demo_block(kind)
    price = {"name": "price", "value": block["price"], "unit": "EUR", "source": block["source"]}
    sure = {"source_kind": "declared", "standard_uncertainty": 0.0, "relative": False, "stated": False}
    return {"code": block["code"], "figures": [price | sure]}


@cache
def _record(kind: Kind) -> Record:
    return BlockParser(kind.layout, Place("example")).parse(demo_block(kind))
