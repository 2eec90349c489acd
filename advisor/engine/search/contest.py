"""A case in the search: what is the same for all its sets of fans, and how its candidates are scored and named."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.engine.case.fans import FanSet
from advisor.engine.desirability import (
    AIRFLOW_SCORE,
    CRITERIA,
    FLOOR,
    HEADROOM_K,
    NOISE_MARGIN_DB,
    SERVICE_SCORE,
    SPARE_BAYS,
    price_ends,
    ramp,
    service_score,
    weights_of,
)
from advisor.engine.fit import ORDER
from advisor.engine.inputs import Brief
from advisor.engine.search.fitting import Fitted, Misfits
from advisor.engine.search.group import Bench, Verdict, bench_of
from advisor.engine.search.outcome import Candidate, Scored
from advisor.engine.search.space import Space

# Codes by the numbers of ``judge.reasons``.
SETTING_CODES = ORDER[ORDER.index("noise") :]
PRICE_DIGITS = 6


@dataclass(frozen=True)
class Contest:
    """One case in the search: fitted pairs, judging bench, and what of the desirability no setting changes."""

    fitted: Fitted
    bench: Bench
    coolers: np.ndarray
    cooler_price: np.ndarray
    cooler_power: np.ndarray
    supply_price: np.ndarray
    fixed: dict[str, float]
    weights: dict[str, float]
    dear: float
    cheap: float

    def prices(self, fan_sets: Sequence[FanSet]) -> np.ndarray:
        """Price (sets, pairs, coolers) of every candidate; sums are rid of what adding floats leaves."""
        f = self.fitted
        fans = np.array([one.price for one in fan_sets])[:, None]
        pairs = f.fixed_price + fans + f.drive_price + self.supply_price
        return np.round(pairs[:, :, None] + self.cooler_price, PRICE_DIGITS)

    def score(self, figures: np.ndarray, price: np.ndarray) -> np.ndarray:
        """Desirability of candidates from their figures (..., 3) and price (...)."""
        w, ends = self.weights, (NOISE_MARGIN_DB, HEADROOM_K, AIRFLOW_SCORE)
        names = ("noise", "headroom", "airflow")
        judged = np.sum([w[name] * log_ramps(figures[..., k], *ends[k]) for k, name in enumerate(names)], axis=0)
        return self.bounded(judged, price)

    def bounded(self, judged: np.ndarray, price: np.ndarray) -> np.ndarray:
        """Desirability from the weighted logarithms of noise, headroom and airflow together, and price."""
        return self.desirability(judged + self.sure(price))

    def sure(self, price: np.ndarray) -> np.ndarray:
        """Weighted logarithms of what no setting changes: price, bays and service together."""
        w = self.weights
        fixed = sum(w[name] * np.log(value) for name, value in self.fixed.items())
        return np.asarray(w["price"] * log_ramps(price, self.dear, self.cheap) + fixed)

    def desirability(self, total: np.ndarray) -> np.ndarray:
        """Desirability from the weighted logarithms of all criteria together."""
        return np.asarray(np.exp(np.maximum(total / sum(self.weights.values()), -700.0)))


def log_ramps(value: np.ndarray, worst: float, best: float) -> np.ndarray:
    """Natural logarithm of ``desirability.ramp`` for arrays."""
    share = np.clip((value - worst) / (best - worst), 0.0, 1.0)
    return np.log(FLOOR + (1.0 - FLOOR) * share)


def contests(brief: Brief, space: Space, found: Misfits, cases: list[Fitted]) -> list[Contest]:
    """Prepare the cases of a space for judging."""
    fitting = np.array([k for k, misfit in enumerate(found.coolers) if misfit is None], dtype=int)
    if not len(fitting) or not space.fan_sets:
        return []
    coolers = tuple(space.coolers[k] for k in fitting)
    ready = []
    for fitted in cases:
        if not len(fitted.drive):
            continue
        models = sorted(set(fitted.drive.tolist()))
        model_of = np.array([models.index(d) for d in fitted.drive])
        case = fitted.case
        dear, cheap = price_ends(brief, case.drive_count)
        ready.append(
            Contest(
                fitted,
                bench_of(case, coolers, tuple(space.drives[d] for d in models), model_of, fitted.loads),
                fitting,
                np.array([cooler.price for cooler in coolers]),
                np.array([cooler.power_w for cooler in coolers]),
                np.array([space.supplies[s].price for s in fitted.supply]),
                {
                    "bays": float(ramp(case.bays.free_places - brief.spare_bays, *SPARE_BAYS)),
                    "service": float(ramp(service_score(space.enclosure), *SERVICE_SCORE)),
                },
                weights_of(brief), dear, cheap,
            )
        )  # fmt: skip
    return ready


def carried(contest: Contest, fan_sets: Sequence[FanSet]) -> tuple[np.ndarray, np.ndarray]:
    """Which candidates (sets, pairs, coolers) the supply carries at full load, and which it can start."""
    full = (np.array([one.full_power_w for one in fan_sets])[:, None] + contest.cooler_power)[:, None, :]
    f = contest.fitted
    carries = np.minimum(f.spare_w, f.spare_12v_w)[:, None] >= full
    return carries, f.surge_w[:, None] >= full


def candidate(space: Space, contest: Contest, fans: FanSet, pair: int, q: int, price: float) -> Candidate:
    """Name one candidate of a contest."""
    f = contest.fitted
    return Candidate(
        space.enclosure, fans, space.coolers[contest.coolers[q]], space.supplies[f.supply[pair]],
        space.drives[f.drive[pair]],
        f.case.drive_count, price,
    )  # fmt: skip


def scored(
    space: Space,
    contest: Contest,
    fans: FanSet,
    pair: int,
    q: int,
    verdict: Verdict,
    p: int,
    score: float,
    price: np.ndarray,
) -> Scored:
    """Record one accepted candidate."""
    figures = verdict.figures[p, q]
    cost = float(price[pair, q])
    ends = (NOISE_MARGIN_DB, HEADROOM_K, AIRFLOW_SCORE)
    criteria = {name: float(ramp(figures[k], *ends[k])) for k, name in enumerate(("noise", "headroom", "airflow"))}
    criteria |= contest.fixed | {"price": float(ramp(cost, contest.dear, contest.cheap))}
    return Scored(
        candidate(space, contest, fans, pair, q, cost),
        tuple(int(v) for v in verdict.rows[p, q]), tuple(int(v) for v in verdict.steps[p, q]),
        float(figures[0]), float(figures[1]), float(figures[2]), {name: criteria[name] for name in CRITERIA}, score,
    )  # fmt: skip
