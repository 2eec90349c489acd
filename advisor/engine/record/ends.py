"""The two ends of what a build can do within its limits: as quiet as it gets, and as cool as it gets."""

from __future__ import annotations

import numpy as np

from advisor.engine.noise.levels import level
from advisor.engine.record.records import End
from advisor.engine.record.spot import CODES, Spot


def ends(spot: Spot) -> dict[str, End]:
    """Return ``quietest`` and ``coolest`` by the settings that meet all limits; empty where none does."""
    energy, slack = grids(spot)
    met = slack >= 0
    for s in range(len(CODES)):
        if spot.judged(s):
            met[s] &= energy[s] <= spot.arrays.target
    quiet = _pick(spot, np.where(met, energy, np.inf), np.where(met, -slack, np.inf), loudest_judged=True)
    cool = _pick(spot, np.where(met, -slack, np.inf), np.where(met, energy, np.inf), loudest_judged=False)
    if quiet is None or cool is None:
        return {}
    return {"quietest": _end(spot, quiet, energy, slack), "coolest": _end(spot, cool, energy, slack)}


def grids(spot: Spot) -> tuple[np.ndarray, np.ndarray]:
    """Sound energy and least slack [K] of every setting: (5, intake steps, exhaust steps, cooler steps)."""
    shape = (len(CODES), *spot.settings.cells.grid, len(spot.cooler_steps))
    return spot.settings.energy.reshape(shape), spot.settings.slack.min(axis=2).reshape(shape)


def _pick(spot: Spot, cost: np.ndarray, second: np.ndarray, loudest_judged: bool) -> list[tuple[int, int, int]] | None:
    """Return the steps per scenario of least cost, then least second cost; a group on a switch keeps one step in all.

    Over scenarios the largest cost counts: of those in which noise is judged, or of all.
    """
    manual = (*(steps.manual for steps in spot.settings.cells.steps), spot.cooler_steps.manual)
    free = tuple(axis for axis, is_manual in enumerate(manual) if not is_manual)
    by_switch = cost.min(axis=tuple(axis + 1 for axis in free), keepdims=True)
    counted = [s for s in range(len(CODES)) if spot.judged(s)] if loudest_judged else list(range(len(CODES)))
    worst = by_switch[counted].max(axis=0)
    worst = np.where(np.isinf(by_switch.max(axis=0)), np.inf, worst)
    if not np.isfinite(worst).any():
        return None
    switched = np.unravel_index(int(np.argmin(worst)), worst.shape)
    keep = tuple(
        slice(at, at + 1) if is_manual else slice(None) for at, is_manual in zip(switched, manual, strict=True)
    )
    return [_least(cost[s][keep], second[s][keep], keep) for s in range(len(CODES))]


def _least(cost: np.ndarray, second: np.ndarray, keep: tuple[slice, ...]) -> tuple[int, int, int]:
    equal = cost <= cost.min() + 1e-12 * abs(cost.min())
    at = np.unravel_index(int(np.argmin(np.where(equal, second, np.inf))), cost.shape)
    i, e, c = (int(step) + (part.start or 0) for step, part in zip(at, keep, strict=True))
    return i, e, c


def _end(spot: Spot, steps: list[tuple[int, int, int]], energy: np.ndarray, slack: np.ndarray) -> End:
    judged = [float(energy[s][at]) for s, at in enumerate(steps) if spot.judged(s)]
    return End(
        {code: spot.speeds(s, *steps[s]) for s, code in enumerate(CODES)},
        float(level(max(judged))),
        float(min(slack[s][at] for s, at in enumerate(steps))),
    )
