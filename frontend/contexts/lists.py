"""A list of the catalogue: what is asked, what was found, in what order, page by page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.core.paginator import Page
from django.urls import reverse

from advisor.access.objects import may_add_public
from catalog.kinds import Kind
from frontend.contexts.finding import Finder
from frontend.contexts.list_columns import ListColumn, list_columns
from frontend.contexts.tables import Cell
from frontend.templatetags.words import sentence_case

# Where the plural of the address is not what people say.
_SAID = {
    "graphics": "graphics boards",
    "boards": "main boards",
    "drives": "drives in bays",
    "cards": "add-in cards",
    "solid-state-drives": "solid-state drives",
}
_NOUNS = {"supplies": "power supply", "boards": "main board", "cards": "add-in card"}
KIND_SAYS = {
    "enclosures": "what everything sits in: openings, bays, and how much sound each face holds back",
    "fans": "case fans with their measured curve and sound",
    "coolers": "processor coolers with their thermal resistance",
    "supplies": "their losses, and the air and sound of their own fan",
    "drives": "heat, sound, spin-up current and temperature limit",
    "boards": "ports, slots and heat",
    "processors": "as heat behind a resistance",
    "graphics": "heat, length and where they blow",
    "controllers": "storage controllers that want moving air",
    "adapters": "frames that put drives of one width into bays of another",
    "ssds": "drives on the main board",
    "cards": "what else makes heat in a slot",
    "ups_units": "what they carry and for how long",
    "makers": "who makes the parts",
    "sources": "benches, declarations and estimates: who says so",
}


@dataclass(frozen=True, slots=True)
class Heading:
    """A column's head: a link that sorts by it, and how it is sorted now (``aria-sort``), if it is."""

    words: str
    numeric: bool
    address: str = ""
    sorted: str = ""


@dataclass(frozen=True, slots=True)
class Owner:
    """Whose parts a list may be asked for."""

    word: str
    words: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class ListPage:
    """The page of a list; ``is_read`` is false where what is asked cannot be read.

    ``errors`` are those of names that have no field in the form.
    """

    kind: Kind
    title: str
    headings: tuple[Heading, ...]
    rows: tuple[tuple[Cell, ...], ...]
    is_read: bool
    total: int
    first: int
    last: int
    previous: str
    next: str
    finder: Finder
    errors: tuple[tuple[str, str], ...]
    is_asked: bool
    is_open: bool
    ordering: str
    owners: tuple[Owner, ...]
    own_address: str

    @property
    def lines(self) -> list[list[tuple[Heading, Cell]]]:
        return [list(zip(self.headings, row, strict=True)) for row in self.rows]

    @property
    def caption(self) -> str:
        """What the table holds, and how it is sorted, in words."""
        sorted_by = next((f", {one.words.lower()} {one.sorted}" for one in self.headings if one.sorted), "")
        if self.total <= self.last - self.first + 1:
            return f"{self.title}, {self.total} in all{sorted_by}"
        return f"{self.title} {self.first} to {self.last} of {self.total}{sorted_by}"


def said_of(kind: Kind) -> str:
    """Return the plural by which people know a kind."""
    return _SAID.get(kind.path, kind.plural)


def noun_of(kind: Kind) -> str:
    """Return the singular by which people know a kind."""
    return _NOUNS.get(kind.file, kind.layout.noun)


def title_of(kind: Kind) -> str:
    return sentence_case(said_of(kind))


def first_order(kind: Kind) -> str:
    """Return by what a list is sorted unless told: by name, where its rows have one."""
    return "name" if "name" in kind.layout.by_key else "code"


def list_page(
    kind: Kind,
    given: Mapping[str, str],
    page: Page | None,
    form: Finder,
    ordering: str,
    owner: str,
    person: Any,
    errors: Mapping[str, str],
) -> ListPage:
    """Return the page of a list; without ``page``, only what is wrong with what is asked."""
    before, after = page_links(kind, given, page) if page else ("", "")
    fields = {entry.name for one in form.asked for entry in one.entries}
    is_member = kind.layout.is_part and person.is_authenticated
    return ListPage(
        kind,
        title_of(kind),
        headings_of(kind, given, ordering),
        tuple(cells_of(kind, page, person)) if page else (),
        page is not None,
        page.paginator.count if page else 0,
        page.start_index() if page else 0,
        page.end_index() if page else 0,
        before,
        after,
        form,
        tuple((name, words) for name, words in errors.items() if name not in fields),
        bool(set(given) - {"ordering", "page", "also"}),
        page is None or "also" in given,
        ordering if "ordering" in given and "ordering" not in errors else "",
        tuple(_owners(owner, person)) if is_member else (),
        reverse("pages:own-add", args=[kind]) if is_member else "",
    )


def headings_of(kind: Kind, given: Mapping[str, str], ordering: str) -> tuple[Heading, ...]:
    """Return the heads of a list: a click sorts upwards first, one more downwards."""
    first = first_order(kind)
    columns = [ListColumn(first.capitalize(), first, False, str), *list_columns(kind)]
    return tuple(_heading(kind, column, given, ordering) for column in columns)


def cells_of(kind: Kind, rows: Iterable[Any], person: Any) -> Iterator[tuple[Cell, ...]]:
    """Yield the cells of rows."""
    columns = list_columns(kind)
    for row in rows:
        yield (_name_cell(kind, row, person), *(Cell(column.text(row)) for column in columns))


def address_of(kind: Kind, given: Mapping[str, str], **changed: str) -> str:
    """Return the address of a list with something changed; empty values are left out."""
    query = {key: value for key, value in {**given, **changed}.items() if value}
    address = reverse("pages:kind", args=[kind])
    return f"{address}?{urlencode(query)}" if query else address


def page_links(kind: Kind, given: Mapping[str, str], page: Page) -> tuple[str, str]:
    """Return the addresses of the page before and the one after, empty where there is none."""
    before = address_of(kind, given, page=str(page.number - 1)) if page.has_previous() else ""
    return before, address_of(kind, given, page=str(page.number + 1)) if page.has_next() else ""


def _owners(chosen: str, person: Any) -> Iterator[Owner]:
    words = {"": "all that you may use", "catalogue": "the public catalogue", "mine": "yours"}
    if may_add_public(person):
        words["offered"] = "on offer to the catalogue"
    for word, said in words.items():
        yield Owner(word, said, word == chosen)


def _heading(kind: Kind, column: ListColumn, given: Mapping[str, str], ordering: str) -> Heading:
    if not column.key:
        return Heading(column.words, column.numeric)
    up = ordering == column.key
    word = f"-{column.key}" if up else column.key
    now = "ascending" if up else "descending" if ordering == f"-{column.key}" else ""
    return Heading(column.words, column.numeric, address_of(kind, given, ordering=word, page=""), now)


def _name_cell(kind: Kind, row: Any, person: Any) -> Cell:
    address = reverse("pages:part", args=[kind, row.code])
    if not kind.layout.is_part:
        return Cell(getattr(row, "name", row.code), address, row.code if hasattr(row, "name") else "")
    whose = "" if row.owner_id is None else ", yours" if row.owner_id == person.pk else ", on offer"
    return Cell(row.name, address, f"{row.maker_id}, {row.code}{whose}")
