"""What to say where a whole shortlist ties: which difference is worth paying for, which measurement would settle it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from advisor.engine.record.advice import loudest, nearest_limit
from advisor.engine.record.ranking import costs
from advisor.engine.record.records import BuildRecord
from advisor.engine.record.spot import CODES
from advisor.engine.sampling import Samples

CERTAIN = ("price", "bays", "service")  # criteria that are known, not predicted


@dataclass(frozen=True, slots=True)
class Tied:
    """One of the builds that tie: what it is called, what it is worth by criterion, its record and its draws."""

    name: str
    criteria: Mapping[str, float]
    record: BuildRecord
    samples: Samples


def tie_note(tied: Sequence[Tied], weights: Mapping[str, float], currency: str) -> str:
    """Say what to go by where all builds tie; ``tied`` are two or more, best first."""
    spread = {name: [costs(one.criteria, weights).get(name, 0.0) for one in tied] for name in tied[0].criteria}
    widest = max(spread, key=lambda name: max(spread[name]) - min(spread[name]))
    best, worst = (tied[spread[widest].index(pick(spread[widest]))] for pick in (min, max))
    said = (
        f"The measurements cannot tell these {len(tied)} builds apart. They differ most in {widest}: {best.name} "
        f"({_amount(widest, best, currency)}) against {worst.name} ({_amount(widest, worst, currency)})"
    )
    sure = ", a difference that is certain and may decide." if widest in CERTAIN else ", which is a prediction still."
    return f"{said}{sure} {measurement(tied, weights)}"


def _amount(criterion: str, one: Tied, currency: str) -> str:
    amounts = {
        "price": f"{one.record.price:.0f} {currency}",
        "noise": f"{one.record.noise_margin_db:.1f} dB below the target",
        "headroom": f"{one.record.headroom_k:.1f} K of headroom",
    }
    return amounts.get(criterion, f"desirability {one.criteria[criterion]:.2f}")


def measurement(tied: Sequence[Tied], weights: Mapping[str, float]) -> str:
    """Name the measurement that would narrow the differences of the builds most.

    What the first build has in common with another counts once, since the draws of both share it.
    """
    drawn = [{name: weights[name] * np.log(values) for name, values in one.samples.criteria().items()} for one in tied]
    apart = {name: np.mean([np.var(drawn[0][name] - other[name]) for other in drawn[1:]]) for name in drawn[0]}
    name = max(apart, key=lambda one: apart[one])
    return f"What would settle most: {_MEASUREMENTS[name](tied)}."


def _of_noise(tied: Sequence[Tied]) -> str:
    one = max(tied, key=lambda build: loudest(build.record)[1].noise_dba.standard_uncertainty)
    code, noise = loudest(one.record)
    return f"measure the noise of {one.name} in {code}, now known to ± {noise.noise_dba.standard_uncertainty:.1f} dB"


def _of_heat(tied: Sequence[Tied]) -> str:
    one = max(tied, key=lambda build: nearest_limit(build.record)[1].temperature_c.standard_uncertainty)
    s, part = nearest_limit(one.record)
    u = part.temperature_c.standard_uncertainty
    return f"measure {part.words} in {one.name} in {CODES[s]}, now known to ± {u:.1f} K"


def _of_air(tied: Sequence[Tied]) -> str:
    """The opening whose flow is least sure, as a share of the throughflow."""
    share, name, code = max(
        (opening.mass_flow_u_kgs / air.throughflow_kgs, one.name, opening.code)
        for one in tied
        for air in one.record.airflow.values()
        for opening in air.openings
    )
    return f"measure the flow through {code} of {name}, now known to ± {100 * share:.0f} % of all its air"


_MEASUREMENTS: dict[str, Callable[[Sequence[Tied]], str]] = {
    "noise": _of_noise,
    "headroom": _of_heat,
    "airflow": _of_air,
}
