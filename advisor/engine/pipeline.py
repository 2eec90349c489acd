"""The order of calculation for builds: read this first.

1. ``case.case.prepare``   one enclosure under one brief: network, heat, components, ways of sound
2. ``load_of``             what a drive model and a supply bring: heat, loss, sound
3. ``judge.cells``         the air of every fan setting: flows, the path of the air, air at every component
4. ``judge.slacks``        how far every part stays below its limit
5. ``judge.choice``        the best setting per scenario, or what stands in its way

The loop between areas (warm air changes flow) sits in step 3. Candidates that share their fans share step 3.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.case.case import Case, VariableHeat, class_heat
from advisor.engine.case.fans import FanSet, SupplyAir, supply_air
from advisor.engine.case.heat import drive_class, drives_w
from advisor.engine.case.sound import rest_energy
from advisor.engine.inputs import Cooler, Drive, Supply
from advisor.engine.judge.arrays import CaseArrays, case_arrays, cooler_arrays, drive_arrays, limits_c
from advisor.engine.judge.cells import Cells, patched, solve_cells, swayed
from advisor.engine.judge.choice import cooler_rows, processor_slacks
from advisor.engine.judge.slacks import LIMIT_COUNT, PROCESSOR, PROCESSOR_AIR, drive_own_rises, part_slacks
from advisor.engine.power.supply import wall_power
from advisor.engine.thermal.temperatures import PASSING

# Case fans draw little and every setting another amount; the supply's load counts this much for each [W].
NOMINAL_FAN_W = 1.0


@dataclass(frozen=True)
class Load:
    """What a drive model and a supply bring, per scenario (5,): load and loss [W], heat of drives [W], sound energy."""

    dc_w: np.ndarray
    loss_w: np.ndarray
    drives_w: np.ndarray
    rest_energy: np.ndarray

    @property
    def heat(self) -> VariableHeat:
        """Heat of drives and supply in the form that shapes flows."""
        return VariableHeat(self.drives_w, self.loss_w)


def load_of(case: Case, supply: Supply, drive: Drive | None) -> Load:
    """Return heat, loss and sound that no choice of fans changes."""
    count = case.drive_count if drive else 0
    drives = drives_w(drive.idle_w, drive.seek_w, count) if drive else np.zeros(5)
    places = sum(opening.fan_count for opening in case.enclosure.openings)
    dc = case.heat.steady_w + drives + NOMINAL_FAN_W * places
    wall = wall_power(supply, dc)
    sound = rest_energy(case.paths, (supply, wall.share), drive, count, case.named.graphics, case.brief.graphics_count)
    return Load(dc, wall.loss_w, drives, sound)


@dataclass(frozen=True)
class SharedAir:
    """What candidates with the same fans must have in common to share their air: the supply's air and the drives'
    class.
    """

    supply: SupplyAir
    drives: tuple[float, float]


def shared_air(case: Case, supply: Supply, drive: Drive | None) -> SharedAir:
    """Return with which candidates one shares its air."""
    drives = drive_class(drive.idle_w, drive.seek_w) if drive else (0.0, 0.0)
    return SharedAir(supply_air(supply, case.heat.steady_w + class_heat(case, drives).drives), drives)


def solve_air(case: Case, fans: FanSet, shared: SharedAir, rows: np.ndarray | None = None) -> Cells:
    """Solve the air of every setting, or of those that ``rows`` name, for all candidates that share fans and air."""
    return solve_cells(case, fans, shared.supply, class_heat(case, shared.drives), rows)


def own_air(case: Case, fans: FanSet, shared: SharedAir, cells: Cells, load: Load) -> Cells:
    """Return the air of one candidate: shared rows, and rows that its own heat sways solved with that heat."""
    rows = swayed(cells, class_heat(case, shared.drives), load.heat)
    if not len(rows):
        return cells
    return patched(cells, rows, solve_cells(case, fans, shared.supply, load.heat, rows))


@dataclass(frozen=True)
class Pairs:
    """Drive models with supplies: their loads and limits, and which model each has; sorted by model."""

    drives: tuple[Drive | None, ...]
    model_of: np.ndarray
    loads: tuple[Load, ...]

    def stacked(self, name: str) -> np.ndarray:
        """One figure of all loads (pairs, 5)."""
        return np.array([getattr(load, name) for load in self.loads])

    @property
    def heat(self) -> VariableHeat:
        """Heat of drives and supply of every pair (pairs, 5)."""
        return VariableHeat(self.stacked("drives_w"), self.stacked("loss_w"))


def slacks(
    case: Case, arrays: CaseArrays, figures: np.ndarray, scenario: np.ndarray, users: np.ndarray, pairs: Pairs
) -> tuple[np.ndarray, np.ndarray]:
    """Return slack (pairs, n, limits) of all parts but the processor, and the processor's air (pairs, n, 6).

    ``figures`` (n, components, FIGURES) and ``scenario`` (n,) are those of rows of ``judge.cells``. A row counts for
    the pairs from ``users[:, 0]`` up to but without ``users[:, 1]``; what others have on it stays unfilled.
    """
    parts, models, n, count = case.components, drive_arrays(pairs.drives), len(scenario), len(pairs.loads)
    own = np.zeros((len(pairs.drives), n, len(parts.names), 3))
    used = np.stack([pairs.model_of[users[:, 0]], pairs.model_of[users[:, 1] - 1] + 1], axis=1)
    drive_own_rises(
        figures, scenario, used, parts.limit, parts.kind, parts.cross_m2, models.watts, models.surface,
        models.length, models.height, arrays.film, own,
    )  # fmt: skip
    slack, air = np.empty((count, n, LIMIT_COUNT)), np.empty((count, n, PROCESSOR_AIR))
    limits, heat = np.array([limits_c(case, drive) for drive in pairs.drives])[pairs.model_of], pairs.heat
    part_slacks(
        figures, scenario, users, parts.limit, parts.cross_m2, own, arrays.graphics, arrays.cooled,
        case.room.temperature_c, case.room.density, arrays.heat_u, arrays.z, pairs.model_of, heat.drives, heat.loss,
        limits, slack, air,
    )  # fmt: skip
    return slack, air


@dataclass(frozen=True)
class Build:
    """One candidate: a case with its fans, cooler, supply and drive model."""

    case: Case
    fans: FanSet
    cooler: Cooler
    supply: Supply
    drive: Drive | None


@dataclass(frozen=True)
class Settings:
    """Every setting of one build: slack (n, cooler steps, limits) [K], sound energy (n, cooler steps), airflow score
    (n,).
    """

    cells: Cells
    slack: np.ndarray
    energy: np.ndarray
    airflow: np.ndarray


def settings_of(build: Build, solved: Cells | None = None) -> Settings:
    """Judge one build at every setting of its grid, without leaving any out.

    ``solved`` is the air from ``solve_air`` where it is known from a build that shares it.
    """
    case, arrays = build.case, case_arrays(build.case)
    load, shared = load_of(case, build.supply, build.drive), shared_air(case, build.supply, build.drive)
    cells = own_air(case, build.fans, shared, solved or solve_air(case, build.fans, shared), load)
    pairs = Pairs((build.drive,), np.zeros(1, dtype=np.int64), (load,))
    cooler, n = cooler_arrays(case, (build.cooler,)), len(cells.scenario)
    others, air = slacks(case, arrays, cells.figures, cells.scenario, np.tile([0, 1], (n, 1)), pairs)
    steps = len(cooler.steps[0])
    factor, slope, decade = (np.empty((1, n)) for _ in range(3))
    passing = cells.figures[:, 0, PASSING]
    cooler_rows(passing, cooler.flow_exponent, case.room.density, cells.scenario, factor, slope, decade)
    slack = np.repeat(others[0][:, None, :], steps, axis=1)
    processor_slacks(
        air[0], cells.scenario, arrays.processor_watts, arrays.processor, cooler.figures[0], cooler.speed_log[0],
        cooler.speed_factor[0], factor[0], slope[0], decade[0], arrays.processor_room, arrays.z, slack[:, :, PROCESSOR],
    )  # fmt: skip
    fan_energy = cells.mount_energy.sum(axis=1) + load.rest_energy[cells.scenario]
    energy = fan_energy[:, None] + cooler.energy[0][cells.scenario, :steps]
    return Settings(cells, slack, energy, cells.quality[:, 5])
