"""Who says so, and how sure is it: source and standard uncertainty of every figure.

Where nobody stated an uncertainty, it follows from how the figure came about. The table below is common practice, no
source: what careful benches repeat to, what makers' sheets scatter by, and what a ruler and a textbook are good for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from catalog.figures import more_general, target_of
from catalog.formats import PARTS
from catalog.models import FigureNote, Part, Source
from catalog.records import Note, Record, notes_on, record_of, value_of
from catalog.shapes import Children, Format


@dataclass(frozen=True, slots=True)
class Spread:
    """One standard uncertainty by kind of source: a share of the figure where ``relative``, else in its unit."""

    relative: bool
    measured: float
    declared: float
    estimated: float

    def of(self, source_kind: str) -> float:
        return float(getattr(self, source_kind))


SPREADS = {
    "area": Spread(True, 0.05, 0.10, 0.20),
    "leak_area": Spread(True, 0.15, 0.30, 0.40),
    "loss": Spread(True, 0.10, 0.20, 0.30),
    "filter_loss": Spread(True, 0.10, 0.25, 0.40),
    "wall": Spread(True, 0.10, 0.20, 0.30),
    "maldistribution": Spread(False, 0.04, 0.07, 0.10),
    "preheat": Spread(True, 0.10, 0.20, 0.30),
    "insertion_loss": Spread(False, 0.7, 1.0, 1.5),
    "fan_flow": Spread(True, 0.03, 0.05, 0.08),
    "fan_sound": Spread(False, 0.5, 0.8, 1.0),
    "supply_sound": Spread(False, 0.7, 1.0, 1.5),
    "drive_sound": Spread(False, 0.7, 1.0, 1.5),
    "graphics_sound": Spread(False, 0.7, 1.5, 2.0),
    "cooler_resistance": Spread(True, 0.03, 0.05, 0.06),
    "graphics_resistance": Spread(True, 0.04, 0.08, 0.10),
    "inner_resistance": Spread(True, 0.05, 0.10, 0.15),
    "exponent": Spread(False, 0.02, 0.04, 0.05),
    "rise": Spread(True, 0.05, 0.10, 0.15),
    "heat": Spread(True, 0.02, 0.03, 0.04),
    "power": Spread(True, 0.02, 0.05, 0.10),
    "drive_power": Spread(True, 0.02, 0.03, 0.05),
    "efficiency": Spread(False, 0.003, 0.006, 0.010),
    "runtime": Spread(True, 0.05, 0.10, 0.20),
    "length": Spread(False, 0.5, 1.0, 3.0),
    "mass": Spread(True, 0.01, 0.02, 0.10),
    "speed": Spread(True, 0.01, 0.05, 0.10),
    "air_speed": Spread(True, 0.10, 0.20, 0.30),
    "life": Spread(True, 0.20, 0.50, 1.00),
    "pace": Spread(True, 0.02, 0.10, 0.20),
    "rate": Spread(True, 0.20, 0.50, 1.00),
}


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a part with its provenance; ``value`` is a number, a list of points, a mapping or a list.

    ``standard_uncertainty`` is in ``unit``, or, for curves whose every point is as sure, a share (``relative``).
    ``stated`` tells a noted uncertainty from the table's.
    """

    name: str
    value: Any
    unit: str
    source: str
    source_kind: str
    standard_uncertainty: float
    relative: bool
    stated: bool


@dataclass(frozen=True, slots=True)
class Origin:
    """Where one part's figures come from: its own source, its notes, and the kinds of all sources."""

    source: str
    notes: Mapping[str, Note]
    kinds: Mapping[str, str]

    def source_of(self, figure: str) -> str:
        """Return the code of a figure's source: the most special note that names one, else the part's."""
        if self.notes:
            for name in more_general(figure):
                note = self.notes.get(name)
                if note and note.source:
                    return note.source
        return self.source

    def stated(self, figure: str) -> tuple[float, bool] | None:
        """Return the uncertainty noted for a figure and whether it is relative, None where nobody noted one."""
        if self.notes:
            for name in more_general(figure):
                note = self.notes.get(name)
                if note and note.uncertainty is not None:
                    return note.uncertainty, note.relative
        return None

    def default(self, figure: str, spread: str) -> float:
        """Return the table's uncertainty of a figure, relative where the table says so."""
        return SPREADS[spread].of(self.kinds[self.source_of(figure)])

    def share(self, figure: str, spread: str, value: float) -> float:
        """Return one standard uncertainty as a share of the figure, whose spread is a relative one."""
        stated = self.stated(figure)
        if stated is None or (value == 0 and not stated[1]):  # of nothing, no share can be taken
            return self.default(figure, spread)
        return stated[0] if stated[1] else stated[0] / abs(value)

    def absolute(self, figure: str, spread: str, value: float) -> float:
        """Return one standard uncertainty in the figure's own unit, whose spread is an absolute one."""
        stated = self.stated(figure)
        if stated is None:
            return self.default(figure, spread)
        return stated[0] * abs(value) if stated[1] else stated[0]


