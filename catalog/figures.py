"""How single figures of a part are called: the key in the catalogue files, with dots on the way down an enclosure.

``r_air_k_w`` is a column, ``curve`` a group, ``openings.front.area_cm2`` a figure of one opening, ``openings.area_cm2``
of all of them, and ``openings`` or ``openings.front`` stand for every figure below.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from catalog.models.columns import Checked
from catalog.models.lists import CheckedList
from catalog.records import Record
from catalog.shapes import Children, Format


@dataclass(frozen=True, slots=True)
class Target:
    """What a figure's key points at; ``column`` is None for all figures below."""

    column: Checked | None

    @property
    def is_list(self) -> bool:
        return isinstance(self.column, CheckedList)


def target_of(layout: Format, record: Record, figure: str) -> Target | None:
    """Return what a key points at within a part, None where there is no such figure."""
    first, _, rest = figure.partition(".")
    entry = layout.by_key.get(first)
    if not isinstance(entry, Children):
        column = layout.figure_column(figure)
        return Target(column) if column else None
    if not rest:
        return Target(None)
    children = record.children.get(first)
    names = {child.columns.get(entry.name_column) for child in children or ()}
    if rest in names:
        return Target(None)
    name, _, key = rest.rpartition(".")
    column = entry.format.figure_column(key)
    if children is None:  # refused as a whole, so that nobody knows the names
        return Target(column)
    return Target(column) if column and (not name or name in names) else None


def figures_of(layout: Format) -> list[str]:
    """Return the keys of all figures of a kind of part, those of children without their codes."""
    return list(_figures(layout, ""))


def _figures(layout: Format, prefix: str) -> Iterator[str]:
    for key, entry in layout.by_key.items():
        if isinstance(entry, Children):
            yield prefix + key
            yield from _figures(entry.format, f"{prefix}{key}.")
        elif layout.figure_column(key):
            yield prefix + key


def more_general(figure: str) -> tuple[str, ...]:
    """Return the keys under which a note on a figure may be found, the most special first.

    >>> more_general("openings.front.area_cm2")
    ('openings.front.area_cm2', 'openings.area_cm2', 'openings.front', 'openings')
    >>> more_general("r_air_k_w")
    ('r_air_k_w',)
    """
    if "." not in figure:
        return (figure,)
    first, _, rest = figure.partition(".")
    name, _, key = rest.rpartition(".")
    return (figure, f"{first}.{key}", f"{first}.{name}", first) if name else (figure, first)
