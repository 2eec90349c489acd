"""Lists page by page: a cursor holds the place of a row in the order, so that rows added meanwhile move nothing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.core import signing
from django.db.models import F, Model, Q, QuerySet
from rest_framework.pagination import BasePagination
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.utils.urls import replace_query_param

from advisor.brief.values import problem
from api.errors import Invalid

PAGE_SIZE = 50
MOST_ROWS = 200
_SALT = "api.pagination"
_ACCEPTED_CURSOR = "the cursor of a 'next' or 'previous' address of this list, in the same order"


class CursorPages(BasePagination):
    """Pages of a queryset in the order of the view's ``order(request)``.

    An order is a sequence of column names, each with a leading ``-`` to go down. The last must be unique, so that no
    two rows share a place. Rows without a value come last, whichever way the order goes.
    """

    cursor_query_param = "cursor"
    page_size_query_param = "page_size"

    def paginate_queryset(self, queryset: QuerySet, request: Request, view: Any = None) -> list[Model]:
        """Return the rows of the page asked for; two neighbours are looked at, not counted."""
        self.address = request.build_absolute_uri()
        self.order = tuple(view.order(request))
        size = _page_size(request.query_params.get(self.page_size_query_param))
        place, backwards = self._cursor(request.query_params.get(self.cursor_query_param))
        rows = _sorted(queryset, self.order, backwards)
        if place is not None:
            rows = rows.filter(_beyond(self.order, place, backwards))
        found = list(rows[: size + 1])
        page, more = found[:size], len(found) > size
        page = page[::-1] if backwards else page
        self.more_after, self.more_before = (True, more) if backwards else (more, place is not None)
        self.page = page
        return page

    def get_paginated_response(self, data: Sequence[Any]) -> Response:
        """Return the page with the addresses of its neighbours."""
        return Response(
            {
                "next": self._address(self.page[-1], False) if self.page and self.more_after else None,
                "previous": self._address(self.page[0], True) if self.page and self.more_before else None,
                "results": list(data),
            }
        )

    def get_results(self, data: dict[str, Any]) -> list[Any]:
        return data["results"]

    def _address(self, row: Model, backwards: bool) -> str:
        place = [_value(row, term.lstrip("-")) for term in self.order]
        cursor = signing.dumps([list(self.order), place, backwards], salt=_SALT, compress=True)
        return replace_query_param(self.address, self.cursor_query_param, cursor)

    def _cursor(self, given: str | None) -> tuple[list[Any] | None, bool]:
        if given is None:
            return None, False
        try:
            order, place, backwards = signing.loads(given, salt=_SALT)
        except signing.BadSignature:
            raise Invalid([problem("cursor", given, "was not given out here", _ACCEPTED_CURSOR)]) from None
        if tuple(order) != self.order:
            raise Invalid([problem("cursor", given, "belongs to another order", _ACCEPTED_CURSOR)])
        return place, backwards


def _page_size(given: str | None) -> int:
    if given is None:
        return PAGE_SIZE
    if not (given.isascii() and given.isdecimal() and len(given) < 6 and 1 <= int(given) <= MOST_ROWS):
        raise Invalid([problem("page_size", given, "is no such number", f"a whole number from 1 to {MOST_ROWS}")])
    return int(given)


def _sorted(rows: QuerySet, order: Sequence[str], backwards: bool) -> QuerySet:
    terms = []
    for term in order:
        column, falling = F(term.lstrip("-")), term.startswith("-") != backwards
        # Read backwards, rows without a value come first.
        nulls: dict[str, bool] = {"nulls_first" if backwards else "nulls_last": True}
        terms.append(column.desc(**nulls) if falling else column.asc(**nulls))
    return rows.order_by(*terms)


def _beyond(order: Sequence[str], place: Sequence[Any], backwards: bool) -> Q:
    """Return the condition of rows after a place (before it, if backwards): greater in the first term that differs."""
    found, same = Q(pk__in=()), Q()
    for term, value in zip(order, place, strict=True):
        name = term.lstrip("-")
        found |= same & _further(name, value, falling=term.startswith("-") != backwards, backwards=backwards)
        same &= Q(**{f"{name}__isnull": True}) if value is None else Q(**{name: value})
    return found


def _further(name: str, value: Any, *, falling: bool, backwards: bool) -> Q:
    if value is None:
        return Q(**{f"{name}__isnull": False}) if backwards else Q(pk__in=())
    beyond = Q(**{f"{name}__{'lt' if falling else 'gt'}": value})
    return beyond if backwards else beyond | Q(**{f"{name}__isnull": True})


def _value(row: Any, path: str) -> Any:
    for name in path.split("__"):
        row = getattr(row, name, None)
    return row if row is None or isinstance(row, bool | int | float) else str(row)
