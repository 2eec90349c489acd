"""Draws of one build at its settings through the full solver, with random numbers that builds have in common.

Every uncertain parameter has a name, and equal names have equal draws: a difference of two builds takes what they
share once. The standard uncertainties are those of the linear propagation, whose linearisations are left out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from advisor.engine.case.case import VariableHeat, class_heat
from advisor.engine.case.heat import LOSS_U_REL
from advisor.engine.case.sound import SEATED, rest_energies
from advisor.engine.constants import DISCREPANCY_CONFIGURATION_K, DISCREPANCY_ENCLOSURE_K
from advisor.engine.desirability import AIRFLOW_SCORE, HEADROOM_K, NOISE_MARGIN_DB, combine, ramps
from advisor.engine.judge.arrays import CoolerArrays, case_arrays, cooler_arrays, limits_c
from advisor.engine.judge.cells import Cells, patched, row_sigma, solve_cells, swayed
from advisor.engine.judge.drawn_parts import DrawnParts, drawn_parts, own_rises
from advisor.engine.judge.drawn_sound import Sounding, drawn_levels
from advisor.engine.judge.draws import Draws
from advisor.engine.judge.moments import part_moments
from advisor.engine.judge.named_draws import NamedDraws
from advisor.engine.pipeline import Build, Load, load_of, shared_air
from advisor.engine.scenarios import SCENARIO_TABLE
from advisor.engine.thermal.temperatures import AIR, CAGE, SEAT

DRAWS, SEED = 256, 20_260_101
CENTRAL = (0.025, 0.975)
NO_SPEED = np.zeros(5)


@dataclass(frozen=True)
class Samples:
    """Draws of a build at one row and one cooler step per scenario, equal draws under equal numbers.

    ``temperature_c`` (count, 5, components), ``noise_dba`` and ``airflow`` (count, 5) by scenario; ``headroom_k``,
    ``noise_margin_db``, ``airflow_score`` (count,) the least over the scenarios in which they are judged. A limit is
    met with the same allowance ``z*u`` in all draws, that of the best estimate. ``parameters`` names what was drawn.
    """

    temperature_c: np.ndarray
    noise_dba: np.ndarray
    airflow: np.ndarray
    headroom_k: np.ndarray
    noise_margin_db: np.ndarray
    airflow_score: np.ndarray
    parameters: tuple[str, ...]

    def criteria(self) -> dict[str, np.ndarray]:
        """Desirability (count,) of each criterion that draws move; see ``desirability``."""
        return {
            "noise": ramps(self.noise_margin_db, NOISE_MARGIN_DB),
            "headroom": ramps(self.headroom_k, HEADROOM_K),
            "airflow": ramps(self.airflow_score, AIRFLOW_SCORE),
        }


@dataclass(frozen=True)
class Interval:
    """A central 95 % interval of a difference."""

    low: float
    high: float

    @property
    def resolved(self) -> bool:
        """Whether the difference can be told from none: the interval excludes 0."""
        return self.low > 0.0 or self.high < 0.0


def difference(
    one: Samples,
    other: Samples,
    fixed: Mapping[str, float],
    other_fixed: Mapping[str, float],
    weights: Mapping[str, float],
) -> Interval:
    """Return the interval of the desirability of one build less that of another.

    ``fixed`` and ``other_fixed`` hold the desirabilities that no draw moves (bays, service, price); ``weights``
    those of
    ``desirability.weights_of``. Both must have been sampled with the same seed and count.
    """
    drawn = [
        np.broadcast_to(combine({**still, **samples.criteria()}, weights), samples.headroom_k.shape)
        for samples, still in ((one, fixed), (other, other_fixed))
    ]
    low, high = np.quantile(drawn[0] - drawn[1], CENTRAL)
    return Interval(float(low), float(high))


def sample(build: Build, rows: np.ndarray, steps: np.ndarray, count: int = DRAWS, seed: int = SEED) -> Samples:
    """Draw a build at rows (5,) of its fan settings and steps (5,) of its cooler, one of each per scenario.

    Source: JCGM 101:2008, propagation of distributions by a Monte Carlo method.
    """
    case, arrays, rows, steps = build.case, case_arrays(build.case), np.asarray(rows), np.asarray(steps)
    load, coolers = load_of(case, build.supply, build.drive), cooler_arrays(case, (build.cooler,))
    cells, heat = _standing(build, load, rows)
    speed_log = coolers.speed_log[0][steps]
    z = NamedDraws(count, seed)
    air = shared_air(case, build.supply, build.drive).supply
    drawn = solve_cells(case, build.fans, air, heat, np.tile(rows, count), _draws(build, cells, z))
    figures = drawn.figures.reshape(count, 5, *drawn.figures.shape[1:])
    parts = drawn_parts(case, arrays, build.cooler, speed_log, build.drive, z)
    names = _configurations(build, cells, coolers, steps)
    rise = _air(build, load, figures, parts, z) + own_rises(case, arrays, build.drive, figures, parts)
    temperature = case.room.temperature_c[:, None] + rise + _discrepancy(case.enclosure.code, names, z)[..., None]
    heats = load.drives_w, load.loss_w
    _, u = part_moments(case, arrays, build.cooler, speed_log, build.drive, cells.figures, heats)
    limit = limits_c(case, build.drive)[case.components.limit]
    noise = drawn_levels(case, _sources(build, load, cells, drawn, coolers, steps), names, z)
    airflow = drawn.quality[:, 5].reshape(count, 5)
    judged = np.where(arrays.noisy, case.brief.noise_target_dba - noise, np.inf)
    return Samples(
        temperature, noise, airflow, (limit - temperature - arrays.z * u).min(axis=(1, 2)), judged.min(axis=1),
        airflow.min(axis=1), z.names,
    )  # fmt: skip


def _standing(build: Build, load: Load, rows: np.ndarray) -> tuple[Cells, VariableHeat]:
    """Solve the best estimate at five rows, with the heat (5,) that shapes the flows of each."""
    case, shared = build.case, shared_air(build.case, build.supply, build.drive)
    nominal = class_heat(case, shared.drives)
    cells = solve_cells(case, build.fans, shared.supply, nominal, rows)
    own = swayed(cells, nominal, load.heat)
    if len(own):
        cells = patched(cells, own, solve_cells(case, build.fans, shared.supply, load.heat, rows[own]))
    is_own = np.isin(np.arange(5), own)
    return cells, VariableHeat(
        np.where(is_own, load.drives_w, nominal.drives), np.where(is_own, load.loss_w, nominal.loss)
    )


def _air(build: Build, load: Load, figures: np.ndarray, parts: DrawnParts, z: NamedDraws) -> np.ndarray:
    """Rise (count, 5, components) [K] of the air at every part over the room's."""
    drives = (load.drives_w * parts.drive_heat[:, None])[..., None]
    loss = (load.loss_w * np.exp(LOSS_U_REL * z[_loss(build)])[:, None])[..., None]
    return figures[..., AIR] + drives * figures[..., AIR + 1] + loss * figures[..., AIR + 2]


