"""Whether the inside of an enclosure hangs together: references, ways for the air, and sound for every source."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

from catalog.consistency import NOTHING, Problem
from catalog.models.vocabulary import OUTSIDE, SOUND_PLACES, SeatRole
from catalog.records import Record

_SLACK_MM = 50.0  # feet, handles and bezels may stand out of the stated size this far
_LINKS = (
    ("openings", "from_zone", "from", "zones"),
    ("openings", "to_zone", "to", "zones"),
    ("bay_groups", "zone", "zone", "zones"),
    ("bay_groups", "opening", "opening", "openings"),
    ("seats", "zone", "zone", "zones"),
    ("seats", "fed_by", "fed_by", "openings"),
)
_NAMES = {"seats": "role", "sound_shares": "place"}
_AXES = (("x_mm", "width_mm"), ("y_mm", "depth_mm"), ("z_mm", "height_mm"))


def check_enclosure(enclosure: Record, whole: bool = True) -> list[Problem]:
    """Return everything that does not fit together; ``column`` of each problem is a path below the enclosure.

    Of a record that lacks refused values (``whole`` is false) only the references are checked.
    """
    dangling = list(_dangling(enclosure))
    if dangling or not whole:
        return dangling  # the other checks look up what these would miss
    checks = (_closed_in, _cages, _feeds, _empty_seats, _supply, _silent_places, _unknown_places, _strays)
    return [problem for check in checks for problem in check(enclosure)]


def _path(kind: str, row: dict[str, Any], key: str) -> str:
    return f"{kind}.{row.get(_NAMES.get(kind, 'code'), '')}.{key}"


def _rows(enclosure: Record, kind: str) -> list[dict[str, Any]]:
    return [record.columns for record in enclosure.children.get(kind, ())]


def _dangling(enclosure: Record) -> Iterator[Problem]:
    for kind, column, key, among in _LINKS:
        if among not in enclosure.children:
            continue  # refused as a whole, so that nobody knows what it has
        known = [row["code"] for row in _rows(enclosure, among) if "code" in row]
        words = ", ".join([*known, OUTSIDE] if kind == "openings" else known) or "none, there are none"
        for row in _rows(enclosure, kind):
            code = row.get(column)
            if code is not None and code not in known:
                yield Problem(_path(kind, row, key), code, f"is not one of its {among}", words)


def _closed_in(enclosure: Record) -> Iterator[Problem]:
    """A zone without any way to the outside has no pressure that a solver could find."""
    reached: set[str | None] = {None}
    pairs = [(row["from_zone"], row["to_zone"]) for row in _rows(enclosure, "openings")]
    grown = True
    while grown:
        new = {zone for pair in pairs if reached & set(pair) for zone in pair} - reached
        reached |= new
        grown = bool(new)
    for row in _rows(enclosure, "zones"):
        if row["code"] not in reached:
            yield Problem(
                _path("zones", row, "code"), row["code"], "has no way to the outside", "a zone that openings reach"
            )


def _cages(enclosure: Record) -> Iterator[Problem]:
    openings = {row["code"]: row for row in _rows(enclosure, "openings")}
    groups = _rows(enclosure, "bay_groups")
    cages = [code for code, row in openings.items() if row["kind"] == "cage"]
    for group in groups:
        if group["opening"] is None:
            continue
        opening = openings[group["opening"]]
        if opening["kind"] != "cage":
            words = ", ".join(cages) or "an opening of kind cage"
            yield Problem(_path("bay_groups", group, "opening"), group["opening"], f"is a {opening['kind']}", words)
        elif group["zone"] not in (opening["from_zone"], opening["to_zone"]):
            ends = " or ".join(str(end or OUTSIDE) for end in (opening["from_zone"], opening["to_zone"]))
            yield Problem(
                _path("bay_groups", group, "zone"), group["zone"], f"is not an end of cage {opening['code']}", ends
            )
    for code in set(cages) - {group["opening"] for group in groups}:
        reason = "is a cage that no bay group names"
        yield Problem(f"openings.{code}.kind", "cage", reason, "a bay group with this opening, or another kind")


def _feeds(enclosure: Record) -> Iterator[Problem]:
    openings = {row["code"]: row for row in _rows(enclosure, "openings")}
    for seat in _rows(enclosure, "seats"):
        opening = openings.get(seat["fed_by"])
        if opening and seat["zone"] not in (opening["from_zone"], opening["to_zone"]):
            reason = f"does not open into zone {seat['zone']}"
            yield Problem(_path("seats", seat, "fed_by"), seat["fed_by"], reason, "an opening of the seat's zone")


def _empty_seats(enclosure: Record) -> Iterator[Problem]:
    """Whatever a build holds must sit somewhere, or its heat would vanish."""
    given = {row["role"] for row in _rows(enclosure, "seats")}
    for role in SeatRole.values:
        if role not in given:
            yield Problem(f"seats.{role}", NOTHING, "is missing", "a seat for each role, even if it stays empty")


def _supply(enclosure: Record) -> Iterator[Problem]:
    supplies = [row["code"] for row in _rows(enclosure, "openings") if row["kind"] == "supply"]
    named = enclosure.columns["supply_opening"]
    if len(supplies) != 1:
        yield Problem("openings", supplies, "are of kind supply", "one opening of kind supply")
    elif named != supplies[0]:
        yield Problem("supply_opening", named, "is not the opening of kind supply", supplies[0])


def _silent_places(enclosure: Record) -> Iterator[Problem]:
    """Every source that an enclosure can hold needs shares, or its sound would vanish."""
    mounts = [row["code"] for row in _rows(enclosure, "openings") if row["kind"] == "fan_mount"]
    given = {row["place"] for row in _rows(enclosure, "sound_shares")}
    for place in (*mounts, *SOUND_PLACES):
        if place not in given:
            yield Problem(f"sound_shares.{place}", NOTHING, "is missing", "a share for each face, 1 in all")


def _unknown_places(enclosure: Record) -> Iterator[Problem]:
    mounts = [row["code"] for row in _rows(enclosure, "openings") if row["kind"] == "fan_mount"]
    for row in _rows(enclosure, "sound_shares"):
        if row["place"] not in (*mounts, *SOUND_PLACES):
            words = ", ".join((*mounts, *SOUND_PLACES))
            yield Problem(f"sound_shares.{row['place']}", row["place"], "is neither a fan mount nor a source", words)
    for code, times in Counter([*mounts, *SOUND_PLACES]).items():
        if times > 1:
            yield Problem(
                f"openings.{code}.code", code, "is the name of a sound source", "another code for the fan mount"
            )


def _strays(enclosure: Record) -> Iterator[Problem]:
    for kind in ("zones", "openings"):
        for row in _rows(enclosure, kind):
            position = [row[axis] for axis, _ in _AXES]
            sizes = [enclosure.columns[size] for _, size in _AXES]
            if any(not -_SLACK_MM <= at <= size + _SLACK_MM for at, size in zip(position, sizes, strict=True)):
                inside = f"within its size of {' x '.join(f'{size:g}' for size in sizes)} mm, to {_SLACK_MM:g} mm"
                yield Problem(_path(kind, row, "position_mm"), position, "lies outside the enclosure", inside)
