"""One block at a time, as people send it: parsed, checked beside what is there, written; all of it or nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from django.db import models, transaction
from django.db.models import ProtectedError
from django.db.models.deletion import Collector

from catalog.built_in import is_built_in
from catalog.exporting import block_of
from catalog.formats import FILES, MAKERS, PARTS
from catalog.importing.checking import Parsed, check_together
from catalog.importing.known import hold_codes, known_now
from catalog.importing.parsing import BlockParser
from catalog.importing.refusals import LoadRefused, Place, Refusal
from catalog.importing.writing import write_record
from catalog.models import FigureNote, Maker
from catalog.ownership import PREFIX
from catalog.records import Record, notes_on, record_of
from catalog.validators import CODE

if TYPE_CHECKING:
    from django.contrib.auth.models import User

BODY = Place("body")
_MOST_NAMED = 10

# From a row and its block as it is to the block that it shall be; raises where the change must not be.
Revise = Callable[[models.Model, dict[str, Any]], Any]


class StillNeeded(Exception):
    """A row cannot go, or cannot change its name; ``by`` says in words what rests on it."""

    def __init__(self, by: str) -> None:
        self.by = by
        super().__init__(f"is needed by {by}")


class TooManyOwn(Exception):
    """Somebody has as many own parts as one may have."""


@transaction.atomic
def add_block(*, kind: str, block: Any) -> models.Model:
    """Write a new row of the public catalogue.

    Raises
    ------
    LoadRefused
        With every value that is refused; field names are paths in the block.
    """
    hold_codes()
    return write_record(FILES[kind], _checked(kind, block, None, None))


@transaction.atomic
def add_own_block(*, kind: str, block: Any, owner: User, tag: str, most: int) -> models.Model:
    """Write a new own part of somebody, whose code is formed from the owner's tag and the word given as ``code``."""
    hold_codes()
    if sum(layout.model._default_manager.owned_by(owner).count() for layout in PARTS.values()) >= most:
        raise TooManyOwn(most)
    record = _checked(kind, _with_own_code(block, tag), None, owner)
    return write_record(FILES[kind], record, owner=owner)


@transaction.atomic
def change_block(*, kind: str, rows: models.QuerySet, code: str, revise: Revise) -> models.Model:
    """Write a revised block over the row with a code, which must be among ``rows``; what is as before stays untouched.

    Raises
    ------
    LoadRefused
        With every value that is refused.
    StillNeeded
        When a maker that parts name would be called otherwise.
    """
    row, before = _held(kind, rows, code)
    record = _checked(kind, revise(row, block_of(FILES[kind], before, whole=True)), row, getattr(row, "owner", None))
    if record == before:
        return row
    if isinstance(row, Maker) and record.columns["name"] != row.name:
        refuse_needed(row)
    return write_record(FILES[kind], record, row.pk)


@transaction.atomic
def remove_block(*, kind: str, rows: models.QuerySet, code: str, check: Revise) -> None:
    """Remove the row with a code, which must be among ``rows``, unless ``check`` raises or something rests on it."""
    row, before = _held(kind, rows, code)
    check(row, block_of(FILES[kind], before, whole=True))
    if is_built_in(kind, code):
        raise StillNeeded("every catalogue, as what own parts name")
    refuse_needed(row)
    row.delete()


def _held(kind: str, rows: models.QuerySet, code: str) -> tuple[models.Model, Record]:
    """Return a row that nobody else changes before this transaction ends, and its record."""
    hold_codes()  # before the row, as everyone does, so that no two wait for each other
    row = rows.select_for_update().get(code=code)
    layout = FILES[kind]
    return row, record_of(row, layout, notes_on(row) if layout.is_part else {})


def _with_own_code(block: Any, tag: str) -> Any:
    """Return a block with the code that its word stands for; a word that is none is left for the parser to refuse."""
    word = block.get("code") if isinstance(block, dict) else None
    beginning = f"{PREFIX}{tag}-"
    if not isinstance(word, str) or not CODE.fullmatch(word) or word.startswith(beginning):
        return block
    return {**block, "code": beginning + word}


def _checked(kind: str, block: Any, row: models.Model | None, owner: User | None) -> Record:
    parser = BlockParser(FILES[kind], BODY)
    parsed = Parsed(kind, BODY, parser.parse(block), whole=not parser.refusals)
    refusals = parser.refusals
    if isinstance(block, dict):
        known = known_now(owner)
        if owner is not None:  # an own supply has its air to itself, until it is to be public
            known = replace(known, supplies=())
        refusals += check_together([parsed], known, own=owner is not None)
        refusals += _taken(parsed, row)
    if refusals:
        raise LoadRefused(refusals)
    return parsed.record


def _taken(parsed: Parsed, row: models.Model | None) -> Iterable[Refusal]:
    """Yield a code, and a maker's name, that another row has already, and a code that differs from the row's."""
    others, layout = parsed.layout.model._default_manager.all(), parsed.layout
    if row is not None and parsed.code and parsed.code != row.code:
        yield Refusal(BODY, "code", parsed.code, "is another code: a code never changes", f"'{row.code}'")
    elif row is None and others.coded(parsed.code).exists():
        yield Refusal(BODY, "code", parsed.code, f"is the code of a {layout.noun} already", "a code of its own")
    if layout is MAKERS:
        name = parsed.record.columns.get("name", "")
        holder = Maker.objects.named(name).first()
        if holder and (row is None or holder.pk != row.pk):
            yield Refusal(BODY, "name", name, f"is the name of maker '{holder.code}'", "a name of its own")


def refuse_needed(row: models.Model) -> None:
    """Raise where other rows point at one; own parts are counted, never named."""
    try:
        Collector(using=row._state.db or "default").collect([row])
    except ProtectedError as error:
        raise StillNeeded(_in_words(error.protected_objects)) from None


def _in_words(rows: Iterable[models.Model]) -> str:
    parts = {row.part if isinstance(row, FigureNote) else row for row in rows}
    public = sorted(f"{part._meta.verbose_name} '{part.code}'" for part in parts if part.owner_id is None)
    private = len(parts) - len(public)
    words = public[:_MOST_NAMED]
    if len(public) > _MOST_NAMED:
        words.append(f"{len(public) - _MOST_NAMED} more of the catalogue")
    if private:
        words.append("one own part" if private == 1 else f"{private} own parts")
    return ", ".join(words)
