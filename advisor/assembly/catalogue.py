"""The whole catalogue, in a number of queries that does not grow with it, as it was at one moment."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

from django.db import connection, transaction

from advisor.assembly import parts
from advisor.assembly.enclosures import enclosure
from advisor.engine.inputs import Catalogue
from catalog import models
from catalog.provenance import Origin, notes_by_part, source_kinds

if TYPE_CHECKING:
    from django.contrib.auth.models import User

R = TypeVar("R")


def catalogue(owner: User | None = None) -> Catalogue:
    """Return everything that a person's study may choose from, each kind sorted by code.

    These are the public parts and the person's own ones. They are read each time, which is quick enough (the demo
    catalogue takes 40 ms), and all at one moment: a load meanwhile is in the answer as a whole or not at all. On SQLite
    that holds off writers while it reads.
    """
    first = not connection.in_atomic_block
    with transaction.atomic():
        if first and connection.vendor == "postgresql":
            # each query would see what others have committed by then
            with connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
        return _read(owner)


def _read(owner: User | None) -> Catalogue:
    kinds, notes = source_kinds(), notes_by_part()

    def every(model: type[models.Part], translate: Callable[[models.Part, Origin], R]) -> tuple[R, ...]:
        name = model._meta.model_name or ""
        rows = model.objects.visible(to=owner)
        rows = rows.with_wiring() if model is models.Enclosure else rows
        return tuple(translate(row, Origin(row.source_id, notes.get((name, row.pk), {}), kinds)) for row in rows)

    return Catalogue(
        enclosures=every(models.Enclosure, enclosure),
        fans=every(models.Fan, parts.fan),
        coolers=every(models.Cooler, parts.cooler),
        supplies=every(models.Supply, parts.supply),
        drives=every(models.Drive, parts.drive),
        adapters=every(models.Adapter, parts.adapter),
        controllers=every(models.Controller, parts.air_cooled),
        ssds=every(models.SolidStateDrive, parts.air_cooled),
        cards=every(models.Card, parts.air_cooled),
        processors=every(models.Processor, parts.processor),
        graphics=every(models.Graphics, parts.graphics),
        boards=every(models.Board, parts.board),
        ups_units=every(models.Ups, parts.ups),
    )
