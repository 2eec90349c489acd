"""The parts whose temperatures are judged, as arrays: where each sits, what air it gets, which limit it has."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.airflow.elements import Network, cage_beta
from advisor.engine.case.heat import DRIVES, HEAT_ROWS, PROCESSOR
from advisor.engine.case.heat import GRAPHICS as GRAPHICS_ROW
from advisor.engine.case.network import Filling
from advisor.engine.constants import REFERENCE_DENSITY
from advisor.engine.inputs import Enclosure
from advisor.engine.thermal.temperatures import CAGE, DRAUGHT_PER_DRIVE, SEAT, STILL

# What a component is, by which its own rise is computed and its limit found.
LIMITS = ("processor", "graphics", "drive", "ssd", "card", "controller")
AIR_COOLED = ("ssd", "card", "controller")


@dataclass(frozen=True)
class Components:
    """Arrays over components, the processor first; see ``thermal.temperatures.component_air``.

    ``limit`` indexes LIMITS; ``cross_m2`` turns a passing flow into a speed at the part (for drives the gaps of the
    slowest bay: speed = Q / cross_m2; infinite where the air is still).
    """

    names: tuple[str, ...]
    limit: np.ndarray
    kind: np.ndarray
    zone: np.ndarray
    branch: np.ndarray
    kappa: np.ndarray
    kappa_u: np.ndarray
    fed: np.ndarray
    warming: np.ndarray
    warming_u: np.ndarray
    draught: np.ndarray
    own_heat: np.ndarray
    cross_m2: np.ndarray


def components(
    enclosure: Enclosure,
    network: Network,
    fillings: dict[str, tuple[Filling, ...]],
    still: tuple[tuple[str, str, int], ...],
    present: tuple[str, ...],
) -> Components:
    """Collect the components of a case.

    Parameters
    ----------
    fillings
        Per cage opening, its bay groups with drives (see ``case.network``).
    still
        Drives outside any cage: (group code, zone code, number).
    present
        Roles to judge of ``processor``, ``graphics``, ``ssd``, ``card``, ``controller``.
    """
    rows = [_seat_row(enclosure, network, role) for role in present]
    total = sum(drives for cage in fillings.values() for _, drives, _, _ in cage) + sum(n for _, _, n in still)
    for code, cage in fillings.items():
        rows += _cage_rows(network, code, cage, total)
    drive_limit, drive_heat = LIMITS.index("drive"), HEAT_ROWS.index(DRIVES)
    for group, zone, _count in still:
        rows.append(
            (
                f"drive:{group}",
                drive_limit,
                STILL,
                network.zone(zone),
                -1,
                1.0,
                0.0,
                (-1, -1),
                0.0,
                0.0,
                1.0,
                drive_heat,
                np.inf,
            )
        )
    columns = list(zip(*rows, strict=True))
    whole, number = (lambda k: np.array(columns[k], dtype=np.int64)), (lambda k: np.array(columns[k], dtype=float))
    return Components(
        tuple(columns[0]), whole(1), whole(2), whole(3), whole(4), number(5), number(6), whole(7),
        number(8), number(9), number(10), whole(11), number(12),
    )  # fmt: skip


def _seat_row(enclosure: Enclosure, network: Network, role: str) -> tuple:
    seat = next(seat for seat in enclosure.seats if seat.role == role)
    fed = (network.branches_of(seat.fed_by) if seat.fed_by else ())[:2]
    own = {"processor": HEAT_ROWS.index(PROCESSOR), "graphics": HEAT_ROWS.index(GRAPHICS_ROW)}.get(role, -1)
    return (
        role, LIMITS.index(role), SEAT, network.zone(seat.zone), -1, seat.preheat, seat.preheat_u_log,
        (*fed, -1, -1)[:2], 0.0, 0.0, 1.0, own, seat.cross_area_m2,
    )  # fmt: skip


def _cage_rows(network: Network, code: str, cage: tuple[Filling, ...], total: int) -> list[tuple]:
    """One row per bay group with drives: its share of the cage's flow, its slowest gap, its last row of drives."""
    rows = []
    whole = cage_beta(cage)[0] ** -0.5
    branch = network.branches_of(code)[0]
    for group, drives, gap_area, loss in cage:
        if not drives:
            continue
        passing = drives * gap_area * (2 / (REFERENCE_DENSITY * loss)) ** 0.5 / whole
        along = (group.rows - 0.5) / group.rows
        warming = group.maldistribution * along * drives / total / passing
        cross = drives * gap_area / group.rows * group.maldistribution / passing
        rows.append(
            (
                f"drive:{group.code}", LIMITS.index("drive"), CAGE, -1, branch, 1.0, 0.0, (-1, -1), warming,
                group.maldistribution_u / group.maldistribution, DRAUGHT_PER_DRIVE * drives / passing,
                HEAT_ROWS.index(DRIVES), cross,
            )
        )  # fmt: skip
    return rows
