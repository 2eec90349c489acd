"""The keys ``sources`` and ``uncertainty`` of a block: what is special about single figures."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from catalog.figures import Target, figures_of, target_of
from catalog.importing.refusals import nearest
from catalog.provenance import SPREADS
from catalog.records import Note, Record
from catalog.validators import Range

if TYPE_CHECKING:
    from catalog.importing.parsing import BlockParser

NOTE_KEYS = ("sources", "uncertainty")
MOST_NOTES = 500
MOST_HINTS = 20
_PERCENT = re.compile(r"(\d{1,6}(?:\.\d{1,12})?) ?%")
_ABSOLUTE = Range("", 0, 1e9)
_SHARE = Range("%", 0, 1000)


def parse_notes(parser: BlockParser, block: dict[str, Any], record: Record) -> dict[str, Note]:
    """Read both mappings of a block into one note for each figure."""
    named = _entries(parser, block, "sources", record)
    sources = {figure: code for figure, code, _ in named if _is_source(parser, figure, code)}
    uncertainties = {}
    for figure, value, target in _entries(parser, block, "uncertainty", record):
        read = _uncertainty(parser, figure, value, target)
        if read:
            uncertainties[figure] = read
    noted = {**sources, **uncertainties}
    return {figure: Note(sources.get(figure), *uncertainties.get(figure, (None, False))) for figure in noted}


def _entries(parser: BlockParser, block: dict[str, Any], key: str, record: Record) -> list[tuple[str, Any, Target]]:
    mapping = block.get(key)
    if mapping is None:
        return []
    if not isinstance(mapping, dict):
        parser.refuse(key, mapping, "is not a mapping from figures")
        return []
    if len(mapping) > MOST_NOTES:
        parser.refuse(key, mapping, f"has {len(mapping)} figures", f"up to {MOST_NOTES} figures")
        return []
    found = []
    before = len(parser.refusals)
    for figure, value in mapping.items():
        target = target_of(parser.layout, record, figure)
        if target is None:
            few = len(parser.refusals) - before < MOST_HINTS  # to look for the nearest takes a while
            hint = nearest(figure, figures_of(parser.layout)) if few else "a figure of this part"
            parser.refuse(f"{key}.{figure:.80}", value, "is not a figure of this part", hint)
        else:
            found.append((figure, value, target))
    return found


def _is_source(parser: BlockParser, figure: str, code: Any) -> bool:
    if isinstance(code, str) and code:
        return True
    parser.refuse(f"sources.{figure}", code, "is not the code of a source")
    return False


def _uncertainty(parser: BlockParser, figure: str, value: Any, target: Target) -> tuple[float, bool] | None:
    """Return one standard uncertainty and whether it is a share of the figure."""
    key = f"uncertainty.{figure}"
    if target.column is None:
        parser.refuse(key, value, "cannot hold for different figures at once", "a figure, such as openings.area_cm2")
        return None
    spread = SPREADS.get(target.column.spread)
    percent = _PERCENT.fullmatch(value) if isinstance(value, str) else None
    by_share = spread is not None and spread.relative
    if target.is_list and by_share != bool(percent):
        unit = target.column.unit or "the unit of the points"
        wanted = "a percentage such as '5 %'" if by_share else f"a number in {unit}"
        parser.refuse(key, value, "does not suit a list of points", wanted)
        return None
    reason = _SHARE.check(float(percent[1])) if percent else _ABSOLUTE.check(value)
    if reason:
        parser.refuse(key, value, reason, f"a number {_ABSOLUTE} in the figure's unit, or a percentage such as '5 %'")
        return None
    return (float(percent[1]) / 100, True) if percent else (float(value), False)
