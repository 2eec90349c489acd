"""Codes of records as plain words: scenarios, speed groups, parts, openings, requirements."""

from __future__ import annotations

import re

from django import template

from advisor.reports.terminal import REASONS

register = template.Library()

SCENARIOS = {
    "idle": "Idle",
    "working": "Working",
    "full_load": "Full load",
    "hot_day": "Hot day",
    "rebuild": "Rebuild",
}
SCENARIO_SAYS = {
    "idle": "nothing to do, drives idle",
    "working": "a usual day: a bit more than half the heat, drives busy half the time",
    "full_load": "everything at full heat, drives always busy",
    "hot_day": "full load in a hot room, filters half clogged",
    "rebuild": "the array rebuilds a failed drive, filters half clogged",
}
GROUPS = {"intake": "intake fans", "exhaust": "exhaust fans", "cooler": "processor cooler"}
ROLES = {
    "enclosure": "enclosure",
    "intake_fan": "intake fan",
    "exhaust_fan": "exhaust fan",
    "cooler": "processor cooler",
    "supply": "power supply",
    "drive": "drive",
    "drives": "drives",
    "adapter": "bay adapter",
    "controller": "storage controller",
    "ups": "UPS",
    "board": "main board",
    "memory": "memory",
    "processor": "processor",
    "graphics": "graphics board",
    "ssd": "solid-state drive",
    "card": "add-in card",
}
CRITERIA = {
    "noise": "noise below the target",
    "headroom": "cooling headroom",
    "airflow": "path of the air",
    "bays": "bays to spare",
    "service": "ease of service",
    "price": "price",
}
KINDS = {
    "fan_mount": "fans",
    "vent": "vent",
    "passage": "inner passage",
    "cage": "drive cage",
    "leak": "seams",
    "supply": "through the power supply",
    "blower": "through the graphics board",
}
_INCHES = {"35": "3.5-inch", "25": "2.5-inch", "525": "5.25-inch"}
_GROUP = re.compile(r"^(?P<name>.*?)_?(?P<form>525|35|25)(?P<number>(_[a-z]+)? ?\d*)$")


@register.filter
def scenario(code: str) -> str:
    """Return a scenario's name.

    >>> scenario("full_load")
    'Full load'
    """
    return SCENARIOS[code]


@register.filter
def scenario_says(code: str) -> str:
    """Return what happens in a scenario.

    >>> scenario_says("idle")
    'nothing to do, drives idle'
    """
    return SCENARIO_SAYS[code]


@register.filter
def group(code: str) -> str:
    """Return a speed group's name.

    >>> group("exhaust")
    'exhaust fans'
    """
    return GROUPS[code]


@register.filter
def role(code: str) -> str:
    """Return what a part is.

    >>> role("intake_fan"), role("graphics")
    ('intake fan', 'graphics board')
    """
    return ROLES[code]


@register.filter
def criterion(code: str) -> str:
    """Return a criterion of the ranking.

    >>> criterion("bays")
    'bays to spare'
    """
    return CRITERIA[code]


@register.filter
def kind(code: str) -> str:
    """Return what an opening is.

    >>> kind("cage")
    'drive cage'
    """
    return KINDS[code]


@register.filter
def requirement(code: str) -> str:
    """Return what a rejected build misses.

    >>> requirement("drive_limit")
    'drives too hot'
    """
    return REASONS[code]


@register.filter
def place(code: str) -> str:
    """Return a place in an enclosure, as its code says it; sizes of bays are in inches.

    >>> place("rear_fans"), place("front_525 3"), place("foot_35"), place("outside")
    ('rear fans', 'front 5.25-inch 3', 'foot 3.5-inch', 'the room')
    """
    if code == "outside":
        return "the room"
    found = _GROUP.match(code)
    if found:
        code = f"{found['name']} {_INCHES[found['form']]}{found['number']}"
    return code.replace("_", " ").strip()


@register.filter
def bays(code: str) -> str:
    """Return a group of bays without their size.

    >>> bays("front_525"), bays("row_two_35"), bays("35")
    ('front', 'row two', '35')
    """
    found = _GROUP.match(code)
    return place(found["name"] if found and found["name"] else code) if not code.isdigit() else code


@register.filter
def sentence_case(text: str) -> str:
    """Return a text that begins with a capital, the rest as it is.

    >>> sentence_case("rear fans"), sentence_case("")
    ('Rear fans', '')
    """
    return text[:1].upper() + text[1:]
