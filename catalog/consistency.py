"""What must fit together inside one row and is beyond a database constraint, since it looks into lists."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

NOTHING = object()  # the value of a problem that is about something missing


@dataclass(frozen=True, slots=True)
class Problem:
    """A value that does not fit: where it stands, why it is refused and what would be accepted."""

    column: str
    value: object
    reason: str
    accepted: str

    def __str__(self) -> str:
        shown = "" if self.value is NOTHING else f"{self.value} "
        return f"{self.column}: {shown}{self.reason}; accepted: {self.accepted}"


def check_steps(row: Mapping[str, Any]) -> list[Problem]:
    """Return what is wrong between a fan's way of control, its steps and its speed range."""
    steps, control, low, high = row["steps_rpm"], row["control"], row["min_rpm"], row["max_rpm"]
    accepted = f"rising speeds from {low:g} to {high:g} rpm"
    if control == "switch" and not steps:
        return [Problem("steps_rpm", steps, "is empty although a switch sets the speed", accepted)]
    if any(not low <= step <= high for step in steps):
        return [Problem("steps_rpm", steps, "leaves the speed range", accepted)]
    return []


def check_shut_off(row: Mapping[str, Any]) -> list[Problem]:
    """Return what is wrong with a pressure-flow curve's first point, which must press."""
    points = row["curve_points_m3h_pa"]
    if points and points[0][1] <= 0:
        return [
            Problem(
                "curve_points_m3h_pa", points[0], "is a first point without pressure", "above 0 Pa at the first point"
            )
        ]
    return []


def check_fan_sound(row: Mapping[str, Any]) -> list[Problem]:
    """Return what is wrong between a cooler's fan and its sound readings."""
    readings = row["sound_rpm_dba"]
    if row["max_rpm"] > 0 and not readings:
        return [Problem("sound_rpm_dba", readings, "is empty although there is a fan", "one or more readings")]
    if row["max_rpm"] == 0 and readings:
        return [
            Problem("sound_rpm_dba", readings, "has readings although there is no fan", "an empty list for max_rpm 0")
        ]
    return []


def check_reaches_full_load(row: Mapping[str, Any]) -> list[Problem]:
    """Return what is wrong with a supply's points that must cover loads up to the rating."""
    return [
        Problem(column, row[column][-1], "stops short of the rating", "a last point at a share of 1 or more")
        for column in ("efficiency", "speed_steps")
        if row[column][-1][0] < 1
    ]
