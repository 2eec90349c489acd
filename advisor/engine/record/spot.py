"""A build with all its settings judged, standing at one of them per scenario."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.case.settings import Steps, group_steps
from advisor.engine.judge.arrays import CaseArrays, case_arrays, limits_c
from advisor.engine.judge.cells import Cells
from advisor.engine.pipeline import Build, Load, Settings, load_of, settings_of
from advisor.engine.record.records import Speeds
from advisor.engine.scenarios import SCENARIO_TABLE

CODES = tuple(scenario.code for scenario in SCENARIO_TABLE)
GROUPS = ("intake", "exhaust", "cooler")


@dataclass(frozen=True)
class Spot:
    """A build, all its settings, and the row and cooler step it stands at in each scenario (5,)."""

    build: Build
    load: Load
    arrays: CaseArrays
    settings: Settings
    cooler_steps: Steps
    limits: np.ndarray
    rows: tuple[int, ...]
    steps: tuple[int, ...]

    def judged(self, s: int) -> bool:
        """Whether the noise target holds in a scenario."""
        return bool(self.arrays.noisy[s])

    def place(self, s: int) -> tuple[int, int, int]:
        """Steps of intake, exhaust and cooler in a scenario."""
        i, e = divmod(self.rows[s] % self.per, self.settings.cells.grid[1])
        return i, e, self.steps[s]

    @property
    def per(self) -> int:
        """Rows of one scenario."""
        return self.settings.cells.grid[0] * self.settings.cells.grid[1]

    def row(self, s: int, i: int, e: int) -> int:
        """Row of a scenario at steps of intake and exhaust."""
        return s * self.per + i * self.settings.cells.grid[1] + e

    def speeds(self, s: int, i: int, e: int, c: int) -> dict[str, Speeds]:
        """Speeds of every group at its step."""
        fans, cells, k = self.build.fans, self.settings.cells, self.row(s, i, e)
        split = len(fans.intake)
        cooler = self.build.cooler
        own = {cooler.code: float(self.cooler_steps.rpm[c, 0])} if cooler.max_rpm > 0 else {}
        sides = {}
        for name, mounts, rpm, steps in (
            ("intake", fans.intake, cells.rpm[k, :split], cells.steps[0]),
            ("exhaust", fans.exhaust, cells.rpm[k, split:], cells.steps[1]),
        ):
            by_model = {fan.code: float(v) for (_, fan), v in zip(mounts, rpm, strict=True)}
            counts = {fan.code: (0, 0.0) for _, fan in mounts}
            for opening, fan in mounts:
                counts[fan.code] = counts[fan.code][0] + opening.fan_count, fan.size_m
            most = max(counts, key=lambda code: (*counts[code], code), default="")
            sides[name] = Speeds(by_model.get(most), by_model, steps.manual)
        return sides | {"cooler": Speeds(own.get(cooler.code), own, self.cooler_steps.manual and bool(own))}

    def all_speeds(self) -> dict[str, dict[str, Speeds]]:
        """Speeds of every scenario at the chosen steps."""
        return {code: self.speeds(s, *self.place(s)) for s, code in enumerate(CODES)}


def spot_of(build: Build, rows: tuple[int, ...], steps: tuple[int, ...], solved: Cells | None = None) -> Spot:
    """Judge a build and stand at rows (5,) of its grid and steps (5,) of its cooler; ``solved`` as in the pipeline."""
    return Spot(
        build,
        load_of(build.case, build.supply, build.drive),
        case_arrays(build.case),
        settings_of(build, solved),
        group_steps((build.cooler,)),
        limits_c(build.case, build.drive),
        rows,
        steps,
    )
