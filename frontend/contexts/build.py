"""One build of an answer, as its page shows it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from advisor.models import Study
from frontend.contexts.answers import (
    brief_address,
    build_address,
    builds_of,
    headroom_words,
    json_address,
    margin_words,
    nearest_words,
    size_words,
    watts,
)
from frontend.contexts.build_parts import alike, bought, brought
from frontend.contexts.build_scenario import ScenarioView, is_whole, scenario_shown, scenario_view
from frontend.contexts.build_settings import ends, speed_notes, speeds, warmth
from frontend.contexts.build_supply import (
    BayGroup,
    Fact,
    bay_groups,
    power_by_part,
    power_facts,
    power_states,
    storage_facts,
)
from frontend.contexts.entries import ties_words
from frontend.contexts.sentences import Speech, speech_of
from frontend.contexts.studies import name_of
from frontend.contexts.tables import Table
from frontend.pictures.housing import Housing
from frontend.pictures.intervals import Intervals, enclosure_name, nearest_limits
from frontend.templatetags.quantities import figure, money, quantity, share
from frontend.templatetags.words import requirement

Record = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a build stands in its answer.

    ``whole_address`` leads to the build of the same enclosure of which more is kept, empty where it is this one.
    """

    words: str
    detail: str
    state: str
    whole_address: str = ""


@dataclass(frozen=True, slots=True)
class BuildPage:
    """One build: what to buy, how to set it up, and what is to be expected of it."""

    study_title: str
    study_address: str
    brief_address: str
    json_address: str
    name: str
    place: Place
    shortfalls: tuple[str, ...]
    facts: tuple[Fact, ...]
    bought: Table
    brought: Table
    speeds: Table
    speed_notes: tuple[str, ...]
    ends: Table
    limits: Intervals
    warmth: Table
    scenario: ScenarioView
    bays: tuple[BayGroup, ...]
    power: Table
    power_by_part: Table
    power_facts: tuple[Fact, ...]
    storage: tuple[Fact, ...]
    assumptions: tuple[str, ...]
    reasons: tuple[str, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]
    general_cautions: tuple[str, ...]
    alike: Table


def find_build(record: Record, identity: str) -> Record | None:
    """Return the build of a record with an identity, None where it keeps none in full."""
    return next((one for one in builds_of(record) if one["id"] == identity), None)


def build_page(study: Study, record: Record, build: Record, asked: str | None, housing: Housing) -> BuildPage:
    """Return a build's page; ``asked`` is the scenario to look at, if it is one, and ``housing`` its enclosure."""
    identity, currency = str(study.pk), record["brief"]["currency"]
    family = _family(record, build)
    speech = speech_of((*record["shortlist"], build))
    storage = build["storage"]
    return BuildPage(
        study_title=name_of(study),
        study_address=reverse("pages:study", args=[identity]),
        brief_address=brief_address(identity),
        json_address=json_address(identity),
        name=enclosure_name(build),
        place=_place(record, build, identity, speech),
        shortfalls=tuple(speech.say(one["text"]) for one in build.get("shortfalls", ())),
        facts=tuple(_facts(build, record["brief"])),
        bought=bought(build, currency),
        brought=brought(build),
        speeds=speeds(build),
        speed_notes=tuple(speed_notes(build)),
        ends=ends(build),
        limits=nearest_limits(build),
        warmth=warmth(build),
        scenario=scenario_view(build, scenario_shown(build, asked), housing, identity),
        bays=tuple(bay_groups(build, housing)),
        power=power_states(build["power"]),
        power_by_part=power_by_part(build["power"]),
        power_facts=tuple(power_facts(build["power"], currency, speech)),
        storage=tuple(storage_facts(storage)),
        assumptions=tuple(storage["assumptions"]) if storage else (),
        reasons=tuple(map(speech.say, build["reasons"])),
        warnings=tuple(map(speech.say, build["warnings"])),
        cautions=tuple(map(speech.say, build["cautions"])),
        general_cautions=tuple(record["cautions"]),
        alike=alike(build, family, currency, identity),
    )


def _family(record: Record, build: Record) -> Sequence[Record]:
    """Return the kept builds of a build's enclosure, best first; those of near misses have no worth to compare."""
    entry = next((one for one in record["shortlist"] if one["enclosure"] == build["enclosure"]), None)
    return () if entry is None else (entry, *entry["alternatives"])


def _place(record: Record, build: Record, study: str, speech: Speech) -> Place:
    entries = record["shortlist"]
    if "rank" in build:
        names = {one["id"]: enclosure_name(one) for one in entries}
        ties = ties_words([names[one] for one in build["tied_with"] if one in names], len(entries))
        return Place(f"Rank {build['rank']} of {len(entries)} entries", ties, "good")
    if "miss" in build:
        said = "Near miss: of its enclosure’s builds this one comes closest, but it does not keep every limit."
        return Place(f"Ruled out: {requirement(build['code'])}", said, "bad", "")
    entry = next(one for one in entries if one["enclosure"] == build["enclosure"])
    number = [one["id"] for one in entry["alternatives"]].index(build["id"]) + 1
    said = f"Keeps every limit; another build of the same enclosure is worth more (rank {entry['rank']})."
    address = "" if is_whole(build) else build_address(study, entry["id"])
    return Place(f"Alternative {number} of its enclosure", said, "good", address)


def _facts(build: Record, brief: Record) -> Iterator[Fact]:
    idle, working = (figure(build["predictions"][code]["noise_dba"], "dBA") for code in ("idle", "working"))
    target = quantity(brief["noise_target_dba"], "dBA")
    yield Fact("Noise at the seat", f"{idle} idle, {working} working; target {target}: {margin_words(build)}")
    left = headroom_words(build["headroom_k"]) + (" of headroom" if build["headroom_k"] >= 0 else "")
    yield Fact("Nearest limit", f"{nearest_words(build)}, {left}")
    yield Fact("Price", money(build["price"], brief["currency"]))
    if size_words(build):
        yield Fact("Size", f"{size_words(build)} (width × height × depth as it stands)")
    yield Fact("Weight", f"about {quantity(round(build['loaded_kg']), 'kg')} with everything in it (estimate)")
    states = build["power"]["scenarios"]
    yield Fact("From the wall", f"{watts(states['idle']['wall_w'])} idle, {_most(states)} at most")
    if "desirability" in build:
        yield Fact("Worth by your weights", f"{share(build['desirability'])} of what would count in full")


def _most(states: Record) -> str:
    return watts(max(one["wall_w"] for one in states.values()))