def _loss(build: Build) -> str:
    return f"supply/{build.supply.code}/loss"


def _draws(build: Build, cells: Cells, z: NamedDraws) -> Draws:
    """Lay out draws row by row, scenarios within draws; a fan that stalls in a scenario is less certain there."""
    parameters, parts, code = cells.movers.parameters, build.case.components, build.case.enclosure.code
    own = {"drives/heat": f"drive/{build.drive.code if build.drive else 'none'}/heat", "supply/loss": _loss(build)}
    standard = np.stack([z[own.get(name, name)] for name in parameters.names], axis=1)
    moved = standard[:, None, :] * row_sigma(cells.movers, cells.stalled)

    def by_part(kind: int, word: str, u: np.ndarray) -> np.ndarray:
        one = [
            u[c] * z[f"{code}/{word}/{name}"] if parts.kind[c] == kind else np.zeros(z.count)
            for c, name in enumerate(parts.names)
        ]
        return np.repeat(np.stack(one, axis=1), 5, axis=0)

    return Draws(
        moved.reshape(-1, moved.shape[2]),
        by_part(SEAT, "preheat", parts.kappa_u),
        by_part(CAGE, "warming", parts.warming_u),
    )


def _configurations(build: Build, cells: Cells, coolers: CoolerArrays, steps: np.ndarray) -> list[str]:
    """Name the configuration of every scenario: the parts and their speeds."""
    parts = [f"{opening.code}={fan.code}" for opening, fan in build.fans.mounts]
    parts += [build.cooler.code, build.supply.code, build.drive.code if build.drive else "none"]
    speeds = np.hstack([cells.rpm, coolers.steps[0].rpm[steps]])
    return [
        f"{build.case.enclosure.code}/{','.join(parts)}/{','.join(f'{rpm:.0f}' for rpm in row)}/{scenario.code}"
        for row, scenario in zip(speeds, SCENARIO_TABLE, strict=True)
    ]


def _discrepancy(enclosure: str, names: list[str], z: NamedDraws) -> np.ndarray:
    """What the model is off by (count, 5) [K]: for the enclosure, and for each configuration."""
    own = np.stack([z[f"model/{name}/k"] for name in names], axis=1)
    return DISCREPANCY_ENCLOSURE_K * z[f"model/{enclosure}/k"][:, None] + DISCREPANCY_CONFIGURATION_K * own


def _sources(
    build: Build, load: Load, cells: Cells, drawn: Cells, coolers: CoolerArrays, steps: np.ndarray
) -> list[Sounding]:
    case, named = build.case, build.case.named
    found = [
        Sounding(
            drawn.mount_energy[:, k].reshape(-1, 5),
            case.paths[mount.code],
            fan.code,
            fan.sound_u_db,
            cells.rpm[:, k],
            fan.sound,
        )
        for k, (mount, fan) in enumerate(build.fans.mounts)
    ]
    if build.cooler.max_rpm > 0:
        energy = coolers.energy[0][np.arange(5), steps][None]
        rpm = coolers.steps[0].rpm[steps, 0]
        path = case.paths[SEATED["processor"]]
        found.append(Sounding(energy, path, build.cooler.code, build.cooler.sound_u_db, rpm, build.cooler.sound))
    share = load.dc_w / build.supply.rating_w
    rest = rest_energies(
        case.paths, (build.supply, share), build.drive, case.drive_count, named.graphics, case.brief.graphics_count
    )
    for name, part in (("supply", build.supply), ("drives", build.drive), ("graphics", named.graphics)):
        if name in rest and part is not None:
            found.append(Sounding(rest[name][None], case.paths[SEATED[name]], part.code, part.sound_u_db, NO_SPEED))
    return found
