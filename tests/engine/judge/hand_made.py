"""One candidate whose every figure is written by hand: 5 scenarios, some steps of intake, exhaust and cooler."""

from dataclasses import dataclass

import numpy as np

from advisor.engine.case.settings import Steps
from advisor.engine.judge.arrays import CaseArrays, CoolerArrays
from advisor.engine.judge.choice import SCENARIO_COUNT
from advisor.engine.judge.slacks import LIMIT_COUNT, PROCESSOR
from advisor.engine.search.group import Bench, Sheet

NOISY = (True, True, False, False, False)
TARGET_DBA = 30.0


@dataclass(frozen=True)
class HandMade:
    """A bench and a sheet for one candidate, as the search lays them out."""

    bench: Bench
    sheet: Sheet


def hand_made(
    level,
    slack,
    airflow=0.9,
    processor=50.0,
    limit=2,
    cooler_gain=(0.0,),
    cooler_level=(-np.inf,),
    manual=(False, False, False),
    noisy=NOISY,
    weights=(3.0, 3.0, 1.0),
):
    """Lay out one candidate.

    ``level`` [dBA], ``slack`` of the part ``limit`` and ``processor``, its slack under the cooler at gain 0 [K], and
    ``airflow`` are spread to (5, intake steps, exhaust steps); each step of the cooler adds ``cooler_gain`` [K] and
    sounds at ``cooler_level`` [dBA].
    """
    grid = np.broadcast_shapes(*(np.shape(one) for one in (level, slack, airflow, processor)), (SCENARIO_COUNT, 1, 1))
    level, slack, airflow, processor = (
        np.broadcast_to(one, grid).ravel() for one in (level, slack, airflow, processor)
    )
    n, steps = level.size, len(cooler_gain)
    slacks = np.full((1, n, LIMIT_COUNT), np.inf)
    slacks[0, :, limit] = slack
    air = np.zeros((1, n, 6))
    air[0, :, PROCESSOR] = 100.0 - processor
    still = np.zeros((1, n))
    sheet = Sheet(
        np.array([0]), np.arange(n)[None, :], slacks, air, 10 ** (level / 10), np.zeros((1, 5)), airflow.astype(float),
        still + 1.0, still, still, np.array(grid[1:]), np.array(manual[:2]),
    )  # fmt: skip
    # A processor of 1 W with a resistance of minus its gain, known for certain: each step moves its slack by the gain.
    coolers = CoolerArrays(
        np.array([[0.0, 1.0, 0.0, 0.0, 0.0]]), np.zeros(1), np.array([steps]), np.array([manual[2]]),
        np.zeros((1, steps)), -np.array([cooler_gain]), np.tile(10 ** (np.array(cooler_level) / 10), (1, 5, 1)),
        (Steps(np.zeros((steps, 1)), manual[2]),),
    )  # fmt: skip
    arrays = CaseArrays(
        np.zeros(10), np.zeros((1, 3)), np.zeros((5, 5)), np.zeros(3), np.ones(5), np.full(5, 100.0), np.array(noisy),
        10 ** (TARGET_DBA / 10), 0.0, 0.0,
    )  # fmt: skip
    return HandMade(Bench(None, arrays, coolers, (None,), np.zeros(1, dtype=int), (), np.array(weights)), sheet)


def by_scenario(*figures):
    """Five figures as (5, 1, 1)."""
    return np.array(figures, dtype=float).reshape(SCENARIO_COUNT, 1, 1)


def by_intake(*figures):
    """Figures of the intake's steps as (1, steps, 1), the same in every scenario."""
    return np.array(figures, dtype=float).reshape(1, -1, 1)


def by_exhaust(*figures):
    """Figures of the exhaust's steps as (1, 1, steps), the same in every scenario."""
    return np.array(figures, dtype=float).reshape(1, 1, -1)
