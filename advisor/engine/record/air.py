"""The air of a build at its chosen settings: zones, openings, and what it does on its way."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from advisor.engine.constants import ZERO_CELSIUS_K
from advisor.engine.record.records import Airflow, OpeningAir, ZoneAir
from advisor.engine.record.spot import Spot


def airflow(spot: Spot, s: int) -> Airflow:
    """Return zones and openings of a scenario with what the air does on its way."""
    cells, k = spot.settings.cells, spot.rows[s]
    enclosure, density = spot.build.case.enclosure, float(spot.build.case.room.density[s])
    through, fresh, filtered, wrong, short, score = (float(v) for v in cells.quality[k])
    volume = float(np.prod(enclosure.size_m))
    return Airflow(
        float(spot.build.case.room.temperature_c[s]),
        tuple(_zones(spot, s)),
        tuple(_openings(spot, s)),
        through,
        3600.0 * through / density / volume,
        fresh,
        filtered,
        wrong,
        short,
        score,
    )


def zone_rises(spot: Spot, s: int) -> np.ndarray:
    """Rise over ambient (nz,) [K] of every zone."""
    shared, drives, loss = spot.settings.cells.rises[spot.rows[s]]
    return shared + spot.load.drives_w[s] * drives + spot.load.loss_w[s] * loss


def _zones(spot: Spot, s: int) -> Iterator[ZoneAir]:
    cells, k = spot.settings.cells, spot.rows[s]
    t_amb, rises = float(spot.build.case.room.temperature_c[s]), zone_rises(spot, s)
    for z, code in enumerate(spot.build.case.plumbing.network.zones):
        yield ZoneAir(code, float(cells.flows.pressure[k, z]), t_amb + float(rises[z]), float(cells.fresh[k, z]))


def _openings(spot: Spot, s: int) -> Iterator[OpeningAir]:
    case, cells, k = spot.build.case, spot.settings.cells, spot.rows[s]
    network, warm = case.plumbing.network, ZERO_CELSIUS_K + float(case.room.temperature_c[s])
    rises = np.append(zone_rises(spot, s), 0.0)
    for b, half in enumerate(halves(spot)):
        opening, m = network.openings[network.opening[b]], float(cells.flows.mass_flow[k, b])
        upstream = network.frm[b] if m >= 0 else network.to[b]
        density = float(case.room.density[s]) * warm / (warm + float(rises[upstream]))
        wrong = m < 0 and not opening.two_way and opening.kind != "leak"
        yield OpeningAir(
            opening.code, half, opening.from_zone, opening.to_zone, m, float(cells.flow_u[k, b]), m / density, wrong
        )


def halves(spot: Spot) -> list[str]:
    """Say of every branch whether it is the ``lower`` or ``upper`` half of a tall opening, or all of one (empty)."""
    network = spot.build.case.plumbing.network
    words = []
    for b, k in enumerate(network.opening):
        same = [other for other, n in enumerate(network.opening) if n == k]
        words.append("" if len(same) == 1 else ("lower", "upper")[same.index(b)])
    return words
