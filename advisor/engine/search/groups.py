"""Candidates that share their fans and their air: in which order they are judged, and which of them need judging."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from advisor.engine.case.fans import FanSet
from advisor.engine.desirability import NOISE_MARGIN_DB
from advisor.engine.search.bounds import Bound, BoundInputs, FanTable, bound_fan_set, bound_inputs, fan_table
from advisor.engine.search.contest import Contest, log_ramps
from advisor.engine.search.space import Space

_SLIP = 1e-9  # rounding between a bound and what it bounds


@dataclass(frozen=True)
class Field:
    """A contest with the arrays that bound its candidates, one set of inputs per shared air."""

    contest: Contest
    table: FanTable
    inputs: tuple[BoundInputs, ...]
    pairs: tuple[np.ndarray, ...]

    @cached_property
    def quietest(self) -> np.ndarray:
        """Least weighted-noise logarithm bound (sets, pairs): every group at its quietest step, no stall."""
        bench = self.contest.bench
        fans = _least_energy(self.table)
        rest = np.array([load.rest_energy for load in bench.loads])
        energy = fans[:, None, :] + rest[None, :, :] + bench.coolers.energy.min(axis=(0, 2))[None, None, :]
        noisy = bench.arrays.noisy
        if not noisy.any():
            return np.zeros(energy.shape[:2])
        margin = 10.0 * np.log10(bench.arrays.target / np.maximum(energy[:, :, noisy], 1e-30)).min(axis=2)
        return self.contest.weights["noise"] * log_ramps(margin, *NOISE_MARGIN_DB)


def _least_energy(table: FanTable) -> np.ndarray:
    """Sound energy (sets, 5) of all fans at the quietest step of each group."""
    steps = table.energy.shape[3]
    beyond = np.arange(steps)[None, None, None, :] >= table.grid[:, :, None, None]
    return np.where(beyond, np.inf, table.energy).min(axis=3).sum(axis=1)


@dataclass(frozen=True)
class Group:
    """Candidates of one contest with one set of fans and one shared air."""

    field: Field
    contest: Contest
    index: int
    fans: FanSet
    air: int
    pairs: np.ndarray

    def static_bound(self, price: np.ndarray) -> np.ndarray:
        """Score (pairs of the group, coolers) with full headroom, the best path of the air and the quietest steps."""
        return self.contest.bounded(self.field.quietest[self.index][self.pairs][:, None], price)


def _field(space: Space, contest: Contest) -> Field:
    fitted = contest.fitted
    pairs = tuple(np.flatnonzero(fitted.air_of == k) for k in range(len(fitted.airs)))
    table = fan_table(fitted.case, space.fan_sets)
    inputs = tuple(bound_inputs(contest.bench, air, table, own) for air, own in zip(fitted.airs, pairs, strict=True))
    return Field(contest, table, inputs, pairs)


def groups(space: Space, ready: Sequence[Contest]) -> Iterator[Group]:
    """Yield all groups of all contests of a space."""
    for contest in ready:
        field = _field(space, contest)
        for index, fans in enumerate(space.fan_sets):
            for air, pairs in enumerate(field.pairs):
                yield Group(field, contest, index, fans, air, pairs)


def ordered_groups(space: Space, ready: Sequence[Contest]) -> list[Group]:
    """Return all groups, those first that could be best."""
    listed = list(groups(space, ready))
    best = [float(one.static_bound(one.contest.price(one.fans)[one.pairs]).max(initial=0.0)) for one in listed]
    return [listed[k] for k in np.argsort(-np.array(best), kind="stable")]


def promising_candidates(group: Group, wanted: np.ndarray, price: np.ndarray, edge: float) -> tuple[np.ndarray, int]:
    """Return which wanted candidates (pairs, coolers) could still reach ``edge``, and how many networks that took."""
    kept = np.zeros_like(wanted)
    mine = price[group.pairs]
    hopeful = wanted[group.pairs] & (group.static_bound(mine) >= edge - _SLIP)
    if not hopeful.any():
        return kept, 0
    bound = bound_group(group, hopeful.any(axis=1))
    kept[group.pairs] = hopeful & (group.contest.bounded(bound.best, mine) >= edge - _SLIP)
    return kept, bound.solved


def bound_group(group: Group, wanted: np.ndarray, misses: bool = False) -> Bound:
    """Bound the wanted pairs (of the group's own) of a group."""
    return bound_fan_set(group.field.inputs[group.air], group.field.table, group.index, wanted, misses)
