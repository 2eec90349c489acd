"""Where the noise of a build comes from at its chosen settings."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from statistics import NormalDist

from advisor.engine.case.fans import STALL_PENALTY_DB
from advisor.engine.case.sound import SEATED
from advisor.engine.noise.breakdown import NoiseResult, Source, breakdown
from advisor.engine.noise.levels import energy, equal_sources, level
from advisor.engine.noise.paths import placement_of
from advisor.engine.noise.sources import density_term, level_by_share, sound_power, sound_power_uncertainty
from advisor.engine.power.supply import load_share
from advisor.engine.record.records import Figure, NoiseAtSeat
from advisor.engine.record.spot import Spot
from advisor.engine.scenarios import SCENARIO_TABLE


def noise_at_seat(spot: Spot, s: int) -> NoiseAtSeat:
    """Return the level of a scenario with what every source adds by every face."""
    brief, sounding = spot.build.case.brief, list(sources(spot, s))
    found = noise_result(spot, sounding)
    figure = Figure(found.level_dba, found.standard_uncertainty_db)
    target = brief.noise_target_dba if spot.judged(s) else None
    chance = None if target is None else NormalDist(figure.value, figure.standard_uncertainty).cdf(target)
    codes = {source.name: source.part for source in sounding}
    return NoiseAtSeat(figure, found.with_background_dba, target, chance, found.contributions, codes)


def noise_result(spot: Spot, sounding: Sequence[Source]) -> NoiseResult:
    """Return the breakdown of the level that sources make at the seat, with its uncertain terms."""
    case = spot.build.case
    return breakdown(
        sounding,
        insertion_loss_u_db=case.enclosure.insertion_loss_u,
        background_dba=case.brief.room_background_dba,
        placement_loss_u_db=placement_of(case.brief.placement).loss_u_db,
    )


def sources(spot: Spot, s: int) -> Iterator[Source]:
    """Yield everything that sounds in a scenario: fans by their mount, cooler, supply, drives, graphics boards."""
    yield from _fans(spot, s)
    yield from _cooler(spot, s)
    case, build = spot.build.case, spot.build
    share = load_share(build.supply, spot.load.dc_w[s])
    yield Source(
        "supply",
        float(level_by_share(build.supply.sound, share)),
        build.supply.sound_u_db,
        case.paths[SEATED["supply"]],
        build.supply.code,
    )
    yield from _drives(spot, s)
    graphics = case.named.graphics
    if graphics is not None:
        one = float(level_by_share(graphics.sound, SCENARIO_TABLE[s].graphics_share))
        all_boards = float(equal_sources(one, case.brief.graphics_count))
        yield Source("graphics", all_boards, graphics.sound_u_db, case.paths[SEATED["graphics"]], graphics.code)


def _louder(spot: Spot, s: int) -> float:
    return float(density_term(spot.build.case.room.density[s]))


def _fans(spot: Spot, s: int) -> Iterator[Source]:
    cells, k = spot.settings.cells, spot.rows[s]
    for m, (opening, fan) in enumerate(spot.build.fans.mounts):
        rpm = float(cells.rpm[k, m])
        one = float(sound_power(rpm, fan.sound)) + opening.obstruction_db + _louder(spot, s)
        one += STALL_PENALTY_DB if cells.stalled[k, m] else 0.0
        u = float(sound_power_uncertainty(rpm, fan.sound, fan.sound_u_db))
        together = float(equal_sources(one, opening.fan_count))
        yield Source(opening.code, together, u, spot.build.case.paths[opening.code], fan.code)


def _cooler(spot: Spot, s: int) -> Iterator[Source]:
    cooler = spot.build.cooler
    if cooler.max_rpm <= 0:
        return
    rpm = float(spot.cooler_steps.rpm[spot.steps[s], 0])
    power = float(sound_power(rpm, cooler.sound)) + _louder(spot, s)
    u = float(sound_power_uncertainty(rpm, cooler.sound, cooler.sound_u_db))
    yield Source("cooler", power, u, spot.build.case.paths[SEATED["processor"]], cooler.code)


def _drives(spot: Spot, s: int) -> Iterator[Source]:
    drive, case = spot.build.drive, spot.build.case
    if drive is None or not case.drive_count:
        return
    seeking = SCENARIO_TABLE[s].seeking
    one = (1 - seeking) * energy(drive.idle_sound_db) + seeking * energy(drive.seek_sound_db)
    power = float(level(case.drive_count * one))
    if math.isfinite(power):
        yield Source("drives", power, drive.sound_u_db, case.paths[SEATED["drives"]], drive.code)
