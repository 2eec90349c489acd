"""A part's page: every figure with who says so, and what belongs to its kind: curves, openings, bays."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from advisor.assembly.parts import fan as engine_fan
from advisor.engine.inputs import FanCurve
from advisor.engine.units import to_si
from catalog.kinds import KIND_OF, Kind
from catalog.models import Enclosure, Fan, Graphics, Part, Supply
from catalog.provenance import Origin, figures, source_kinds
from catalog.records import notes_on
from frontend.contexts.columns import by_subject, help_of, label_of
from frontend.contexts.inside import Section, inside_sections
from frontend.contexts.lists import noun_of, title_of
from frontend.contexts.provenance import Book, SourceWords, book
from frontend.contexts.values import spread_text, value_text
from frontend.pictures import air, housing
from frontend.pictures.air import AirPicture
from frontend.pictures.air import figures as air_figures
from frontend.pictures.curve import Blower, Chart, of_fan, pressure_chart


@dataclass(frozen=True, slots=True)
class FigureLine:
    """One figure: its name and what it is, its value in one or more lines, and who says so."""

    label: str
    help: str
    lines: tuple[str, ...]
    spread: str
    source: SourceWords
    how_sure: str


@dataclass(frozen=True, slots=True)
class Subject:
    """Figures that belong together."""

    title: str
    lines: tuple[FigureLine, ...]


@dataclass(frozen=True, slots=True)
class PartContext:
    """Everything that a part's page shows of the part itself."""

    kind: Kind
    title: str
    noun: str
    code: str
    name: str
    maker: str
    maker_address: str
    change_address: str
    subjects: tuple[Subject, ...]
    sources: tuple[SourceWords, ...]
    charts: tuple[Chart, ...]
    air: AirPicture | None
    inside: tuple[Section, ...]


@dataclass(frozen=True, slots=True)
class ReferenceContext:
    """The page of a maker or a source: its facts in words."""

    kind: Kind
    code: str
    name: str
    facts: tuple[tuple[str, str], ...]


def part_context(kind: Kind, row: Part) -> PartContext:
    """Return what the page of a part shows; fetch its maker, its notes, and what is inside it, along."""
    found = book(figures(row), row.source_id)
    box = housing.of_row(row) if isinstance(row, Enclosure) else None
    sources = sorted(found.sources.values(), key=lambda one: (one.code != found.main, one.code))
    return PartContext(
        kind,
        title_of(kind),
        noun_of(kind),
        row.code,
        row.name,
        row.maker_id,
        reverse("pages:part", args=[KIND_OF["makers"], row.maker.code]),
        reverse("pages:own-change", args=[kind, row.code]),
        tuple(_subjects(kind, row, found)),
        tuple(sources),
        tuple(_charts(row)),
        air.of_housing(box) if box and box.zones else None,
        inside_sections(row, found, air_figures.of_housing(box)) if box else (),
    )


def reference_context(kind: Kind, row: Any) -> ReferenceContext:
    """Return what the page of a maker or a source shows."""
    columns = ((name, column) for name, column in kind.layout.columns.items() if name not in ("code", "name"))
    facts = ((label_of(name), column, getattr(row, name)) for name, column in columns)
    said = tuple((label, value_text(column, value)) for label, column, value in facts if value not in ("", None))
    return ReferenceContext(kind, row.code, getattr(row, "name", row.code), said)


def _subjects(kind: Kind, row: Part, found: Book) -> Iterator[Subject]:
    for title, keys in by_subject(kind.layout):
        # The faces of an enclosure stand with the sources whose sound they hold back.
        lines = tuple(
            _line(kind, row, found, key, name) for key, name in keys if not key.startswith("insertion_loss_db")
        )
        shown = tuple(line for line in lines if line is not None)
        if shown:
            yield Subject(title, shown)


def _line(kind: Kind, row: Part, found: Book, key: str, name: str) -> FigureLine | None:
    layout, column, value = kind.layout, kind.layout.columns[name], getattr(row, name)
    if value is None:  # a loss at rest that nobody measured, a board without a blower
        return None
    u = found.uncertainty(layout, key, column)
    return FigureLine(
        label_of(key),
        "" if help_of(column).rstrip(".").lower() == label_of(key).lower() else help_of(column),
        tuple(value_text(column, value, u).splitlines()),
        spread_text(column, u),
        found.source_of(layout, key),
        found.how_sure(layout, key) if u.size else "",
    )


def _charts(row: Part) -> Iterator[Chart]:
    if not isinstance(row, Fan | Supply | Graphics) or not row.curve_points_m3h_pa:
        return
    origin = Origin(row.source_id, notes_on(row), source_kinds())
    if isinstance(row, Fan):
        picture = of_fan(engine_fan(row, origin))
        yield from (picture.pressure, picture.noise)
        return
    points = tuple((to_si(flow, "m3/h"), pressure) for flow, pressure in row.curve_points_m3h_pa)
    curve = FanCurve(points, row.curve_speed_rpm, row.curve_density_kg_m3, row.curve_rest_loss_pa_s2_m6)
    share, speed = origin.share("curve", "fan_flow", 0.0), row.curve_speed_rpm
    yield pressure_chart(Blower(row.name, curve, share, speed, speed, (), (), 0.0))
