"""Judging all candidates of one case that share a set of fans."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from advisor.engine.case.case import Case
from advisor.engine.case.fans import FanSet
from advisor.engine.desirability import weights_of
from advisor.engine.inputs import Cooler, Drive
from advisor.engine.judge.arrays import CaseArrays, CoolerArrays, case_arrays, cooler_arrays
from advisor.engine.judge.choice import MISS_DB, MISS_K, SCENARIO_COUNT, choose, cooler_rows, misses, row_bounds
from advisor.engine.judge.reasons import first_failures
from advisor.engine.judge.slacks import PROCESSOR
from advisor.engine.pipeline import Load, Pairs, SharedAir, slacks
from advisor.engine.search.least_rises import least_rises
from advisor.engine.search.rows import shared_rows
from advisor.engine.thermal.temperatures import PASSING


@dataclass(frozen=True)
class Bench:
    """What judging a case needs for every set of fans: its arrays, coolers, pairs of drive and supply, and weights."""

    case: Case
    arrays: CaseArrays
    coolers: CoolerArrays
    drives: tuple[Drive | None, ...]
    model_of: np.ndarray
    loads: tuple[Load, ...]
    weights: np.ndarray

    @cached_property
    def least_rises(self) -> np.ndarray:
        """Own rises (models, 5, SPEEDS) of all drive models; see ``least_rises``."""
        return least_rises(self.arrays, self.drives)


def bench_of(
    case: Case,
    coolers: tuple[Cooler, ...],
    drives: tuple[Drive | None, ...],
    model_of: np.ndarray,
    loads: tuple[Load, ...],
) -> Bench:
    """Collect what is the same for all sets of fans of a case."""
    weights = weights_of(case.brief)
    return Bench(
        case, case_arrays(case), cooler_arrays(case, coolers), drives, model_of, loads,
        np.array([weights["noise"], weights["headroom"], weights["airflow"]]),
    )  # fmt: skip


@dataclass(frozen=True)
class Verdict:
    """Candidates (pairs, coolers): chosen rows and steps (..., 5; -1 where none), worst figures (..., 3)."""

    rows: np.ndarray
    steps: np.ndarray
    figures: np.ndarray

    @property
    def accepted(self) -> np.ndarray:
        """Which candidates have a setting in every scenario."""
        return self.rows[:, :, 0] >= 0


@dataclass(frozen=True)
class Sheet:
    """Arrays of some pairs over rows of air; ``at`` (pairs, settings) says which row each pair's setting is, -1 for one
    left out.

    ``slack`` and ``air`` (pairs, rows, ...), ``energy`` and ``airflow`` (rows,), ``factor``, ``slope`` and ``decade``
    (coolers, rows); ``solved`` counts the networks they took.
    """

    pairs: np.ndarray
    at: np.ndarray
    slack: np.ndarray
    air: np.ndarray
    energy: np.ndarray
    rest: np.ndarray
    airflow: np.ndarray
    factor: np.ndarray
    slope: np.ndarray
    decade: np.ndarray
    grid: np.ndarray
    manual: np.ndarray

    @property
    def solved(self) -> int:
        """Number of networks solved."""
        return len(self.energy)


def sheet_of(
    bench: Bench, fans: FanSet, shared: SharedAir, pairs: np.ndarray, settings: np.ndarray | None = None
) -> Sheet:
    """Solve the air that pairs (sorted, all of one shared air) have with a set of fans, and lay them out on it.

    ``settings`` are those to solve, in rising order; all where none are given.
    """
    case, coolers = bench.case, bench.coolers
    models, model_of = np.unique(bench.model_of[pairs], return_inverse=True)
    listed = Pairs(tuple(bench.drives[m] for m in models), model_of, tuple(bench.loads[p] for p in pairs))
    rows = shared_rows(case, fans, shared, listed, settings)
    figures, scenario, cells = rows.joined("figures"), rows.joined("scenario"), rows.cells
    slack, air = slacks(case, bench.arrays, figures, scenario, rows.users, listed)
    factor, slope, decade = (np.empty((len(coolers.count), len(scenario))) for _ in range(3))
    passing = figures[:, 0, PASSING].copy()
    cooler_rows(passing, coolers.flow_exponent, case.room.density, scenario, factor, slope, decade)
    return Sheet(
        pairs, rows.at, slack, air, rows.joined("mount_energy").sum(axis=1), listed.stacked("rest_energy"),
        rows.joined("quality")[:, 5].copy(), factor, slope, decade,
        np.array(cells.grid), np.array([step.manual for step in cells.steps]),
    )  # fmt: skip


def choose_settings(bench: Bench, sheet: Sheet, wanted: np.ndarray) -> Verdict:
    """Choose the best setting of every wanted candidate (pairs of the sheet, coolers)."""
    pairs, n = sheet.at.shape
    per = n // SCENARIO_COUNT
    a, c = bench.arrays, bench.coolers
    bound, least = np.empty((pairs, n)), np.empty((pairs, n))
    row_bounds(
        sheet.at, sheet.slack, sheet.energy, sheet.rest, a.target, sheet.airflow, a.noisy, bench.weights, least, bound
    )
    order = np.argsort(-bound.reshape(pairs, SCENARIO_COUNT, per), axis=2, kind="stable")
    order += (np.arange(SCENARIO_COUNT) * per)[None, :, None]
    rows = np.full((pairs, len(c.count), SCENARIO_COUNT), -1)
    steps, figures = np.zeros_like(rows), np.zeros((pairs, len(c.count), 3))
    choose(
        wanted, sheet.grid, sheet.manual, sheet.at, order, bound, least, sheet.energy, sheet.rest, a.target,
        sheet.airflow, a.noisy, bench.weights, sheet.air, a.processor_watts, a.processor, c.figures, c.count,
        c.manual, c.speed_log, c.speed_factor, c.energy, sheet.factor, sheet.slope, sheet.decade, a.processor_room,
        a.z, rows, steps, figures,
    )  # fmt: skip
    return Verdict(rows, steps, figures)


def _common(bench: Bench, sheet: Sheet) -> tuple:
    a, c = bench.arrays, bench.coolers
    return (
        sheet.grid, sheet.manual, sheet.at, sheet.slack, sheet.energy, sheet.rest, a.target, a.noisy, sheet.air,
        a.processor_watts,
        a.processor, c.figures, c.count, c.manual, c.speed_log, c.speed_factor, c.energy, sheet.factor, sheet.slope,
        sheet.decade, a.processor_room, a.z,
    )  # fmt: skip


def reasons(bench: Bench, sheet: Sheet, wanted: np.ndarray) -> np.ndarray:
    """Return (pairs, coolers) the first requirement that each wanted candidate cannot meet; see ``judge.reasons``."""
    reason = np.full(wanted.shape, -1)
    first_failures(wanted, *_common(bench, sheet), reason)
    return reason


def least_misses(bench: Bench, sheet: Sheet, wanted: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return (pairs, coolers) the least miss of each wanted candidate with the rows and steps (..., 5) of it."""
    miss = np.full(wanted.shape, np.inf)
    rows = np.full((*wanted.shape, SCENARIO_COUNT), -1)
    steps = np.zeros_like(rows)
    misses(wanted, *_common(bench, sheet), miss, rows, steps)
    return miss, rows, steps


def least_of_pairs(bench: Bench, sheet: Sheet) -> np.ndarray:
    """Return (pairs,) no more than the miss of any candidate of each pair: all parts but the processor, any cooler's
    sound.
    """
    a, (pairs, n) = bench.arrays, sheet.at.shape
    slack = np.delete(sheet.slack, PROCESSOR, axis=2)[np.arange(pairs)[:, None], sheet.at]
    off = -slack.min(axis=2) / MISS_K
    scenario = np.arange(n) // (n // SCENARIO_COUNT)
    level = sheet.energy[sheet.at] + sheet.rest[:, scenario] + bench.coolers.quietest.min(axis=0)[scenario]
    loud = 10.0 * np.log10(np.maximum(level, 1e-30) / a.target) / MISS_DB
    off = np.maximum(off, np.where(a.noisy[scenario], loud, -np.inf))
    off = np.where(sheet.at < 0, np.inf, off)
    return off.reshape(len(off), SCENARIO_COUNT, -1).min(axis=2).max(axis=1)
