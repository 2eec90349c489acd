"""What is done with an entry: shown as it would be stored, or stored as somebody's own enclosure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.db.models import QuerySet
from django.utils.text import slugify

from advisor.engine.errors import EngineError
from advisor.models import TapeRecord
from advisor.tape.block import TapeResult, enclosure_of
from advisor.tape.entry import TapeEntry
from catalog.built_in import ESTIMATE, MEASURE, OWN_MAKER
from catalog.formats import ENCLOSURES
from catalog.importing.checking import Known, Parsed, check_together
from catalog.importing.parsing import BlockParser
from catalog.importing.refusals import Place, Refusal
from catalog.importing.single import add_own_block, change_block
from catalog.models import Enclosure
from catalog.ownership import PREFIX

if TYPE_CHECKING:
    from django.contrib.auth.models import User

KIND = "enclosures"
_WORD = "enclosure"
_LONGEST_WORD = 40
_ANY_TAG = "a" * 8  # stands for a person's tag, which is as long


class NotAccepted(EngineError):
    """What was derived is not a block that the catalogue takes: a fault of ours, not of the entry."""


def word_of(entry: TapeEntry) -> str:
    """Return the word that ends an own enclosure's code: the one given, else one made from the name."""
    return entry.code or slugify(entry.name)[:_LONGEST_WORD].strip("-_") or _WORD


def derive(entry: TapeEntry) -> TapeResult:
    """Derive an entry's block and hold it against the catalogue's rules; nothing is stored.

    Raises
    ------
    NotAccepted
        When the catalogue would refuse what was derived.
    """
    result = enclosure_of(entry, word_of(entry))
    refused = refusals_of(result)
    if refused:
        raise NotAccepted(f"enclosure '{word_of(entry)}': {'; '.join(map(str, refused))}")
    return result


def refusals_of(result: TapeResult) -> list[Refusal]:
    """Return what the catalogue would refuse of a derived block."""
    parser = BlockParser(ENCLOSURES, Place("entry"))
    record = parser.parse({**result.block, "code": f"{PREFIX}{_ANY_TAG}-{result.block['code']}"})
    parsed = Parsed(KIND, parser.place, record, whole=not parser.refusals)
    known = Known({ESTIMATE, MEASURE}, {OWN_MAKER}, {})
    return parser.refusals + list(check_together([parsed], known, own=True))


@transaction.atomic
def enter_enclosure(
    *, entry: TapeEntry, given: Mapping[str, Any], owner: User, tag: str, most: int
) -> tuple[Enclosure, TapeResult]:
    """Store an entry as an own enclosure of somebody with a handle's tag who may have ``most`` own parts.

    ``given`` is the entry as it was given, which is kept to be entered again.

    Raises
    ------
    catalog.importing.refusals.LoadRefused
        When the code is taken.
    catalog.importing.single.TooManyOwn
        When the person has as many own parts as one may have.
    """
    result = derive(entry)
    row = add_own_block(kind=KIND, block=result.block, owner=owner, tag=tag, most=most)
    TapeRecord.objects.create(enclosure=row, given=dict(given))
    return row, result


@transaction.atomic
def enter_again(
    *, entry: TapeEntry, given: Mapping[str, Any], rows: QuerySet, code: str, check: Callable[[Enclosure], None]
) -> Enclosure:
    """Derive the enclosure with a code, which must be among ``rows``, anew; ``check`` raises where it must not be.

    Raises
    ------
    catalog.importing.refusals.LoadRefused
        When the catalogue would refuse what was derived.
    """
    derived = enclosure_of(entry, code).block

    def revise(row: Enclosure, before: dict[str, Any]) -> dict[str, Any]:
        check(row)
        return derived

    row = change_block(kind=KIND, rows=rows, code=code, revise=revise)
    TapeRecord.objects.update_or_create(enclosure=row, defaults={"given": dict(given)})
    return row
