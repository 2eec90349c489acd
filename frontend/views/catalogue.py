"""The catalogue: its kinds, lists that can be searched and sorted, and a page for every part."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.core.paginator import Page, Paginator
from django.db.models import F, QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views import View

from advisor.access import objects
from catalog.finding.filters import OWNERS, NotAsked, matching, order_columns, order_value, owner_value, read
from catalog.kinds import KIND_OF, KINDS, Kind
from catalog.models import Maker
from catalog.querysets.parts import counts_of
from frontend.contexts import lists
from frontend.contexts.finding import finder, refused_words
from frontend.contexts.list_columns import fetched_along, list_columns
from frontend.contexts.parts import part_context, reference_context
from frontend.contexts.standing import standing_of
from frontend.forms.deciding import AcceptForm, DeclineForm, OfferForm
from frontend.views.versions import version_of

PAGE_SIZE = 30


@dataclass(frozen=True, slots=True)
class KindCard:
    """One kind on the catalogue's first page."""

    kind: Kind
    title: str
    says: str
    count: int


class Kinds(View):
    """What the catalogue holds."""

    def get(self, request: HttpRequest) -> HttpResponse:
        counts = counts_of({kind.path: rows_seen(kind, request.user) for kind in KINDS})
        cards = [
            KindCard(KIND_OF[file], lists.title_of(KIND_OF[file]), says, counts[KIND_OF[file].path])
            for file, says in lists.KIND_SAYS.items()
        ]
        parts = [card for card in cards if card.kind.layout.is_part]
        others = [card for card in cards if not card.kind.layout.is_part]
        offered = objects.may_add_public(request.user)
        return render(request, "frontend/catalogue.html", {"parts": parts, "others": others, "shows_offers": offered})


class KindList(View):
    """The parts of one kind."""

    def get(self, request: HttpRequest, kind: Kind) -> HttpResponse:
        asked = {key: ",".join(filter(None, values)) for key, values in request.GET.lists()}
        given = {key: value for key, value in asked.items() if value}
        if len(given) < len(asked):  # an address to keep says what is asked, and nothing else
            return redirect(lists.address_of(kind, given))
        asking = _Asking(kind, request, given)
        page = asking.page()
        context = asking.context(page)
        return render(request, "frontend/kind.html", {"list": context, "kind": kind})


class PartPage(View):
    """One part, one maker or one source."""

    def get(self, request: HttpRequest, kind: Kind, code: str) -> HttpResponse:
        row = row_seen(kind, request.user, code)
        if not kind.layout.is_part:
            return render(
                request, "frontend/reference.html", {"page": reference_context(kind, row), "used": _used(request, row)}
            )
        return render_part(request, kind, row)


def render_part(request: HttpRequest, kind: Kind, row: Any, form: Any = None) -> HttpResponse:
    """Answer with a part's page; ``form`` is one that was filled in there and refused."""
    standing = standing_of(row, request.user)
    forms = {}
    if standing.may_offer:
        forms["offer"] = OfferForm(initial={"contributor": request.user.get_username()})
    if standing.may_decide:
        version = {"version": version_of(kind, row)}
        forms["accept"], forms["decline"] = AcceptForm(initial=version), DeclineForm(initial=version)
    if form is not None:
        forms[form.step] = form
    context = {"part": part_context(kind, row), "standing": standing, "forms": forms, "form": form}
    return render(request, "frontend/part.html", context)


def _used(request: HttpRequest, row: Any) -> list[tuple[str, int, str]]:
    """Return which kinds of parts name a maker or a source: the title, how many, and the address of the list."""
    asked = {"maker": row.name} if isinstance(row, Maker) else {"source": row.code}
    kinds = [kind for kind in KINDS if kind.layout.is_part]
    rows = {kind.path: matching(kind.layout, rows_seen(kind, request.user), asked) for kind in kinds}
    counts = counts_of(rows)
    return [
        (lists.title_of(kind), counts[kind.path], lists.address_of(kind, asked)) for kind in kinds if counts[kind.path]
    ]


def rows_seen(kind: Kind, person: Any) -> QuerySet:
    """Return the rows of a kind that a person chooses from: public ones and the person's own."""
    if kind.layout.is_part:
        return objects.parts_to_choose_from(kind.layout.model, person)
    return kind.layout.model._default_manager.all()


def row_seen(kind: Kind, person: Any, code: str) -> Any:
    """Return a row that a person may look at, with all that its page shows, or raise that it does not exist."""
    if kind.layout.is_part:
        rows = (
            objects.parts_seen(kind.layout.model, person)
            .select_related("maker")
            .prefetch_related("notes", *(entry.key for entry in kind.layout.children))
        )
    else:
        rows = kind.layout.model._default_manager.all()
    row = rows.coded(code).first()
    if row is None:
        raise Http404
    return row


class _Asking:
    """What an address asks of a list, and what is wrong with it."""

    def __init__(self, kind: Kind, request: HttpRequest, given: Mapping[str, str]) -> None:
        self.kind, self.person, self.given = kind, request.user, given
        self.errors: dict[str, str] = {}
        self.ordering = self._read("ordering", order_value(kind.layout), lists.first_order(kind))
        self.owner = self._read("owner", owner_value(), "") if kind.layout.is_part else ""
        self.found = self._found()

    def page(self) -> Page | None:
        """Return the page asked for, None where something asked cannot be read."""
        if self.errors:
            return None
        columns = order_columns(self.kind.layout, self.ordering)
        rows = self.found.order_by(*(_order(column) for column in columns))
        rows = rows.prefetch_related(*fetched_along(self.kind))
        return Paginator(rows, PAGE_SIZE).get_page(self.given.get("page"))

    def context(self, page: Page | None) -> lists.ListPage:
        usual = [column.key for column in list_columns(self.kind) if column.key]
        form = finder(self.kind, self.given, usual, self.given.get("also", ""), self.errors)
        return lists.list_page(self.kind, self.given, page, form, self.ordering, self.owner, self.person, self.errors)

    def _read(self, name: str, value: Any, default: str) -> str:
        if name not in self.given:
            return default
        try:
            return read(name, self.given[name], value)
        except NotAsked as refused:
            self.errors[name] = refused_words(refused.problems[0])
            return default

    def _found(self) -> QuerySet:
        rows = self._of_owner()
        try:
            return matching(self.kind.layout, rows, self.given)
        except NotAsked as refused:
            self.errors |= {one.column: refused_words(one) for one in refused.problems}
            return rows.none()

    def _of_owner(self) -> QuerySet:
        if not self.owner:
            return rows_seen(self.kind, self.person)
        model = self.kind.layout.model
        chosen = dict(zip(OWNERS, (_public, objects.parts_owned, objects.parts_on_offer), strict=True))
        return chosen[self.owner](model, self.person)


def _public(model: Any, person: Any) -> QuerySet:
    return model._default_manager.public()


def _order(column: str) -> Any:
    """Sort rows without a value last, whichever way."""
    if column.startswith("-"):
        return F(column[1:]).desc(nulls_last=True)
    return F(column).asc(nulls_last=True)
