"""All settings of one build, judged by plain numpy: what is chosen, what stands in the way, how far it is off."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import numpy as np

from advisor.engine import desirability
from advisor.engine.case.fans import FanSet
from advisor.engine.fit import ORDER, SCALES
from advisor.engine.inputs import Brief, Cooler
from advisor.engine.pipeline import Settings
from advisor.engine.scenarios import SCENARIO_TABLE

TIE = 1e-11
LIMIT_CODES = ORDER[ORDER.index("noise") + 1 : ORDER.index("no_common_setting")]


class Grid:
    """All settings of one build as a box (scenario, intake step, exhaust step, cooler step)."""

    def __init__(self, brief: Brief, fans: FanSet, cooler: Cooler, settings: Settings) -> None:
        groups = [[fan for _, fan in fans.intake], [fan for _, fan in fans.exhaust], [cooler]]
        self.manual = [any(fan.control == "switch" and fan.max_rpm > 0 for fan in group) for group in groups]
        self.shape = (*settings.cells.grid, settings.slack.shape[1])
        self.slack = settings.slack.reshape(5, *self.shape, len(LIMIT_CODES))
        self.level = 10 * np.log10(settings.energy).reshape(5, *self.shape)
        airflow = settings.airflow.reshape(5, *self.shape[:2], 1)
        self.airflow = np.broadcast_to(airflow, self.level.shape)
        self.noisy = [scenario.code in brief.noise_scenarios for scenario in SCENARIO_TABLE]
        self.target, self.weights = brief.noise_target_dba, desirability.weights_of(brief)

    def consistent(self) -> Iterator[tuple[slice, ...]]:
        """Parts of the box within which each scenario may choose freely: one step of every group on a switch."""
        free = [
            [slice(k, k + 1) for k in range(n)] if manual else [slice(None)]
            for n, manual in zip(self.shape, self.manual, strict=True)
        ]
        yield from product(*free)

    def scores(self, noise: np.ndarray, headroom: np.ndarray, airflow: np.ndarray, noisy: bool) -> np.ndarray:
        """Weighted sum of the logarithms of the criteria that settings change."""
        known = [("headroom", headroom, desirability.HEADROOM_K), ("airflow", airflow, desirability.AIRFLOW_SCORE)]
        if noisy:
            known.append(("noise", noise, desirability.NOISE_MARGIN_DB))
        total = np.zeros(np.shape(headroom))
        for name, value, (worst, best) in known:
            share = np.clip((value - worst) / (best - worst), 0, 1)
            total += self.weights[name] * np.log(desirability.FLOOR + (1 - desirability.FLOOR) * share)
        return total

    def best_choice(self) -> list[tuple[int, ...]] | None:
        """The setting of every scenario that is chosen, None where no consistent choice meets everything."""
        met = np.all(self.slack >= 0, axis=-1)
        for s in range(5):
            met[s] &= not self.noisy[s] or self.level[s] <= self.target
        choices = []
        for part in self.consistent():
            if all(met[s][part].any() for s in range(5)):
                choices.append([self._best_cell(s, met[s], part) for s in range(5)])
        if not choices:
            return None
        worst = [self.worst(choice) for choice in choices]
        scores = np.array([float(self.scores(*figures, any(self.noisy))) for figures in worst])
        loudness = [sum(10 ** (self.level[s][c[s]] / 10) for s in range(5) if self.noisy[s]) for c in choices]
        tied = np.flatnonzero(scores >= scores.max() - TIE)
        return choices[min(tied, key=lambda k: loudness[k])]

    def _best_cell(self, s: int, met: np.ndarray, part: tuple[slice, ...]) -> tuple[int, ...]:
        headroom = self.slack[s].min(axis=-1)
        score = self.scores(self.target - self.level[s], headroom, self.airflow[s], self.noisy[s])
        inside = np.zeros(self.shape, dtype=bool)
        inside[part] = True
        score[~(met & inside)] = -np.inf
        level = np.where(score >= score.max() - TIE, self.level[s], np.inf)
        return tuple(int(k) for k in np.unravel_index(np.argmin(level), self.shape))

    def worst(self, choice: list[tuple[int, ...]]) -> tuple[float, float, float]:
        """Noise margin [dB], headroom [K] and airflow score in the scenario that is worst for each."""
        margins = [self.target - self.level[s][cell] for s, cell in enumerate(choice) if self.noisy[s]]
        return (
            float(min(margins, default=np.inf)),
            float(min(self.slack[s][cell].min() for s, cell in enumerate(choice))),
            float(min(self.airflow[s][cell] for s, cell in enumerate(choice))),
        )

    def criteria(self, choice: list[tuple[int, ...]]) -> dict[str, float]:
        ends = (desirability.NOISE_MARGIN_DB, desirability.HEADROOM_K, desirability.AIRFLOW_SCORE)
        names = ("noise", "headroom", "airflow")
        return {name: desirability.ramp(v, *e) for name, v, e in zip(names, self.worst(choice), ends, strict=True)}

    def row_and_step(self, s: int, cell: tuple[int, ...]) -> tuple[int, int]:
        i, e, c = cell
        return (s * self.shape[0] + i) * self.shape[1] + e, c

    def first_failure(self) -> str:
        """The first requirement that cannot be met even alone; if each can, they have no setting in common."""
        quiet = [self.level[s] <= self.target if self.noisy[s] else np.ones(self.shape, bool) for s in range(5)]
        if not self._can(quiet):
            return "noise"
        for k, code in enumerate(LIMIT_CODES):
            if not self._can([self.slack[s][..., k] >= 0 for s in range(5)]):
                return code
        return "no_common_setting"

    def _can(self, met: list[np.ndarray]) -> bool:
        return any(all(met[s][part].any() for s in range(5)) for part in self.consistent())

    def offence(self) -> np.ndarray:
        """How far every setting is off, in scales of noise and temperature; 0 or less where it meets all."""
        off = np.max(-self.slack, axis=-1) / SCALES["processor_limit"][0]
        for s in range(5):
            if self.noisy[s]:
                off[s] = np.maximum(off[s], (self.level[s] - self.target) / SCALES["noise"][0])
        return off

    def least_miss(self) -> float:
        """The least, over consistent settings, of the worst scenario's offence."""
        off = self.offence()
        return float(min(max(off[s][part].min() for s in range(5)) for part in self.consistent()))
