"""Which sources and makers parts rest on, and which of them belong into catalogue files."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from catalog.built_in import BUILT_IN, is_built_in
from catalog.formats import FILES, PARTS
from catalog.models import FigureNote
from catalog.querysets.parts import PartQuerySet
from catalog.records import Record, records_of


@dataclass(frozen=True, slots=True)
class References:
    """Codes of the sources and of the makers that some parts, and the notes on them, name."""

    sources: set[str]
    makers: set[str]

    def of_kind(self, kind: str) -> set[str]:
        return {"sources": self.sources, "makers": self.makers}[kind]


def references_of(chosen: Callable[[PartQuerySet], PartQuerySet]) -> References:
    """Return what parts rest on: of each kind, those that ``chosen`` takes."""
    found = References(set(), set())
    noted: dict[tuple[str, int], list[str]] = {}
    for model, key, source in FigureNote.objects.sources_by_part():
        noted.setdefault((model, key), []).append(source)
    for layout in PARTS.values():
        rows = chosen(layout.model._default_manager.all())
        for key, source, maker in rows.values_list("pk", "source_id", "maker__code"):
            found.sources.update((source, *noted.get((layout.model._meta.model_name or "", key), ())))
            found.makers.add(maker)
    return found


def public_records(kind: str) -> list[Record]:
    """Return what catalogue files say of a kind: built-in sources and makers only where a public part rests on them."""
    records = list(records_of(FILES[kind]).values())
    if kind not in BUILT_IN:
        return records
    used = references_of(PartQuerySet.public).of_kind(kind)
    return [r for r in records if not is_built_in(kind, r.columns["code"]) or r.columns["code"] in used]
