"""The front of a search: accepted builds that no other beats or equals in noise, headroom, spare places and price.

Noise and headroom are compared as they are kept, to a hundredth of a decibel and of a kelvin: finer differences are
far below any uncertainty. Of builds that are equal in all four the one whose id comes first stands for them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, fields
from typing import Any

import numpy as np

from advisor.engine.search.contest import candidate
from advisor.engine.search.groups import Group
from advisor.engine.search.outcome import Front
from advisor.engine.search.space import Space

FIGURE_DIGITS = 2
SCORE_DIGITS = 6
MOST_GATHERED = 20_000  # rows before those that are beaten go

# Columns of what is gathered: the four that are compared, each the less the better, and where the build is found.
NOISE, HEADROOM, PLACES, PRICE, SCORE, GROUP, PAIR, COOLER = range(8)
COMPARED = slice(NOISE, SCORE)

Row = tuple[Any, ...]


@dataclass
class Gathered:
    """Accepted builds of one enclosure as rows of numbers, until all are known."""

    groups: list[Group] = field(default_factory=list)
    rows: list[np.ndarray] = field(default_factory=list)
    count: int = 0

    def add(
        self, group: Group, pairs: np.ndarray, accepted: np.ndarray, figures: np.ndarray, score: np.ndarray
    ) -> None:
        """Take in some pairs of a group: which (pairs, coolers) are accepted, with their figures (..., 3) and score."""
        p, q = np.nonzero(accepted)
        if not len(p):
            return
        case = group.contest.bench.case
        rows = np.empty((len(p), 8))
        rows[:, NOISE] = np.round(case.brief.noise_target_dba - figures[p, q, 0], FIGURE_DIGITS)
        rows[:, HEADROOM] = -np.round(figures[p, q, 1], FIGURE_DIGITS)
        rows[:, PLACES] = case.brief.spare_bays - case.bays.free_places
        rows[:, PRICE] = group.price[pairs[p], q]
        rows[:, SCORE], rows[:, GROUP], rows[:, PAIR], rows[:, COOLER] = score[p, q], len(self.groups), pairs[p], q
        self.groups.append(group)
        self.rows.append(rows)
        self.count += len(rows)
        if self.count > MOST_GATHERED:
            self.rows, self.count = [self._unbeaten()], 0

    def front(self, space: Space) -> Front:
        """Return the front of the builds that were gathered in a space."""
        return _columns([_row(space, self.groups[int(one[GROUP])], one) for one in self._unbeaten()])

    def _unbeaten(self) -> np.ndarray:
        rows = np.concatenate([np.empty((0, 8)), *self.rows])
        return np.asarray(rows[unbeaten(rows[:, COMPARED])])


def merged(fronts: Iterable[Front]) -> Front:
    """Return the front of the builds of several, in whatever order they come."""
    rows = [row for front in fronts for row in front.rows()]
    costs = np.array([_costs(row) for row in rows]).reshape(-1, len(_COSTS))
    return _columns([rows[k] for k in np.flatnonzero(unbeaten(costs))])


def unbeaten(costs: np.ndarray) -> np.ndarray:
    """Return which rows (n,) are not as costly or more in every column than another; of equal rows all or none.

    >>> unbeaten(np.array([[1.0, 5.0], [2.0, 4.0], [2.0, 5.0], [2.0, 4.0]]))
    array([ True,  True, False,  True])
    """
    order = np.lexsort(costs.T[::-1])
    rows = costs[order]
    anew = np.ones(len(rows), dtype=bool)
    anew[1:] = (rows[1:] != rows[:-1]).any(axis=1)
    rows = rows[anew]
    left, stays = np.arange(len(rows)), np.zeros(len(rows), dtype=bool)
    # rows stand so that none is beaten by a later one: the first of those left stays
    while len(left):
        first, left = left[0], left[1:]
        stays[first] = True
        left = left[(rows[left] < rows[first]).any(axis=1)]
    found = np.empty(len(costs), dtype=bool)
    found[order] = stays[np.cumsum(anew) - 1]
    return found


def _row(space: Space, group: Group, one: np.ndarray) -> Row:
    """Return a gathered row as a row of a front."""
    build = candidate(space, group.contest, group.fans, int(one[PAIR]), int(one[COOLER]), float(one[PRICE]))
    figures = (float(one[NOISE]), -float(one[HEADROOM]), -int(one[PLACES]), build.price)
    return (*build.codes, build.drive_count, *figures, round(float(one[SCORE]), SCORE_DIGITS))


_NAMES = tuple(one.name for one in fields(Front))
_CODES = _NAMES.index("drive") + 1
_COSTS = ("noise_dba", "headroom_k", "spare_places", "price")
_noise, _headroom, _places, _price = (_NAMES.index(name) for name in _COSTS)


def _costs(row: Row) -> tuple[float, ...]:
    return row[_noise], -row[_headroom], -row[_places], row[_price]


def _columns(rows: Sequence[Row]) -> Front:
    """Return rows as columns, in order of noise; of those that are equal the first by id."""
    first: dict[tuple[float, ...], Row] = {}
    for row in sorted(rows, key=lambda row: "~".join(row[:_CODES]), reverse=True):
        first[_costs(row)] = row
    listed = [first[costs] for costs in sorted(first)]
    return Front(*zip(*listed, strict=True)) if listed else Front()
