"""Temperatures of all parts at the chosen settings, and which bay each drive sits in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from advisor.engine.judge.arrays import cooler_arrays
from advisor.engine.judge.moments import part_moments
from advisor.engine.record.records import Bay, Figure, PartTemperature, Prediction
from advisor.engine.record.spot import CODES, Spot
from advisor.engine.storage.bays import BayFill


def part_temperatures(spot: Spot) -> tuple[tuple[PartTemperature, ...], ...]:
    """Return every part's temperature [degC] in each scenario, with the limit and what it leaves."""
    case, cooler = spot.build.case, spot.build.cooler
    speed_log = cooler_arrays(case, (cooler,)).speed_log[0][list(spot.steps)]
    rise, u = part_moments(
        case,
        spot.arrays,
        cooler,
        speed_log,
        spot.build.drive,
        spot.settings.cells.figures[list(spot.rows)],
        (spot.load.drives_w, spot.load.loss_w),
    )
    warm = case.room.temperature_c[:, None] + rise
    limit = spot.limits[case.components.limit]
    left = limit - warm - spot.arrays.z * u
    places = [name.partition(":")[::2] for name in case.components.names]
    return tuple(
        tuple(
            PartTemperature(role, place, Figure(float(warm[s, c]), float(u[s, c])), float(limit[c]), float(left[s, c]))
            for c, (role, place) in enumerate(places)
        )
        for s in range(len(CODES))
    )


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
