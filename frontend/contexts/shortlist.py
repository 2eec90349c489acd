"""What a study found, as its page shows it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.models import Study
from advisor.reports.standing import StudyStatus
from frontend.contexts.studies import name_of
from frontend.contexts.tables import Cell, Column, Table
from frontend.pictures.intervals import enclosure_name
from frontend.templatetags.quantities import counted, figure, fixed, money

_COLUMNS = (
    Column("Enclosure"),
    Column("Rank", numeric=True),
    Column("Price", numeric=True),
    Column("Noise, working", numeric=True),
    Column("Least headroom", numeric=True),
)


@dataclass(frozen=True, slots=True)
class ShortlistPage:
    """The ranked answer to a study."""

    identity: str
    title: str
    counts: str
    table: Table


def shortlist_page(study: Study, standing: StudyStatus) -> ShortlistPage:
    """Return what a finished study found."""
    record = standing.record or {}
    counts, currency = record["counts"], record["brief"]["currency"]
    rows = tuple(
        (
            Cell(enclosure_name(entry)),
            Cell(str(entry["rank"])),
            Cell(money(entry["price"], currency)),
            Cell(figure(entry["predictions"]["working"]["noise_dba"], "dBA")),
            Cell(fixed(entry["headroom_k"], "K")),
        )
        for entry in record["shortlist"]
    )
    said = f"{counted(counts['considered'], 'build')} considered, {counted(counts['accepted'], 'build')} accepted"
    return ShortlistPage(
        str(study.pk), name_of(study), said, Table("Shortlist", _COLUMNS, rows, "No build keeps every limit.")
    )
