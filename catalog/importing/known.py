"""What the catalogue holds already, for whoever is about to add to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from catalog.built_in import BUILT_IN, OWN_MAKER
from catalog.formats import PARTS
from catalog.importing.checking import Known, Parsed
from catalog.importing.refusals import Place
from catalog.models import Maker, Source, Supply
from catalog.records import record_of

if TYPE_CHECKING:
    from catalog.querysets.parts import Person


def known_now(owner: Person | None = None) -> Known:
    """Return what public parts to come must agree with; of an ``owner``, what that person's own parts must."""
    kinds = {
        code: kind
        for kind, layout in PARTS.items()
        for code in layout.model._default_manager.visible(to=owner).values_list("code", flat=True)
    }
    sources = set(Source.objects.values_list("code", flat=True))
    makers = set(Maker.objects.values_list("name", flat=True))
    layout = PARTS["supplies"]
    supplies = tuple(
        Parsed("supplies", Place("catalogue", noun=layout.noun, code=supply.code), record_of(supply, layout, {}))
        for supply in Supply.objects.visible(to=owner)
    )
    return Known(sources, makers, kinds, supplies)


def built_in_only() -> Known:
    """Return what is left of a catalogue whose every public part is about to be replaced."""
    return Known(set(BUILT_IN["sources"]), {OWN_MAKER}, {})


def hold_codes() -> None:
    """Make others who are about to add public parts wait for the end of this transaction.

    The database keeps a code unique within a kind of part only, and briefs name parts by code alone: whoever gives out
    a public code looks at all kinds, and must be the only one who does.
    """
    list(Maker.objects.coded("own").select_for_update())
