"""Entries of a shortlist, rank by rank, as its page shows them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from frontend.contexts.answers import (
    build_address,
    headroom_words,
    margin_words,
    nearest_words,
    size_words,
)
from frontend.contexts.sentences import Speech
from frontend.pictures.intervals import enclosure_name
from frontend.pictures.trade import loudest
from frontend.templatetags.quantities import counted, figure, fixed, money, quantity

Record = Mapping[str, Any]
_NAMED = 5  # ties named before the rest is counted


@dataclass(frozen=True, slots=True)
class Entry:
    """One enclosure's best build. ``ties`` says whom it cannot be told apart from, ``apart`` what sets it apart."""

    number: int
    name: str
    address: str
    ties: str
    idle: str
    working: str
    margin: str
    meets: str
    headroom: str
    nearest: str
    price: str
    size: str
    mass: str
    spare: str
    apart: str
    ends: str


@dataclass(frozen=True, slots=True)
class Rank:
    """Entries of one rank; ``words`` says what having it means."""

    title: str
    words: str
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class ListEnd:
    """What lies at one end of the list."""

    word: str
    name: str
    figure: str
    address: str


def ranks(record: Record, study: str, speech: Speech) -> Iterator[Rank]:
    """Yield the ranks of a shortlist, best first."""
    entries = record["shortlist"]
    names = {one["id"]: enclosure_name(one) for one in entries}
    number, former = 0, ""
    for rank, group in groupby(entries, key=lambda one: one["rank"]):
        members = list(group)
        listed = tuple(
            _entry(number + n, one, record["brief"], names, study, speech) for n, one in enumerate(members, 1)
        )
        yield Rank(_title(rank, len(members)), _meaning([one.name for one in listed], former), listed)
        number, former = number + len(members), listed[0].name


def _title(rank: int, many: int) -> str:
    return f"Rank {rank}" if many == 1 else f"Rank {rank}, shared by {many}"


def _meaning(names: Sequence[str], former: str) -> str:
    said = ""
    if former:
        said = f"{names[0]} is worth less than {former}: the 95 % interval of that difference lies below zero. "
    if len(names) > 1:
        said += (
            f"The figures are not sure enough to tell {'the other' if len(names) == 2 else 'any of the others'} from "
            f"{names[0]}: the 95 % interval of what it is worth less or more reaches across zero. They stand in "
            "order of what they are worth by your weights, then of price."
        )
    return said.strip()


def _entry(number: int, one: Record, brief: Record, names: Mapping[str, str], study: str, speech: Speech) -> Entry:
    loud, target = loudest(one, brief["noise_scenarios"]), brief["noise_target_dba"]
    return Entry(
        number=number,
        name=names[one["id"]],
        address=build_address(study, one["id"]),
        ties=ties_words([names[other] for other in one["tied_with"] if other in names], len(names)),
        idle=figure(one["predictions"]["idle"]["noise_dba"], "dBA"),
        working=figure(one["predictions"]["working"]["noise_dba"], "dBA"),
        margin=margin_words(one),
        meets=_meets(loud, target, one["noise_chance"]),
        headroom=headroom_words(one["headroom_k"]),
        nearest=nearest_words(one),
        price=money(one["price"], brief["currency"]),
        size=size_words(one),
        mass=f"about {quantity(round(one['loaded_kg']), 'kg')} loaded",
        spare=_spare(one.get("spare_places")),
        apart=speech.say(one["reasons"][-1]) if one["reasons"] else "",
        ends=_ends(one),
    )


def ties_words(names: Sequence[str], of: int) -> str:
    """Say whom an entry ties with, of so many in all.

    >>> ties_words(["A", "B"], 3), ties_words([], 3), ties_words([], 1)
    ('Not told apart from A and B.', 'Told apart from every other entry.', '')
    """
    if not names:
        return "Told apart from every other entry." if of > 1 else ""
    if len(names) == of - 1 > 2:
        return f"Not told apart from any of the other {of - 1} entries."
    more = len(names) - _NAMED
    named = [*names[: _NAMED - 1], f"{more + 1} more"] if more > 0 else list(names)
    return f"Not told apart from {' and '.join(filter(None, (', '.join(named[:-1]), named[-1])))}."


def _meets(loud: Mapping[str, float], target: float, chance: float) -> str:
    """Which state the noise target is in: met, likely met, open."""
    if loud["value"] > target:
        return "bad"
    return "good" if chance >= 0.9 else "warn"


def _spare(places: int | None) -> str:
    if places is None:
        return ""
    return f"{counted(places, 'more drive')}" if places else "no more drives"


def _ends(one: Record) -> str:
    ends = one["ends"]
    if not ends:
        return ""
    quiet, cool = ends["quietest"], ends["coolest"]
    return (
        f"Within its limits it can be set as quiet as {fixed(quiet['noise_dba'], 'dBA')} (then "
        f"{headroom_words(quiet['headroom_k'])} of headroom) or as cool as {headroom_words(cool['headroom_k'])} of "
        f"headroom (then {fixed(cool['noise_dba'], 'dBA')})."
    )


def list_ends(record: Record, study: str) -> Iterator[ListEnd]:
    """Yield the quietest, coolest, cheapest and smallest entries, where there is a choice."""
    entries, brief = record["shortlist"], record["brief"]
    if len(entries) < 2:
        return
    quiet = min(entries, key=lambda one: loudest(one, brief["noise_scenarios"])["value"])
    cool = max(entries, key=lambda one: one["headroom_k"])
    cheap = min(entries, key=lambda one: one["price"])
    heard = figure(loudest(quiet, brief["noise_scenarios"]), "dBA")
    ends = [
        ("Quietest", quiet, f"{heard} at the seat"),
        ("Coolest", cool, f"{headroom_words(cool['headroom_k'])} to its nearest limit"),
        ("Cheapest", cheap, money(cheap["price"], brief["currency"])),
    ]
    if all(one.get("size_m") for one in entries):
        small = min(entries, key=lambda one: one["size_m"][0] * one["size_m"][1] * one["size_m"][2])
        ends.append(("Smallest", small, size_words(small)))
    for word, one, said in ends:
        yield ListEnd(word, enclosure_name(one), said, build_address(study, one["id"]))
