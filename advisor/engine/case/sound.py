"""How sound leaves a case for the seat, and how loud its fans are at each step."""

from __future__ import annotations

import numpy as np

from advisor.engine.inputs import Brief, Drive, Enclosure, Fan, Graphics, Opening, Supply
from advisor.engine.noise.levels import energy
from advisor.engine.noise.paths import Path, placement_of, trace
from advisor.engine.noise.sources import density_term, level_by_share, sound_power
from advisor.engine.scenarios import SCENARIO_TABLE

# The places of sound_shares that are not fan mounts.
SEATED = {"processor": "processor", "graphics": "graphics", "drives": "drives", "supply": "supply"}


def sound_paths(enclosure: Enclosure, brief: Brief) -> dict[str, Path]:
    """Trace the way to the seat from every place of an enclosure that can sound."""
    place = placement_of(brief.placement)
    return {
        code: trace(
            shares, enclosure.insertion_loss_db, brief.seat_side, brief.orientation, brief.seat_distance_m,
            place.directivity_q, brief.room_absorption_m2, place.loss_db,
        )
        for code, shares in enclosure.sound_shares.items()
    }  # fmt: skip


def mount_energy(
    mounts: tuple[tuple[Opening, Fan], ...], speeds_rpm: np.ndarray, paths: dict[str, Path], density: np.ndarray
) -> np.ndarray:
    """Sound energy at the seat (5, steps, mounts) of fans on their mounts.

    ``speeds_rpm`` (steps, mounts); ``density`` (5,) of the air in each scenario. Energies add; 10 log10 gives dBA.
    """
    found = np.zeros((5, len(speeds_rpm), len(mounts)))
    for k, (opening, fan) in enumerate(mounts):
        level = np.asarray(sound_power(speeds_rpm[:, k], fan.sound)) + opening.obstruction_db
        one = energy(level[None, :] + np.asarray(density_term(density))[:, None])
        found[:, :, k] = opening.fan_count * one * paths[opening.code].transfer
    return found


def rest_energies(
    case_paths: dict[str, Path],
    supply: tuple[Supply, np.ndarray],
    drive: Drive | None,
    drive_count: int,
    graphics: Graphics | None,
    graphics_count: int,
) -> dict[str, np.ndarray]:
    """Sound energy at the seat (5,) of each part that no fan setting changes: supply, drives, graphics boards.

    ``supply`` comes with its load as a share of its rating (5,).
    """
    part, shares = supply
    found = {"supply": energy(level_by_share(part.sound, shares))}
    if drive is not None:
        seeking = np.array([scenario.seeking for scenario in SCENARIO_TABLE])
        one = (1 - seeking) * energy(drive.idle_sound_db) + seeking * energy(drive.seek_sound_db)
        found["drives"] = drive_count * one
    if graphics is not None:
        load = np.array([scenario.graphics_share for scenario in SCENARIO_TABLE])
        found["graphics"] = graphics_count * energy(level_by_share(graphics.sound, load))
    return {name: np.asarray(power) * case_paths[SEATED[name]].transfer for name, power in found.items()}


def rest_energy(
    case_paths: dict[str, Path],
    supply: tuple[Supply, np.ndarray],
    drive: Drive | None,
    drive_count: int,
    graphics: Graphics | None,
    graphics_count: int,
) -> np.ndarray:
    """Sound energy at the seat (5,) of all that no fan setting changes; arguments as in ``rest_energies``."""
    by_part = rest_energies(case_paths, supply, drive, drive_count, graphics, graphics_count)
    return np.sum(list(by_part.values()), axis=0)
