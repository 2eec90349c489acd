"""What the loader would say of a part that is stored already: the same checks, whichever way it came in."""

from __future__ import annotations

from catalog.exporting import block_of
from catalog.formats import PARTS, kind_of
from catalog.importing.checking import Known, Parsed, check_together
from catalog.importing.parsing import BlockParser
from catalog.importing.refusals import Place, Refusal
from catalog.models import Part
from catalog.records import notes_on, record_of


def refusals_of(part: Part, known: Known, own: bool) -> list[Refusal]:
    """Return what would be refused of a part, were it read from a file beside what is ``known``."""
    kind = kind_of(type(part))
    layout = PARTS[kind]
    parser = BlockParser(layout, Place("catalogue", noun=layout.noun, code=part.code))
    record = parser.parse(block_of(layout, record_of(part, layout, notes_on(part))))
    parsed = Parsed(kind, parser.place, record, whole=not parser.refusals)
    return [*parser.refusals, *check_together([parsed], known, own)]
