"""Rows of the catalogue as the interface shows them: the block of the catalogue's files, and what only we write."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from django.db.models import Model, QuerySet
from rest_framework.request import Request
from rest_framework.reverse import reverse
from rest_framework.utils.encoders import JSONEncoder

from api.etags import etag_of
from api.kinds import Kind
from catalog.exporting import block_of
from catalog.provenance import Figure
from catalog.records import notes_on, record_of
from catalog.shapes import Format

if TYPE_CHECKING:
    from advisor.access.roles import Person


def fetched(rows: QuerySet, layout: Format) -> QuerySet:
    """Fetch along what bodies of a layout are made of: one query for each kind of thing, however many rows."""
    notes = ["notes"] if layout.is_part else []
    return rows.prefetch_related(*notes, *(entry.key for entry in layout.children))


def body_of(kind: Kind, layout: Format, row: Model, request: Request) -> dict[str, Any]:
    """Return a row as a body; ``layout`` is the kind's own, or the one without the inside."""
    block = block_of(layout, record_of(row, layout, notes_on(row) if layout.is_part else {}), whole=True)
    return body_around(block, kind, row, request)


def body_around(block: Mapping[str, Any], kind: Kind, row: Model, request: Request) -> dict[str, Any]:
    """Return the body of a row whose block is there already."""
    standing = _standing(row, request.user) if kind.layout.is_part else {}
    return {"url": address_of(kind, row, request), **block, **standing}


def address_of(kind: Kind, row: Any, request: Request) -> str:
    """Return the address of a row."""
    return reverse(f"api:{kind.word}-detail", kwargs={"code": row.code}, request=request)


def version_of(body: Mapping[str, Any]) -> str:
    """Return the entity tag of a body, the same at every address of this machine."""
    said = {key: value for key, value in body.items() if key != "url"}
    return etag_of(json.dumps(said, cls=JSONEncoder, sort_keys=True))


def figure_body(figure: Figure) -> dict[str, Any]:
    """Return one figure with who says so and how sure it is."""
    return {
        "name": figure.name,
        "value": figure.value,
        "unit": figure.unit,
        "source": figure.source,
        "source_kind": figure.source_kind,
        "standard_uncertainty": figure.standard_uncertainty,
        "relative": figure.relative,
        "stated": figure.stated,
    }


def _standing(row: Any, person: Person) -> dict[str, Any]:
    """Return whose a part is and how it stands with the catalogue."""
    owner = "catalogue" if row.owner_id is None else "you" if row.owner_id == person.pk else "somebody"
    return {
        "owner": owner,
        "offered": row.offered_at,
        "decline_note": row.decline_note,
        "contributor": row.contributor,
    }
