"""The air of candidates that share their fans: rows that all count on, and rows that one pair's own heat sways."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.case.case import Case, class_heat
from advisor.engine.case.fans import FanSet
from advisor.engine.judge.cells import Cells, solve_cells, swayed_by_each
from advisor.engine.judge.choice import SCENARIO_COUNT
from advisor.engine.pipeline import Pairs, SharedAir, solve_air


@dataclass(frozen=True)
class Rows:
    """Rows of air that several pairs count on: those they share, and each pair's that its own heat sways.

    ``cells`` are the shared rows (n), ``own`` the others, if any; behind one another they make N rows. ``users`` (N, 2)
    are the first pair that counts on a row and the one after the last; ``at`` (pairs, settings) says where each pair
    finds its row of every setting, -1 where none was solved.
    """

    cells: Cells
    own: Cells | None
    users: np.ndarray
    at: np.ndarray

    def joined(self, name: str) -> np.ndarray:
        """One figure of all rows."""
        parts = [self.cells] if self.own is None else [self.cells, self.own]
        return np.concatenate([getattr(part, name) for part in parts])


def shared_rows(case: Case, fans: FanSet, shared: SharedAir, pairs: Pairs, settings: np.ndarray | None = None) -> Rows:
    """Solve the air that several pairs share, and then, in one go, the rows that own heat sways.

    ``settings`` are those to solve, in rising order; all where none are given.
    """
    cells = solve_air(case, fans, shared, settings)
    n, count, heat = len(cells.scenario), len(pairs.loads), pairs.heat
    solved = np.arange(n) if settings is None else settings
    owner, row = np.nonzero(swayed_by_each(cells, class_heat(case, shared.drives), heat))
    at = np.full((count, SCENARIO_COUNT * cells.grid[0] * cells.grid[1]), -1)
    at[:, solved] = np.arange(n)
    at[owner, solved[row]] = n + np.arange(len(row))
    users = np.concatenate([np.tile([0, count], (n, 1)), np.stack([owner, owner + 1], axis=1)])
    own = solve_cells(case, fans, shared.supply, heat, solved[row], whose=owner) if len(row) else None
    return Rows(cells, own, users, at)
