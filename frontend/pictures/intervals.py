"""Values with their intervals against a limit: a dot, a bar of two standard uncertainties either way, a tick.

Places along a track are percentages of its width, so that a track may be as wide as its column and its dot stays round.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from advisor.engine.inputs import SCENARIOS
from frontend.pictures.scales import Axis, rounded_out
from frontend.templatetags.quantities import figure, fixed, interval, quantity
from frontend.templatetags.words import place, role, scenario

Record = Mapping[str, Any]
_INSET = 2.0  # percent kept free at both ends, so that a dot at an end is seen whole


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark along a track, in percent, with its words."""

    at: float
    text: str

    @property
    def anchor(self) -> str:
        """Where its words are set, so that they stay within the track."""
        return "start" if self.at < 10 else "end" if self.at > 90 else "middle"


@dataclass(frozen=True, slots=True)
class Track:
    """One value on a track; places in percent. ``kept`` says whether the limit is kept at the confidence asked for."""

    dot: float
    bar_from: float
    bar_to: float
    limit: float | None
    kept: bool
    words: str

    @property
    def bar_width(self) -> float:
        return round(self.bar_to - self.bar_from, 2)

    @property
    def beyond(self) -> float:
        """Width of what lies beyond the limit."""
        return 0.0 if self.limit is None else round(100.0 - self.limit, 2)


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table with a track; ``left`` is the room to the limit, in words."""

    name: str
    detail: str
    value: str
    limit: str
    left: str
    kept: bool
    track: Track


@dataclass(frozen=True, slots=True)
class Intervals:
    """Rows that share one scale."""

    caption: str
    name_word: str
    value_word: str
    limit_word: str
    left_word: str
    rows: tuple[Row, ...]
    ticks: tuple[Tick, ...]


def track(found: Mapping[str, float], limit: float | None, axis: Axis, unit: str, *, kept: bool | None = None) -> Track:
    """Return a value on an axis; without ``kept``, the limit counts as kept where the value is not above it."""
    half = 2 * found["standard_uncertainty"]
    inside = found["value"] <= limit if limit is not None else True
    said = f"{figure(found, unit)}, likely {interval(found, unit)}"
    said += "" if limit is None else f", limit {quantity(limit, unit)}"
    return Track(
        axis.at(found["value"]),
        axis.at(found["value"] - half),
        axis.at(found["value"] + half),
        None if limit is None else axis.at(limit),
        inside if kept is None else kept,
        said,
    )


def axis_of(low: float, high: float) -> Axis:
    """Return the axis of a track from round value to round value."""
    return Axis(*rounded_out(low, high), _INSET, 100.0 - _INSET)


def temperatures(build: Record, code: str) -> Intervals:
    """Return the temperatures of every part of a build in one scenario against their limits."""
    parts = build["predictions"][code]["temperatures"]
    rows = [(one, "") for one in parts]
    return _temperatures(f"Temperatures: {scenario(code)}", rows, build["airflow"][code]["intake_c"])


def nearest_limits(build: Record) -> Intervals:
    """Return every part in the scenario that brings it nearest to its limit, the tightest first."""
    nearest: dict[tuple[str, str], tuple[Record, str]] = {}
    for code in SCENARIOS:
        for one in build["predictions"][code]["temperatures"]:
            key = one["role"], one["place"]
            if key not in nearest or one["headroom_k"] < nearest[key][0]["headroom_k"]:
                nearest[key] = one, code
    rows = sorted(nearest.values(), key=lambda pair: pair[0]["headroom_k"])
    intake = min(build["airflow"][code]["intake_c"] for code in SCENARIOS)
    return _temperatures("Every part where it is nearest to its limit", rows, intake)


def _temperatures(caption: str, parts: Sequence[tuple[Record, str]], intake_c: float) -> Intervals:
    highest = [max(one["limit_c"], _top(one["temperature_c"])) for one, _ in parts]
    axis = axis_of(min([intake_c, *(_bottom(one["temperature_c"]) for one, _ in parts)]), max(highest))
    rows = tuple(_temperature_row(one, code, axis) for one, code in parts)
    return Intervals(caption, "Part", "Temperature", "Limit", "Headroom", rows, tuple(_ticks(axis, "°C")))


def _temperature_row(one: Record, code: str, axis: Axis) -> Row:
    where = place(one["place"]) if one["place"] else ""
    name = f"drives in {where}" if one["role"] == "drive" else role(one["role"])
    kept = one["headroom_k"] >= 0
    left = fixed(one["headroom_k"], "K") if kept else f"{fixed(-one['headroom_k'], 'K')} too much"
    return Row(
        name,
        scenario(code) if code else "",
        figure(one["temperature_c"], "°C"),
        quantity(one["limit_c"], "°C"),
        left,
        kept,
        track(one["temperature_c"], one["limit_c"], axis, "°C", kept=kept),
    )


def noise_of_entries(entries: Sequence[Record], target_dba: float, code: str) -> Intervals:
    """Return the level at the seat of a shortlist's entries in one scenario against the target."""
    levels = [entry["predictions"][code]["noise_dba"] for entry in entries]
    ends = [target_dba, *(_top(one) for one in levels), *(_bottom(one) for one in levels)]
    axis = axis_of(min(ends), max(ends))
    rows = tuple(_noise_row(entry, code, target_dba, axis) for entry in entries)
    caption = f"Noise at the seat: {scenario(code)}"
    return Intervals(caption, "Enclosure", "Level", "Target", "Margin", rows, tuple(_ticks(axis, "dBA")))


def _noise_row(entry: Record, code: str, target_dba: float, axis: Axis) -> Row:
    found = entry["predictions"][code]["noise_dba"]
    margin = target_dba - found["value"]
    left = fixed(margin, "dB") if margin >= 0 else f"{fixed(-margin, 'dB')} too loud"
    drawn = track(found, target_dba, axis, "dBA")
    texts = figure(found, "dBA"), quantity(target_dba, "dBA")
    return Row(enclosure_name(entry), "", *texts, left, margin >= 0, drawn)


def enclosure_name(entry: Record) -> str:
    """Return the name of an entry's enclosure."""
    return next(line["name"] for line in entry["parts"] if line["role"] == "enclosure")


def _top(found: Mapping[str, float]) -> float:
    return found["value"] + 2 * found["standard_uncertainty"]


def _bottom(found: Mapping[str, float]) -> float:
    return found["value"] - 2 * found["standard_uncertainty"]


def _ticks(axis: Axis, unit: str) -> Iterator[Tick]:
    for value in axis.ticks(5):
        yield Tick(axis.at(value), quantity(value, unit))
