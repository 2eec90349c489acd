"""What a study found, as its page shows it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from advisor.brief.words import CHOICES
from advisor.models import Study
from advisor.reports.standing import StudyStatus
from frontend.contexts.answers import brief_address, json_address
from frontend.contexts.entries import ListEnd, Rank, list_ends, ranks
from frontend.contexts.ruled_out import Miss, left_out, misses, ruled_out
from frontend.contexts.sentences import speech_of
from frontend.contexts.studies import moment, name_of
from frontend.contexts.tables import Table
from frontend.pictures.intervals import Intervals, enclosure_name, noise_of_entries
from frontend.pictures.trade import TradePicture, of_shortlist
from frontend.templatetags.quantities import counted, quantity

Record = Mapping[str, Any]
_MISSES_SHOWN = 5


@dataclass(frozen=True, slots=True)
class ShortlistPage:
    """The ranked answer to a study.

    ``lead`` is the answer in a sentence, ``asked`` the brief in a few facts. Pictures are None where nothing can be
    compared.
    """

    title: str
    lead: str
    asked: tuple[str, ...]
    found: str
    notes: tuple[str, ...]
    warnings: tuple[str, ...]
    ranks: tuple[Rank, ...]
    ends: tuple[ListEnd, ...]
    noise: Intervals | None
    trades: tuple[TradePicture, ...]
    counts: str
    ruled_out: Table
    left_out: str
    misses: tuple[Miss, ...]
    more_misses: tuple[Miss, ...]
    cautions: tuple[str, ...]
    brief_address: str
    json_address: str
    guest: bool


def shortlist_page(study: Study, standing: StudyStatus) -> ShortlistPage:
    """Return what a finished study found."""
    record = standing.record or {}
    identity, counts, entries = str(study.pk), record["counts"], record["shortlist"]
    speech = speech_of((*entries, *record["nearest_misses"]))
    missed = tuple(misses(record, identity, speech))
    return ShortlistPage(
        title=name_of(study),
        lead=_lead(record, standing.chunks_total),
        asked=tuple(_asked(record["brief"])),
        found=f"Answered {moment(standing.finished_at)}" if standing.finished_at else "",
        notes=tuple(speech.say(note) for note in record["notes"]),
        warnings=tuple(one["message"] for one in study.warnings),
        ranks=tuple(ranks(record, identity, speech)),
        ends=tuple(list_ends(record, identity)),
        noise=_noise(record) if entries else None,
        trades=tuple(one for other in ("headroom", "price") if (one := of_shortlist(record, other)) is not None),
        counts=_counts(counts, standing.chunks_total),
        ruled_out=ruled_out(counts),
        left_out=left_out(counts["pruned"]),
        misses=missed[:_MISSES_SHOWN],
        more_misses=missed[_MISSES_SHOWN:],
        cautions=tuple(record["cautions"]),
        brief_address=brief_address(identity),
        json_address=json_address(identity),
        guest=study.owner_id is None,
    )


def _lead(record: Record, enclosures: int) -> str:
    entries = record["shortlist"]
    if not entries:
        return f"No build of {counted(enclosures, 'enclosure')} keeps every limit. What stands in the way is below."
    first = [one for one in entries if one["rank"] == entries[0]["rank"]]
    listed = len(entries)
    said = f"{listed} of {counted(enclosures, 'enclosure')} {'has' if listed == 1 else 'have'} a build to consider"
    name = enclosure_name(entries[0])
    if listed == 1:
        return f"{said}: {name}."
    if len(first) == 1:
        return f"{said}. {name} leads, and is told apart from all that follow."
    others = "the other one" if len(first) == 2 == listed else f"{len(first) - 1} of the others"
    return f"{said}. {name} comes first, but the measurements cannot tell it apart from {others}."


def _counts(counts: Record, enclosures: int) -> str:
    rejected, accepted = sum(counts["rejected"].values()), counts["accepted"]
    kept = counted(accepted, "build") if accepted else "none"
    return (
        f"{counted(counts['considered'], 'build')} in {counted(enclosures, 'enclosure')} were considered: "
        f"{kept} {'were' if accepted > 1 else 'was'} found to keep every limit, "
        f"{counted(rejected, 'build')} {'was' if rejected == 1 else 'were'} ruled out."
    )


def _noise(record: Record) -> Intervals:
    brief = record["brief"]
    judged = brief["noise_scenarios"]
    loud = max(judged, key=lambda code: max(e["predictions"][code]["noise_dba"]["value"] for e in record["shortlist"]))
    return noise_of_entries(record["shortlist"], brief["noise_target_dba"], loud)


def _asked(brief: Record) -> Iterator[str]:
    heat = f"processor {quantity(brief['processor_watts'], 'W')}"
    if brief["graphics_count"]:
        boards = f"{brief['graphics_count']} × " if brief["graphics_count"] > 1 else ""
        heat += f", graphics {boards}{quantity(brief['graphics_watts'], 'W')}"
    yield heat
    yield CHOICES["board_form"][brief["board_form"]].partition(" (")[0]
    layout = CHOICES["layout"][brief["layout"]].partition(" (")[0]
    if brief["drive_count"]:
        yield f"{counted(brief['drive_count'], 'drive')}, {layout}"
    elif brief["usable_capacity_tb"]:
        yield f"{quantity(brief['usable_capacity_tb'], 'TB')} usable, {layout}"
    else:
        yield "no drives"
    seat = quantity(brief["seat_distance_m"], "m")
    yield f"at most {quantity(brief['noise_target_dba'], 'dBA')} at {seat}"
    yield f"room {quantity(brief['ambient_c'], '°C')}, {quantity(brief['hot_day_c'], '°C')} on a hot day"
