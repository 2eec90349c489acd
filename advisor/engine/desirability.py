"""From results to criteria: desirabilities between 0.02 and 1 and their weighted geometric mean.

Derringer & Suich, 'Simultaneous optimization of several response variables', J. Quality Technology 12 (1980). The
ends of every criterion come from the brief or from the constants here, never from the other candidates.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
from numba import njit

from advisor.engine.inputs import Brief, Enclosure

CRITERIA = ("noise", "headroom", "airflow", "bays", "service", "price")
DEFAULT_WEIGHTS = {"noise": 3.0, "headroom": 3.0, "airflow": 1.0, "bays": 1.0, "service": 1.0, "price": 2.0}
FLOOR = 0.02

# Worst and best end of each criterion: desirability 0.02 and 1 (choices of ours, stated in METHODS.md).
NOISE_MARGIN_DB = (0.0, 10.0)  # ten decibels are heard as about half as loud
HEADROOM_K = (0.0, 15.0)
AIRFLOW_SCORE = (0.3, 0.95)
SPARE_BAYS = (-1.0, 4.0)
SERVICE_SCORE = (0.0, 1.0)
# Without a budget a build of enclosure, fans, cooler, supply and drives counts as dear at:
PRICE_BASE = 600.0
PRICE_PER_DRIVE = 350.0
CHEAP_SHARE = 0.25  # of the dear end

GOOD_CABLE_SPACE_M = 0.02
GOOD_FRONT_PORTS = 3


@njit(cache=True, nogil=True, error_model="numpy", inline="always")
def ramp(value, worst, best):
    """Desirability of a value between its worst end (0.02) and its best end (1), straight between."""
    share = (value - worst) / (best - worst)
    return FLOOR + (1.0 - FLOOR) * min(max(share, 0.0), 1.0)


@njit(cache=True, nogil=True, error_model="numpy")
def log_ramp(value, worst, best):
    """Natural logarithm of ``ramp``; exactly 0 at and beyond the best end."""
    d = ramp(value, worst, best)
    return 0.0 if d >= 1.0 else math.log(d)


def ramps(values: np.ndarray, ends: tuple[float, float]) -> np.ndarray:
    """Return ``ramp`` of many values; ``ends`` are worst and best.

    >>> ramps(np.array([-1.0, 5.0, 20.0]), NOISE_MARGIN_DB)
    array([0.02, 0.51, 1.  ])
    """
    share = (values - ends[0]) / (ends[1] - ends[0])
    return FLOOR + (1.0 - FLOOR) * np.clip(share, 0.0, 1.0)


def weights_of(brief: Brief) -> dict[str, float]:
    """Return the weight of every criterion; weight 0 drops it."""
    return {name: float(brief.weights.get(name, DEFAULT_WEIGHTS[name])) for name in CRITERIA}


def price_ends(brief: Brief, drive_count: int) -> tuple[float, float]:
    """Return the price that counts as dear and the one that counts as cheap."""
    dear = brief.budget if brief.budget is not None else PRICE_BASE + PRICE_PER_DRIVE * drive_count
    return dear, CHEAP_SHARE * dear


def service_score(enclosure: Enclosure) -> float:
    """Return the ease of service from 0 to 1: the mean of five facts."""
    facts = enclosure.service
    return float(
        np.mean([
            facts.tool_free_bays,
            facts.filters_reachable,
            facts.fan_control_outside,
            min(facts.cable_space_m / GOOD_CABLE_SPACE_M, 1.0),
            min(facts.front_ports / GOOD_FRONT_PORTS, 1.0),
        ])
    )  # fmt: skip


def combine(desirabilities: Mapping[str, np.ndarray | float], weights: Mapping[str, float]) -> np.ndarray | float:
    """Return the weighted geometric mean of desirabilities by criterion, arrays or numbers.

    >>> round(float(combine({"noise": 0.25, "price": 1.0}, {"noise": 1.0, "price": 1.0})), 6)
    0.5
    """
    used = {name: weight for name, weight in weights.items() if weight > 0 and name in desirabilities}
    total = sum(used.values())
    return np.exp(sum(weight * np.log(desirabilities[name]) for name, weight in used.items()) / total)
