"""Who says so: a part's figures by key, each with its uncertainty and its source in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.urls import reverse

from catalog.kinds import KIND_OF
from catalog.models import Source
from catalog.models.columns import Checked
from catalog.provenance import Figure
from catalog.shapes import Format, Group, Vector
from frontend.contexts.values import SURE, Uncertainty, day_text

_STATED, _USUAL = "± as stated", "± as is usual for {}"
_KIND_WORDS = {"measured": "measured", "declared": "declared by the maker", "estimated": "estimated"}
_KIND_FIGURES = {"measured": "measured figures", "declared": "declared figures", "estimated": "estimates"}


@dataclass(frozen=True, slots=True)
class SourceWords:
    """A source: its code, its page, how its figures came about, and what a reader should know."""

    code: str
    address: str
    kind: str
    words: str
    note: str


@dataclass(frozen=True)
class Book:
    """All figures of one part by name, the code of the part's own source, and every source that is named."""

    figures: Mapping[str, Figure]
    main: str
    sources: Mapping[str, SourceWords]

    def figure(self, layout: Format, key: str, prefix: str = "") -> Figure | None:
        """Return the figure that a key belongs to; parts of a group or a list of numbers share one."""
        return self.figures.get(prefix + _owner(layout, key))

    def uncertainty(self, layout: Format, key: str, column: Checked, prefix: str = "") -> Uncertainty:
        """Return the uncertainty of what is under a key; in a group, of those that are known as its main one is."""
        found = self.figure(layout, key, prefix)
        if found is None:
            return SURE
        main = layout.figure_column(_owner(layout, key))
        if main is not None and main is not column and main.spread != column.spread:
            return SURE
        return Uncertainty(found.standard_uncertainty, found.relative)

    def source_of(self, layout: Format, key: str, prefix: str = "") -> SourceWords:
        found = self.figure(layout, key, prefix)
        return self.sources[found.source if found else self.main]

    def how_sure(self, layout: Format, key: str) -> str:
        """Return where a figure's uncertainty comes from, an empty text where it has none."""
        found = self.figure(layout, key)
        if found is None or not found.standard_uncertainty:
            return ""
        return _STATED if found.stated else _USUAL.format(_KIND_FIGURES[found.source_kind])


def book(figures: Iterable[Figure], main: str) -> Book:
    """Return figures as a book; sources are read in one query."""
    by_name = {one.name: one for one in figures}
    codes = {main, *(one.source for one in by_name.values())}
    rows = Source.objects.coded_among(codes)
    return Book(by_name, main, {row.code: source_words(row) for row in rows})


def source_words(row: Source) -> SourceWords:
    """Return a source in words."""
    at = f" on {row.bench}" if row.bench else ""
    when = f", {day_text(row.date)}" if row.date else ""
    address = reverse("pages:part", args=[KIND_OF["sources"], row.code])
    return SourceWords(row.code, address, _KIND_WORDS[row.kind], f"{_KIND_WORDS[row.kind]}{at}{when}", row.note)


def _owner(layout: Format, key: str) -> str:
    first = key.partition(".")[0]
    for entry in layout.entries:
        if isinstance(entry, Vector) and key in entry.columns:
            return entry.key
        if isinstance(entry, Group) and first == entry.key:
            return entry.key
    return key
