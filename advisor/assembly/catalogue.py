"""The whole catalogue, in a number of queries that does not grow with it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from advisor.assembly import parts
from advisor.assembly.enclosures import enclosure
from advisor.engine.inputs import Catalogue
from catalog import models
from catalog.provenance import Origin, notes_by_part, source_kinds

R = TypeVar("R")


def catalogue() -> Catalogue:
    """Return everything that a study may choose from, each kind sorted by code."""
    kinds, notes = source_kinds(), notes_by_part()

    def every(model: type[models.Part], translate: Callable[[models.Part, Origin], R]) -> tuple[R, ...]:
        name = model._meta.model_name or ""
        rows = model.objects.visible()
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
