"""The level at the seat, one row a draw: what every source and every way out of an enclosure is uncertain by."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from advisor.engine.case.case import Case
from advisor.engine.constants import DISCREPANCY_CONFIGURATION_DB, DISCREPANCY_ENCLOSURE_DB
from advisor.engine.inputs import Point
from advisor.engine.judge.named_draws import NamedDraws
from advisor.engine.noise.levels import energy, level
from advisor.engine.noise.paths import ABSORPTION_U_REL, DIRECTIVITY_U_DB, Path, placement_of, side_of_face
from advisor.engine.noise.sources import EXPONENT_U_MORE_READINGS, EXPONENT_U_ONE_READING


@dataclass(frozen=True)
class Sounding:
    """One source: sound energy at the seat (count, 5) or (1, 5) of its best estimate, its way, and its part's figures.

    ``rpm`` (5,) and ``readings`` are those of a fan; without a fan ``readings`` is empty.
    """

    energy: np.ndarray
    path: Path
    part: str
    reading_u_db: float
    rpm: np.ndarray
    readings: Sequence[Point] = ()


def drawn_levels(case: Case, sources: Sequence[Sounding], build: Sequence[str], z: NamedDraws) -> np.ndarray:
    """Return the machine's level at the seat (count, 5) [dB]; ``build`` (5,) names each scenario's configuration."""
    code = case.enclosure.code
    ways = {id(source.path): drawn_way(case, source.path, z) for source in sources}
    total = np.zeros((z.count, 5))
    for source in sources:
        moved = source.reading_u_db * z[f"sound/{source.part}"][:, None] + _by_exponent(source, z)
        total += source.energy * energy(moved) * ways[id(source.path)][:, None]
    own = np.stack([z[f"model/{name}/db"] for name in build], axis=1)
    return level(total) + DISCREPANCY_ENCLOSURE_DB * z[f"model/{code}/db"][:, None] + DISCREPANCY_CONFIGURATION_DB * own


def _by_exponent(source: Sounding, z: NamedDraws) -> np.ndarray | float:
    """Change of a fan's level (count, 5) [dB] with its speed exponent, over the decades to the nearest reading."""
    if not source.readings:
        return 0.0
    known = np.log10([rpm for rpm, _ in source.readings])
    decade = np.log10(np.where(source.rpm > 0, source.rpm, source.readings[0][0]))
    nearest = known[np.argmin(np.abs(decade[:, None] - known), axis=1)]
    u = EXPONENT_U_ONE_READING if len(known) == 1 else EXPONENT_U_MORE_READINGS
    return u * z[f"sound/{source.part}/exponent"][:, None] * (decade - nearest)


def drawn_way(case: Case, path: Path, z: NamedDraws) -> np.ndarray:
    """Return a path's transfer (count,) over that of its best estimate."""
    brief, box = case.brief, case.enclosure
    leaving = _leaving(path, box.insertion_loss_db)
    absorbed = np.exp(-ABSORPTION_U_REL * z["room/absorption"])
    found = np.zeros(z.count)
    for face, share in leaving.items():
        reverberant = path.reverberant * share
        side = side_of_face(face, brief.seat_side, brief.orientation)
        looks = energy(DIRECTIVITY_U_DB * z[f"room/directivity/{side}"])
        held = energy(-box.insertion_loss_u * z[f"{box.code}/insertion_loss/{face}"])
        found += held * ((path.by_face[face] - reverberant) * looks + reverberant * absorbed)
    place_u = placement_of(brief.placement).loss_u_db
    return found / path.transfer * energy(-place_u * z["room/placement"])


def _leaving(path: Path, insertion_loss_db: Mapping[str, float]) -> dict[str, float]:
    """Share by face of the sound power that leaves the enclosure."""
    left = {face: share * float(energy(-insertion_loss_db[face])) for face, share in path.face_shares.items()}
    total = sum(left.values())
    return {face: power / total for face, power in left.items()}