def source_kinds() -> dict[str, str]:
    """Return the kind of every source by code."""
    return dict(Source.objects.values_list("code", "kind"))


def notes_by_part() -> dict[tuple[str, int], dict[str, Note]]:
    """Return all notes by model name and primary key of their part, in one query."""
    notes: dict[tuple[str, int], dict[str, Note]] = {}
    columns = ("content_type__model", "object_id", "figure", "source", "uncertainty", "relative")
    for model, key, figure, source, uncertainty, relative in FigureNote.objects.values_list(*columns):
        notes.setdefault((model, key), {})[figure] = Note(source, uncertainty, relative)
    return notes


def figure(part: Part, name: str) -> Figure:
    """Return one figure of a part with its unit, source and standard uncertainty.

    Parameters
    ----------
    part : Part
        Any part; of an enclosure, any figure of a zone, opening, bay group or seat too.
    name : str
        The figure's key in the catalogue files, such as ``r_air_k_w`` or ``openings.front.area_cm2``.
    """
    layout, record, origin = _known_of(part)
    found = _figure(layout, record, origin, name)
    if found is None:
        names = ", ".join(figure.name for figure in _figures(layout, record, origin))
        raise KeyError(f"{layout.noun} '{part.code}' has no figure '{name}'; it has {names}")
    return found


def figures(part: Part) -> list[Figure]:
    """Return every figure of a part, those inside an enclosure one by one."""
    return list(_figures(*_known_of(part)))


def layout_of(part: Part) -> Format:
    """Return the file format of a part's kind."""
    return next(layout for layout in PARTS.values() if layout.model is type(part))


def _known_of(part: Part) -> tuple[Format, Record, Origin]:
    layout = layout_of(part)
    notes = notes_on(part)
    return layout, record_of(part, layout, notes), Origin(part.source_id, notes, source_kinds())


def _figures(layout: Format, record: Record, origin: Origin) -> Iterator[Figure]:
    for key, entry in layout.by_key.items():
        names = [key]
        if isinstance(entry, Children):
            codes = [child.columns[entry.name_column] for child in record.children[key]]
            names = [f"{key}.{code}.{inner}" for code in codes for inner in entry.format.by_key]
        found = (_figure(layout, record, origin, name) for name in names)
        yield from (figure for figure in found if figure)


def _figure(layout: Format, record: Record, origin: Origin, name: str) -> Figure | None:
    target, place = target_of(layout, record, name), _place_of(layout, record, name)
    if target is None or target.column is None or place is None:
        return None
    value = value_of(*place)
    is_leak = target.column.spread == "area" and place[1].columns.get("kind") == "leak"
    spread_name = "leak_area" if is_leak else target.column.spread
    stated, spread = origin.stated(name), SPREADS.get(spread_name)
    size, relative = stated or ((origin.default(name, spread_name), spread.relative) if spread else (0.0, False))
    if relative and isinstance(value, int | float):
        size, relative = size * abs(value), False
    source = origin.source_of(name)
    return Figure(name, value, target.column.unit, source, origin.kinds[source], size, relative, stated is not None)


def _place_of(layout: Format, record: Record, name: str) -> tuple[Format, Record, str] | None:
    """Return the layout, the record and the last key that a figure's name leads to."""
    first, _, rest = name.partition(".")
    entry = layout.by_key.get(first)
    if not isinstance(entry, Children):
        return layout, record, first
    code, _, key = rest.rpartition(".")
    for child in record.children[first]:
        if child.columns[entry.name_column] == code:
            return entry.format, child, key
    return None
