"""What a shortlist lets one trade: noise against headroom or price, one mark an entry, ties joined."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from frontend.pictures.boxes import Box, around, free_place, shortened, text_width
from frontend.pictures.chart import TEXT, Frame, Point, Word, frame
from frontend.pictures.intervals import enclosure_name
from frontend.templatetags.quantities import figure, money, quantity

Record = Mapping[str, Any]
RADIUS = 8.5
_NAME_AT_MOST = 118.0
_FEW = 6  # entries up to which names stand in the picture as well


@dataclass(frozen=True, slots=True)
class Mark:
    """An entry: its place, its number there or beside it, a bar of two standard uncertainties, its name if it fits."""

    number: int
    place: Point
    badge: Point
    bar: tuple[float, float]
    first: bool
    word: Word | None


@dataclass(frozen=True, slots=True)
class TradeRow:
    """An entry's figures, as the table beside the picture says them."""

    number: int
    name: str
    rank: int
    noise: str
    other: str


@dataclass(frozen=True, slots=True)
class TradePicture:
    """Entries of a shortlist by noise and one other figure; ``joins`` lead between entries of one rank."""

    key: str
    title: str
    description: str
    other_word: str
    frame: Frame
    better: str
    target: float
    joins: tuple[tuple[Point, Point], ...]
    marks: tuple[Mark, ...]
    rows: tuple[TradeRow, ...]


def of_shortlist(record: Record, other: str = "headroom") -> TradePicture | None:
    """Return the trade between the loudest judged noise and ``other``: ``headroom`` or ``price``.

    None with fewer than two entries, between which there is nothing to trade.
    """
    entries, brief = record["shortlist"], record["brief"]
    if len(entries) < 2:
        return None
    noises = [loudest(entry, brief["noise_scenarios"]) for entry in entries]
    key = {"headroom": "headroom_k", "price": "price"}[other]
    word = {"headroom": "least headroom, K", "price": f"price, {brief['currency']}"}[other]
    values = [float(entry[key]) for entry in entries]
    target = float(brief["noise_target_dba"])
    ends = [one["value"] + sign * 2 * one["standard_uncertainty"] for one in noises for sign in (-1, 1)]
    axes = frame([*ends, target], values if other == "price" else [0.0, *values], "noise at the seat, dBA", word)
    places = [axes.at((one["value"], value)) for one, value in zip(noises, values, strict=True)]
    joins = tuple(_joins([entry["rank"] for entry in entries], places))
    said = [money(one, brief["currency"]) if other == "price" else quantity(one, "K") for one in values]
    return TradePicture(
        f"trade-{other}",
        f"Noise against {other}",
        f"{len(entries)} entries by noise at the seat and {other}; the quietest is "
        f"{enclosure_name(min(zip(noises, entries, strict=True), key=lambda pair: pair[0]['value'])[1])}.",
        other.capitalize(),
        axes,
        "up" if other == "headroom" else "down",
        axes.across.at(target),
        joins,
        tuple(_marks(entries, noises, places, axes)),
        tuple(
            TradeRow(n, enclosure_name(entry), entry["rank"], figure(noise, "dBA"), text)
            for n, (entry, noise, text) in enumerate(zip(entries, noises, said, strict=True), 1)
        ),
    )


def loudest(entry: Record, scenarios: Sequence[str]) -> Mapping[str, float]:
    """Return the highest level at the seat in the scenarios that the target holds in."""
    levels = [entry["predictions"][code]["noise_dba"] for code in scenarios]
    return max(levels, key=lambda one: one["value"])


def _joins(ranks: Sequence[int], places: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Join the entries of each rank by the shortest lines that reach them all (Prim's minimum spanning tree)."""
    for rank in sorted(set(ranks)):
        left = [place for place, other in zip(places, ranks, strict=True) if other == rank]
        reached = [left.pop(0)]
        while left:
            pairs = [(_apart(a, b), a, b) for a in reached for b in left]
            _, start, end = min(pairs)
            yield start, end
            left.remove(end)
            reached.append(end)


def _apart(one: Point, other: Point) -> float:
    return (one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2


def _marks(
    entries: Sequence[Record], noises: Sequence[Mapping[str, float]], places: Sequence[Point], axes: Frame
) -> Iterator[Mark]:
    """Set every number at its place, or beside it where another one is; names only where there are few."""
    room, taken, boxes = axes.room.grown(RADIUS), [], []
    for place in places:
        box = free_place((2 * RADIUS + 1, 2 * RADIUS + 1), place, room, taken, step=2.0) or _box(place)
        boxes.append(_box(place) if not any(_box(place).overlaps(other) for other in taken) else box)
        taken.append(boxes[-1])
    for n, (entry, noise, place, box) in enumerate(zip(entries, noises, places, boxes, strict=True), 1):
        half = 2 * noise["standard_uncertainty"]
        bar = axes.across.at(noise["value"] - half), axes.across.at(noise["value"] + half)
        word = _name(enclosure_name(entry), box.middle, axes.room, taken) if len(entries) <= _FEW else None
        yield Mark(n, place, box.middle, bar, entry["rank"] == 1, word)


def _box(place: Point) -> Box:
    return around(place[0], place[1], 2 * RADIUS + 1, 2 * RADIUS + 1)


def _name(name: str, place: Point, room: Box, taken: list[Box]) -> Word | None:
    """Set a name beside its mark if it fits there; the table has it anyway."""
    text = shortened(name, TEXT, _NAME_AT_MOST)
    size = (text_width(text, TEXT) + 2, TEXT * 1.2)
    box = free_place(size, (place[0] + RADIUS + size[0] / 2 + 3, place[1]), room, taken, step=3.0)
    if box is None:
        return None
    x, y = box.middle
    if abs(x - place[0]) > size[0] / 2 + 24 or abs(y - place[1]) > 26:
        return None
    taken.append(box)
    return Word(box, text)
