"""Why a build ranks where it does: the criterion that costs it most, and what would change that."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from advisor.engine.desirability import price_ends
from advisor.engine.inputs import OUTSIDE
from advisor.engine.record.records import BuildRecord
from advisor.engine.record.spot import Spot

SERVICE_FACTS = {
    "tool_free_bays": "bays without tools",
    "filters_reachable": "filters within reach",
    "fan_control_outside": "fan control from outside",
}


def costs(criteria: Mapping[str, float], weights: Mapping[str, float]) -> dict[str, float]:
    """Return by how much each criterion lowers the logarithm of the desirability; dropped criteria are left out.

    >>> round(costs({"noise": 0.5, "price": 1.0}, {"noise": 1.0, "price": 3.0})["noise"], 3)
    0.173
    """
    total = sum(weights[name] for name in criteria)
    return {name: -weights[name] * math.log(value) / total for name, value in criteria.items() if weights[name] > 0}


def weakest(spot: Spot, record: BuildRecord, criteria: Mapping[str, float], weights: Mapping[str, float]) -> str:
    """Say which criterion costs a build most in the ranking, by which figure, and what would help."""
    by_name = costs(criteria, weights)
    name = max(by_name, key=lambda one: by_name[one])
    worth = f"desirability {criteria[name]:.2f} at weight {weights[name]:g}"
    return f"What costs it most in the ranking is {name} ({worth}): {_SAID[name](spot, record)}"


def against(name: str, criteria: Mapping[str, float], other: Mapping[str, float], weights: Mapping[str, float]) -> str:
    """Say by which criterion a build falls most behind another one of that ``name``.

    >>> against("best", {"noise": 0.5, "price": 0.9}, {"noise": 0.8, "price": 0.7}, {"noise": 1.0, "price": 1.0})
    'Against best it loses most by noise (desirability 0.50, there 0.80) and gains most by price (0.90, there 0.70).'
    """
    mine, theirs = costs(criteria, weights), costs(other, weights)
    seen = [one for one in mine if f"{criteria[one]:.2f}" != f"{other[one]:.2f}"]  # no difference that is not shown
    lost = {one: mine[one] - theirs[one] for one in seen} or {"": 0.0}
    most, least = max(lost, key=lambda one: lost[one]), min(lost, key=lambda one: lost[one])
    said = f"Against {name} it"
    if lost[most] > 0:
        said += f" loses most by {most} (desirability {criteria[most]:.2f}, there {other[most]:.2f})"
    if lost[least] < 0:
        said += " and" if lost[most] > 0 else ""
        said += f" gains most by {least} ({criteria[least]:.2f}, there {other[least]:.2f})"
    return said + ("." if lost[most] > 0 or lost[least] < 0 else " differs in no criterion.")


def _noise(spot: Spot, record: BuildRecord) -> str:
    margin = record.noise_margin_db
    return f"{margin:.1f} dB below the target, where 10 dB count in full; quieten the loudest source named above first."


def _headroom(spot: Spot, record: BuildRecord) -> str:
    return f"{record.headroom_k:.1f} K to the nearest limit, where 15 K count in full; what adds to it is said above."


def _airflow(spot: Spot, record: BuildRecord) -> str:
    code = min(record.airflow, key=lambda one: record.airflow[one].score)
    air = record.airflow[code]
    lacks = {
        f"{100 * air.fresh_share:.0f} % of the air to warm places is fresh": 1 - air.fresh_share,
        f"{100 * air.filtered_share:.0f} % of the inflow is filtered": 1 - air.filtered_share,
        f"{100 * air.wrong_way_share:.0f} % blows the wrong way": air.wrong_way_share,
        f"{100 * air.short_circuit_share:.0f} % leaves without passing heat": air.short_circuit_share,
    }
    worst = max(lacks, key=lambda words: lacks[words])
    bare = _unfiltered(spot, record, code)
    remedy = f"filter or close {bare}, the largest way in without a filter" if "filtered" in worst and bare else ""
    return (
        f"in {code} only {worst}; {remedy or 'guide the intake to the warm parts and close what lets air past them'}."
    )


def _unfiltered(spot: Spot, record: BuildRecord, code: str) -> str:
    filtered = {opening.code for opening in spot.build.case.plumbing.network.openings if opening.filter is not None}
    inflow: dict[str, float] = {}
    for one in record.airflow[code].openings:
        enters = (
            one.mass_flow_kgs if one.from_zone == OUTSIDE else -one.mass_flow_kgs if one.to_zone == OUTSIDE else 0.0
        )
        if enters > 0 and one.code not in filtered:
            inflow[one.code] = inflow.get(one.code, 0.0) + enters
    return max(inflow, key=lambda one: inflow[one], default="")


def _bays(spot: Spot, record: BuildRecord) -> str:
    case = spot.build.case
    spare = case.bays.free_places - case.brief.spare_bays
    return f"{spare} places to spare in {record.enclosure} beyond those asked for; larger drives would free some."


def _service(spot: Spot, record: BuildRecord) -> str:
    facts = spot.build.case.enclosure.service
    missing = [words for name, words in SERVICE_FACTS.items() if not getattr(facts, name)]
    also = f"{1000 * facts.cable_space_m:.0f} mm behind the board and {facts.front_ports} front ports"
    lacks = (
        f"{record.enclosure} lacks {', '.join(missing)}" if missing else f"{record.enclosure} has every fact but room"
    )
    return f"{lacks} ({also}); plan a longer stop for each change."


def _price(spot: Spot, record: BuildRecord) -> str:
    case = spot.build.case
    dear, cheap = price_ends(case.brief, case.drive_count)
    by_part: dict[str, float] = {}
    for line in record.parts:
        by_part[line.part] = by_part.get(line.part, 0.0) + line.quantity * (line.price or 0.0)
    most = max(by_part, key=lambda one: by_part[one])
    money = case.brief.currency
    return (
        f"{record.price:.0f} {money}, where {cheap:.0f} count in full and {dear:.0f} hardly at all; "
        f"{by_part[most]:.0f} {money} of it are for {most}: look for a cheaper one there first."
    )


_SAID: dict[str, Callable[[Spot, BuildRecord], str]] = {
    "noise": _noise,
    "headroom": _headroom,
    "airflow": _airflow,
    "bays": _bays,
    "service": _service,
    "price": _price,
}
