"""What a shortlist leaves out: builds by the requirement that they miss, and the nearest misses."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from frontend.contexts.answers import build_address
from frontend.contexts.sentences import Speech
from frontend.contexts.tables import Cell, Column, Table
from frontend.pictures.intervals import enclosure_name
from frontend.templatetags.quantities import count, counted, share
from frontend.templatetags.words import requirement, sentence_case

Record = Mapping[str, Any]
_COLUMNS = (Column("Requirement missed"), Column("Builds", numeric=True), Column("Of all", numeric=True))


@dataclass(frozen=True, slots=True)
class Miss:
    """An enclosure without an accepted build: what its nearest one misses, and what would let it in."""

    name: str
    misses: str
    text: str
    address: str


def ruled_out(counts: Record) -> Table:
    """Return how many builds were ruled out by what, the most frequent first."""
    by_count = sorted(counts["rejected"].items(), key=lambda pair: (-pair[1], pair[0]))
    rows = tuple(
        (Cell(sentence_case(requirement(code))), Cell(count(many)), Cell(share(many / counts["considered"])))
        for code, many in by_count
    )
    return Table("Ruled out, each build under the first requirement that it misses", _COLUMNS, rows)


def left_out(pruned: int) -> str:
    """Say what was not worked out one by one, and why that changes nothing; empty where there was none."""
    if not pruned:
        return ""
    return (
        f"A further {counted(pruned, 'build')} {'was' if pruned == 1 else 'were'} not worked out to the end: bounds on "
        "their figures prove that none of them could be in this list, so it is the same as if all had been."
    )


def misses(record: Record, study: str, speech: Speech) -> Iterator[Miss]:
    """Yield the nearest misses, the nearest first; those whose parts fit have a page."""
    for one in record["nearest_misses"]:
        address = build_address(study, one["id"]) if "predictions" in one else ""
        yield Miss(enclosure_name(one), requirement(one["code"]), speech.say(one["text"]), address)
