"""What fields of a brief say together that cannot all hold."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from advisor.brief.values import Problem, missing, nearest, problem
from advisor.engine.storage.layouts import MOST_DRIVES, drives_needed, layout, why_not

Values = Mapping[str, Any]
KnownParts = Mapping[str, str]

# A build has one model of each of these kinds.
ONE_OF_A_KIND = ("enclosure", "cooler", "supply", "drive", "board", "processor", "graphics")


def contradictions(values: Values, refused: set[str], known_parts: KnownParts | None) -> Iterator[Problem]:
    """Yield what contradicts in a brief with its defaults filled in, leaving out what rests on refused fields."""
    for fields, check in _CHECKS:
        if refused.isdisjoint(fields):
            yield from check(values)
    if refused.isdisjoint(("required_parts", "excluded_parts")):
        yield from _parts(values, known_parts)


def _drives_or_capacity(v: Values) -> Iterator[Problem]:
    count, capacity, accepted = v["drive_count"], v["usable_capacity_tb"], "one of drive_count and usable_capacity_tb"
    if count is None and capacity is None:
        yield missing("drive_count", accepted)
    elif count is not None and capacity is not None:
        yield problem("drive_count", count, f"stands beside usable_capacity_tb ({capacity:g})", accepted)


def _graphics(v: Values) -> Iterator[Problem]:
    if v["graphics_count"] and not v["graphics_watts"]:
        why = f"is no heat for graphics_count {v['graphics_count']}"
        yield problem("graphics_watts", v["graphics_watts"], why, "more than 0 W, or leave both out")
    if v["graphics_watts"] and not v["graphics_count"]:
        why = f"is no board for graphics_watts {v['graphics_watts']:g}"
        yield problem("graphics_count", v["graphics_count"], why, "1 to 8, or leave both out")


def _temperatures(v: Values) -> Iterator[Problem]:
    ambient, hot_day = v["ambient_c"], v["hot_day_c"]
    if hot_day < ambient:
        yield problem("hot_day_c", hot_day, f"is below ambient_c ({ambient:g})", f"{ambient:g} °C or more")
    limits = ["limit_processor_c"]
    limits += ["limit_graphics_c"] if v["graphics_count"] else []
    limits += [] if v["drive_count"] == 0 else ["limit_drive_c"]
    for name in limits:
        air, value = ("ambient_c", ambient) if v[name] <= ambient else ("hot_day_c", hot_day)
        if v[name] <= value:
            why = f"is not above {air} ({value:g}), and nothing that air cools gets colder than the air"
            yield problem(name, v[name], why, f"more than {value:g} °C")


def _layout(v: Values) -> Iterator[Problem]:
    drives, spares, code = v["drive_count"], v["hot_spares"], v["layout"]
    if spares and not layout(code).redundant:
        why = f"cannot be, since layout '{code}' has nothing to rebuild"
        yield problem("hot_spares", spares, why, "0, or a layout with redundancy")
    elif drives is not None and 0 < drives <= spares:
        yield problem("hot_spares", spares, f"leaves none of {drives} drives for data", f"0 to {drives - 1}")
    elif drives is not None and why_not(code, drives, spares):
        step = "" if layout(code).multiple == 1 else f", a multiple of {layout(code).multiple} besides hot spares"
        accepted = f"{layout(code).min_drives + spares} or more{step}, or another layout"
        yield problem("drive_count", drives, f"does not suit the layout ({why_not(code, drives, spares)})", accepted)


def _capacity(v: Values) -> Iterator[Problem]:
    wanted, one = v["usable_capacity_tb"], v["drive_capacity_tb"]
    if wanted is None or one is None or drives_needed(v["layout"], wanted, one, v["hot_spares"]) is not None:
        return
    if v["layout"] == "mirror":
        why, accepted = f"is more than a mirror of {one:g} TB drives holds", f"up to {one:g} TB, or another layout"
    else:
        why = f"needs more than {MOST_DRIVES} drives of {one:g} TB"
        accepted = f"what {MOST_DRIVES} drives hold, or a larger drive_capacity_tb"
    yield problem("usable_capacity_tb", wanted, why, accepted)


def _parts(v: Values, known_parts: KnownParts | None) -> Iterator[Problem]:
    for code in v["required_parts"]:
        if code in v["excluded_parts"]:
            yield problem("excluded_parts", code, "is also in required_parts", "codes that are in one list only")
    if known_parts is None:
        return
    for name in ("required_parts", "excluded_parts"):
        for code in v[name]:
            if code not in known_parts:
                yield problem(name, code, f"is not in the catalogue{nearest(code, known_parts)}", "codes of its parts")
    for kind in ONE_OF_A_KIND:
        several = [code for code in v["required_parts"] if known_parts.get(code) == kind]
        if len(several) > 1:
            why = f"is one {kind} too many beside {several[0]}"
            yield problem("required_parts", several[1], why, f"one {kind} at most")


_CHECKS: tuple[tuple[tuple[str, ...], Callable[[Values], Iterator[Problem]]], ...] = (
    (("drive_count", "usable_capacity_tb"), _drives_or_capacity),
    (("graphics_watts", "graphics_count"), _graphics),
    (
        (
            "ambient_c",
            "hot_day_c",
            "limit_processor_c",
            "limit_graphics_c",
            "limit_drive_c",
            "graphics_count",
            "drive_count",
        ),
        _temperatures,
    ),
    (("drive_count", "layout", "hot_spares"), _layout),
    (("usable_capacity_tb", "drive_capacity_tb", "layout", "hot_spares"), _capacity),
)
