"""Describing one build in full at its settings: the way into this package."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from advisor.engine.desirability import weights_of
from advisor.engine.fit.enclosure import turned_size
from advisor.engine.inputs import Brief, Catalogue, Ups
from advisor.engine.judge.cells import Cells
from advisor.engine.pipeline import Build
from advisor.engine.record.advice import reasons
from advisor.engine.record.air import airflow
from advisor.engine.record.cautions import cautions
from advisor.engine.record.doubts import warnings
from advisor.engine.record.electric import power
from advisor.engine.record.ends import ends
from advisor.engine.record.parts import loaded_kg, part_lines
from advisor.engine.record.records import BuildRecord, Prediction
from advisor.engine.record.sound import noise_at_seat
from advisor.engine.record.spot import CODES, Spot, spot_of
from advisor.engine.record.warmth import bays, part_temperatures
from advisor.engine.storage.figures import StorageFigures, storage_figures


def describe(
    build: Build,
    rows: tuple[int, ...],
    steps: tuple[int, ...],
    catalogue: Catalogue,
    criteria: Mapping[str, float] | None = None,
    solved: Cells | None = None,
) -> BuildRecord:
    """Describe a build in full.

    Parameters
    ----------
    build : Build
    rows, steps : tuple of int
        Row of the build's grid (see ``judge.cells``) and cooler step in each of the five scenarios.
    catalogue : Catalogue
        Where adapters and UPS units come from.
    criteria : mapping, optional
        Desirability by criterion, of an accepted candidate; with it the reasons say what costs it most in the ranking.
    solved : Cells, optional
        The air of all settings from ``pipeline.solve_air``, where it is known from a build that shares it.

    Returns
    -------
    BuildRecord
    """
    spot = spot_of(build, rows, steps, solved)
    record = _facts(spot, catalogue)
    return replace(
        record,
        reasons=tuple(reasons(spot, record, criteria or {}, weights_of(build.case.brief))),
        cautions=tuple(cautions(record)),
    )


def _facts(spot: Spot, catalogue: Catalogue) -> BuildRecord:
    build = spot.build
    warm = part_temperatures(spot)
    predictions = {code: Prediction(warm[s], noise_at_seat(spot, s)) for s, code in enumerate(CODES)}
    judged = [one.noise for one in predictions.values() if one.noise.target_dba is not None]
    lines = part_lines(build, {adapter.code: adapter for adapter in catalogue.adapters})
    case = build.case
    return BuildRecord(
        enclosure=case.enclosure.code,
        parts=lines,
        price=sum(line.quantity * line.price for line in lines if line.price is not None),
        settings=spot.all_speeds(),
        predictions=predictions,
        headroom_k=min(part.headroom_k for one in predictions.values() for part in one.temperatures),
        noise_margin_db=min(one.target_dba - one.noise_dba.value for one in judged if one.target_dba is not None),
        noise_chance=min(one.chance for one in judged if one.chance is not None),
        ends=ends(spot),
        airflow={code: airflow(spot, s) for s, code in enumerate(CODES)},
        bays=bays(spot, predictions),
        power=power(spot, _ups_units(case.brief, catalogue)),
        storage=_storage(spot),
        size_m=turned_size(case.enclosure.size_m, case.brief.orientation),
        spare_places=case.bays.free_places - case.brief.spare_bays,
        loaded_kg=loaded_kg(build),
        warnings=warnings(spot),
        reasons=(),
        cautions=(),
    )


def _storage(spot: Spot) -> StorageFigures | None:
    build, brief = spot.build, spot.build.case.brief
    if build.drive is None:
        return None
    return storage_figures(brief.layout, build.drive, build.case.drive_count, brief.hot_spares)


def _ups_units(brief: Brief, catalogue: Catalogue) -> tuple[Ups, ...]:
    """UPS units that a brief allows: the required ones alone where it requires any."""
    left = tuple(unit for unit in catalogue.ups_units if unit.code not in brief.excluded_parts)
    return tuple(unit for unit in left if unit.code in brief.required_parts) or left
