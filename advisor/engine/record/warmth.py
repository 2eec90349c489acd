"""Temperatures of all parts at the chosen settings, and which bay each drive sits in."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np

from advisor.engine.case.components import LIMITS
from advisor.engine.judge.arrays import cooler_arrays, drive_arrays
from advisor.engine.judge.slacks import DRIVE, PROCESSOR, drive_own_rises, part_temperature
from advisor.engine.record.records import Bay, Figure, PartTemperature, Prediction
from advisor.engine.record.spot import CODES, Spot
from advisor.engine.storage.bays import BayFill
from advisor.engine.thermal.parts import processor


def part_temperatures(spot: Spot, s: int) -> tuple[PartTemperature, ...]:
    """Return every part's temperature [degC] in a scenario, with the limit and what it leaves."""
    parts, t_amb = spot.build.case.components, float(spot.build.case.room.temperature_c[s])
    found = []
    for c, name in enumerate(parts.names):
        kind = int(parts.limit[c])
        rise, variance = _processor(spot, s) if kind == PROCESSOR else _other(spot, s, c)
        u = math.sqrt(max(variance, 0.0))
        role, _, place = name.partition(":")
        limit = float(spot.limits[kind])
        left = limit - t_amb - rise - spot.arrays.z * u
        found.append(
            PartTemperature(LIMITS[kind] if role == "drive" else role, place, Figure(t_amb + rise, u), limit, left)
        )
    return tuple(found)


def _processor(spot: Spot, s: int) -> tuple[float, float]:
    case, arrays = spot.build.case, spot.arrays
    cooler = cooler_arrays(case, (spot.build.cooler,))
    solid, air, r_u, n_u, m_u = cooler.figures[0]
    inner, inner_u, heat_u = arrays.processor
    rise, variance = processor(
        spot.settings.cells.figures[spot.rows[s], 0],
        spot.load.drives_w[s],
        spot.load.loss_w[s],
        arrays.processor_watts[s],
        heat_u,
        inner,
        inner_u,
        solid,
        air,
        r_u,
        cooler.flow_exponent[0],
        n_u,
        spot.build.cooler.speed_exponent,
        m_u,
        math.exp(cooler.speed_log[0, spot.steps[s]]),
        case.room.density[s],
    )
    return float(rise), float(variance)


def _other(spot: Spot, s: int, c: int) -> tuple[float, float]:
    case, arrays, k = spot.build.case, spot.arrays, spot.rows[s]
    parts, figures = case.components, spot.settings.cells.figures[k : k + 1]
    own = np.zeros((1, 1, len(parts.names), 3))
    if parts.limit[c] == DRIVE:
        model = drive_arrays((spot.build.drive,))
        drive_own_rises(
            figures,
            np.array([s]),
            parts.limit,
            parts.kind,
            parts.cross_m2,
            model.watts,
            model.surface,
            model.length,
            model.height,
            arrays.film,
            own,
        )
    rise, variance = part_temperature(
        figures[0, c],
        c,
        s,
        spot.load.drives_w[s],
        spot.load.loss_w[s],
        parts.limit,
        parts.cross_m2,
        own[0, 0, c],
        arrays.graphics,
        arrays.cooled,
        case.room.density[s],
        arrays.heat_u,
    )
    return float(rise), float(variance)


def bays(spot: Spot, predictions: Mapping[str, Prediction]) -> tuple[Bay, ...]:
    """Return the bay of every drive with its group's temperature where that leaves least headroom."""
    if spot.build.drive is None:
        return ()
    found, numbers = [], {fill.group: 0 for fill in spot.build.case.bays.fills}
    for c, fill in _filled(spot):
        worst = min(CODES, key=lambda code: predictions[code].temperatures[c].headroom_k)
        warm = predictions[worst].temperatures[c].temperature_c
        for _ in range(fill.drives):
            numbers[fill.group] += 1
            label = f"{fill.group} {numbers[fill.group]}"
            found.append(Bay(label, fill.group, fill.adapter, spot.build.drive.code, warm, worst))
    return tuple(found)


def _filled(spot: Spot) -> Iterator[tuple[int, BayFill]]:
    """Yield filled bay groups with the component that stands for each, in the order of ``case.components``."""
    case = spot.build.case
    opening = {group.code: group.opening for group in case.enclosure.bay_groups}
    held = [fill for fill in case.bays.fills if fill.drives]
    ordered = [fill for cage in case.plumbing.fillings for fill in held if opening[fill.group] == cage]
    ordered += [fill for fill in held if not opening[fill.group]]
    first = len(case.components.names) - len(ordered)
    yield from enumerate(ordered, first)
