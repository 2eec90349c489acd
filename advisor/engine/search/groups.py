"""Candidates that share their fans and their air: in which order they are judged, and which of them need judging."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from advisor.engine.case.fans import FanSet
from advisor.engine.desirability import NOISE_MARGIN_DB
from advisor.engine.judge.choice import NEVER
from advisor.engine.pipeline import SharedAir
from advisor.engine.search.bounds import Bound, BoundInputs, FanTable, bound_fan_set, bound_inputs, fan_table
from advisor.engine.search.contest import Contest, carried, log_ramps
from advisor.engine.search.group import Bench
from advisor.engine.search.space import Space

SLIP = 1e-9  # rounding between a bound and what it bounds


@dataclass(frozen=True)
class Air:
    """Pairs of a contest bounded on one air; ``exact`` where this is the air they are judged on."""

    bench: Bench
    table: FanTable
    shared: SharedAir
    pairs: np.ndarray
    exact: bool

    @cached_property
    def members(self) -> np.ndarray:
        """Which pairs of the contest (pairs,) have it."""
        found = np.zeros(len(self.bench.loads), dtype=bool)
        found[self.pairs] = True
        return found

    @cached_property
    def inputs(self) -> BoundInputs:
        """What bounding its pairs needs; pairs of a drive model are bounded together unless it is exact."""
        return bound_inputs(self.bench, self.shared, self.table, self.pairs, merge=not self.exact)


@dataclass(frozen=True)
class Field:
    """A contest with the arrays that bound its candidates: an air per supply air, and one per supply air and drive
    class.
    """

    contest: Contest
    fan_sets: tuple[FanSet, ...]
    table: FanTable
    coarse: tuple[Air, ...]
    fine: tuple[Air, ...]

    @cached_property
    def price(self) -> np.ndarray:
        """Price (sets, pairs, coolers) of every candidate."""
        return self.contest.prices(self.fan_sets)

    @cached_property
    def carried(self) -> tuple[np.ndarray, np.ndarray]:
        """Which candidates (sets, pairs, coolers) their supply carries, and which it starts."""
        return carried(self.contest, self.fan_sets)

    @cached_property
    def noise_margin(self) -> np.ndarray:
        """Best noise margin [dB] (sets, pairs, coolers): every group at its quietest step, no stall."""
        arrays, least = self.contest.bench.arrays, self.table.least_energy
        energy = np.zeros(self.price.shape)
        for s in np.flatnonzero(arrays.noisy):
            pairs = least[:, s, None] + self.rest[:, s]
            np.maximum(energy, pairs[:, :, None] + self.cooler_energy[:, s], out=energy)
        if not arrays.noisy.any():
            return np.full(energy.shape, np.inf)
        return np.asarray(10.0 * np.log10(arrays.target / np.maximum(energy, 1e-30)))

    @cached_property
    def sure(self) -> np.ndarray:
        """What of the score (sets, pairs, coolers) no setting changes, as ``Contest.sure`` has it."""
        return self.contest.sure(self.price)

    @cached_property
    def static_bound(self) -> np.ndarray:
        """Score (sets, pairs, coolers) with full headroom, the best path of the air and the quietest steps."""
        noise = self.contest.weights["noise"] * log_ramps(self.noise_margin, *NOISE_MARGIN_DB)
        return self.contest.desirability(noise + self.sure)

    @cached_property
    def rest(self) -> np.ndarray:
        """Sound energy (pairs, 5) of what no setting changes."""
        return np.array([load.rest_energy for load in self.contest.bench.loads])

    @cached_property
    def cooler_energy(self) -> np.ndarray:
        """Sound energy (coolers, 5) of every cooler at its quietest step."""
        return self.contest.bench.coolers.quietest


@dataclass(frozen=True)
class Group:
    """Candidates of one contest with one set of fans, bounded on one air."""

    field: Field
    index: int
    fans: FanSet
    air: Air

    @property
    def contest(self) -> Contest:
        """The contest it belongs to."""
        return self.field.contest

    @property
    def price(self) -> np.ndarray:
        """Price (pairs, coolers) of every candidate of the contest with these fans."""
        return self.field.price[self.index]

    @property
    def carried(self) -> np.ndarray:
        """Which candidates (pairs, coolers) of the group its supplies carry and start."""
        carries, starts = self.field.carried
        return carries[self.index] & starts[self.index] & self.members[:, None]

    @property
    def members(self) -> np.ndarray:
        """Which pairs of the contest (pairs,) it holds."""
        return self.air.members

    def parts(self) -> tuple[Group, ...]:
        """The groups that its candidates are judged in, each on its own air."""
        mine = set(self.air.pairs.tolist())
        fine = (air for air in self.field.fine if mine.issuperset(air.pairs.tolist()))
        return tuple(Group(self.field, self.index, self.fans, air) for air in fine)

    @property
    def noise_margin(self) -> np.ndarray:
        """Best noise margin [dB] (pairs, coolers) of its candidates; below 0 no setting meets the target."""
        return self.field.noise_margin[self.index]

    def quiet_settings(self, wanted: np.ndarray, louder: float = 1.0) -> np.ndarray:
        """Settings, in rising order, of at most ``louder`` times the target's energy for any wanted candidate.

        No fan is taken to stall.
        """
        bench, table, index = self.contest.bench, self.field.table, self.index
        pairs, coolers = wanted.any(axis=1), wanted.any(axis=0)
        other = self.field.rest[pairs].min(axis=0) + self.field.cooler_energy[coolers].min(axis=0)
        intake, exhaust = (table.energy[index, side, :, : table.grid[index, side]] for side in range(2))
        energy = (intake[:, :, None] + exhaust[:, None, :]).reshape(len(other), -1) + other[:, None]
        loud = bench.arrays.noisy[:, None] & (energy > louder * bench.arrays.target * (1.0 + SLIP))
        return np.flatnonzero(~loud)

    @property
    def static_bound(self) -> np.ndarray:
        """Score (pairs, coolers) with full headroom, the best path of the air and the quietest steps."""
        return self.field.static_bound[self.index]

    def bound(self, wanted: np.ndarray) -> tuple[np.ndarray, int]:
        """Best score (pairs, coolers) of wanted candidates, -1 where no setting can be met; networks solved for it."""
        found = self._bounds(wanted, False, 1.0)
        score = np.full(wanted.shape, -1.0)
        total = found.best + self.field.sure[self.index][self.air.pairs]
        score[self.air.pairs] = np.where(found.best > NEVER, self.contest.desirability(total), -1.0)
        return np.where(wanted, score, -1.0), found.solved

    def least_miss(self, wanted: np.ndarray, louder: float) -> tuple[np.ndarray, int]:
        """The least miss (pairs, coolers) that wanted candidates could have, infinite for the others; networks solved.

        Settings of more than ``louder`` times the target's energy are left out: what needs one may be told infinite.
        """
        found = self._bounds(wanted, True, louder)
        miss = np.full(wanted.shape, np.inf)
        miss[self.air.pairs] = found.miss
        return np.where(wanted, miss, np.inf), found.solved

    def _bounds(self, wanted: np.ndarray, misses: bool, louder: float) -> Bound:
        chosen = wanted[self.air.pairs].any(axis=1)
        return bound_fan_set(self.air.inputs, self.field.table, self.index, chosen, misses, louder)


def field_of(space: Space, contest: Contest) -> Field:
    """Lay out a contest for bounding."""
    fitted, bench = contest.fitted, contest.bench
    table = fan_table(fitted.case, space.fan_sets)
    fine = tuple(
        Air(bench, table, shared, np.flatnonzero(fitted.air_of == k), True) for k, shared in enumerate(fitted.airs)
    )
    supplies = dict.fromkeys(shared.supply for shared in fitted.airs)
    coarse = []
    for supply in supplies:
        alike = [one for one in fine if one.shared.supply == supply]
        pairs = np.sort(np.concatenate([one.pairs for one in alike]))
        coolest = min((one.shared for one in alike), key=lambda shared: shared.drives)
        coarse.append(Air(bench, table, coolest, pairs, False))
    return Field(contest, space.fan_sets, table, tuple(coarse), fine)


def groups(fields: Sequence[Field], exact: bool) -> Iterator[Group]:
    """Yield all groups of all contests of a space: those they are judged in (``exact``), or coarser ones that hold
    them.
    """
    for field in fields:
        for index, fans in enumerate(field.fan_sets):
            for air in field.fine if exact else field.coarse:
                yield Group(field, index, fans, air)
