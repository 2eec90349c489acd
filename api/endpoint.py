"""What all endpoints share: who may, how often, which query parameters, bodies, and versions of what is read."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, ClassVar

from django.conf import settings
from django.db.models import QuerySet
from django.http import HttpResponse, HttpResponseNotModified
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from advisor.brief import Problem
from advisor.brief.values import nearest, problem, shown
from api.errors import PAGE_FORMAT, Invalid
from api.etags import check_conditions, etag_of, is_unchanged
from api.pagination import MOST_ROWS, PAGE_SIZE, CursorPages
from api.schema.operation import Operation, Parameter
from api.schema.shapes import text, whole

READING = ("GET", "HEAD", "OPTIONS")
LONGEST_LABEL = 60
KEPT_HEADERS = ("ETag", "Vary", "Cache-Control", "Location")

PAGE_PARAMETERS = (
    Parameter("cursor", text("Place in the list, from the `next` or `previous` address of an earlier page.")),
    Parameter("page_size", whole("Rows of a page.", minimum=1, maximum=MOST_ROWS, default=PAGE_SIZE)),
)


class Endpoint(APIView):
    """One address and its methods.

    ``operations`` describes each method, and only those with a body take one, of up to ``body_limit`` bytes.
    ``query_parameters`` are those that GET knows; all others are refused. ``scopes`` names the rate of a method where
    it is not ``read`` or ``write``.
    """

    operations: ClassVar[Mapping[str, Operation]] = {}
    path_parameters: ClassVar[Sequence[Parameter]] = ()
    query_parameters: ClassVar[Sequence[Parameter]] = ()
    scopes: ClassVar[Mapping[str, str]] = {}
    body_limit: int = settings.BODY_LIMIT
    metadata_class = None

    @classmethod
    def as_view(cls, **initkwargs: Any) -> Callable[..., HttpResponse]:
        view = super().as_view(**initkwargs)
        # A redirect to the address with a slash would lose the body of a POST.
        view.should_append_slash = False
        return view

    def scope(self, method: str) -> str:
        """Return the name of the rate by which a method counts."""
        return self.scopes.get(method, "read" if method in READING else "write")

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        if request.method not in self.allowed_methods:
            return  # the answer is that, whatever else is wrong
        check_conditions(request)
        self._check_query(request)
        operation = self.operations.get(request.method)
        if request.method not in READING and operation is not None and operation.body is None:
            _refuse_body(request)

    def options(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Say, in the header Allow, what can be done here."""
        return Response(status=204)

    def finalize_response(self, request: Request, response: HttpResponse, *args: Any, **kwargs: Any) -> HttpResponse:
        response = super().finalize_response(request, response, *args, **kwargs)
        response.headers.setdefault("Cache-Control", "private, no-cache")
        readable = request.method in ("GET", "HEAD") and response.status_code == 200
        if not readable or getattr(response, "accepted_renderer", None) is None:
            return response
        return _versioned(request, response)

    def _check_query(self, request: Request) -> None:
        known = tuple(one.name for one in self.query_parameters) if request.method in READING else ()
        problems = [_unknown(name, given, known) for name, given in request.query_params.items() if name not in known]
        problems += [
            problem(name, values, "is given more than once", "one value")
            for name, values in request.query_params.lists()
            if name in known and len(values) > 1
        ]
        if problems:
            raise Invalid(problems)


class ListEndpoint(Endpoint):
    """Rows page by page, in the order of ``order(request)``; see ``CursorPages``."""

    query_parameters = PAGE_PARAMETERS

    def order(self, request: Request) -> Sequence[str]:
        """Return the columns by which rows are sorted, the last a unique one."""
        raise NotImplementedError

    def page(self, rows: QuerySet, show: Callable[[Any], Any]) -> Response:
        """Return one page of rows, each as ``show`` writes it."""
        pages = CursorPages()
        found = pages.paginate_queryset(rows, self.request, self)
        return pages.get_paginated_response([show(row) for row in found])


def _unknown(name: str, given: str, known: Sequence[str]) -> Problem:
    accepted = f"{', '.join(known)}{nearest(name, known)}" if known else "no parameters"
    label = name if 0 < len(name) <= LONGEST_LABEL and name.isprintable() else shown(name)
    return Problem(label, shown(given), accepted, f"{label} is no parameter of this address; accepted: {accepted}.")


def _refuse_body(request: Request) -> None:
    given = request.data
    if given != {}:
        raise Invalid([problem("", given, "is a body, and none is taken here", "no body")])


def _versioned(request: Request, response: Response) -> HttpResponse:
    """Give an answer its tag; nothing but its headers goes to a client that has it already."""
    if response.accepted_renderer.format == PAGE_FORMAT:
        return response  # a page for people, which shows more than what is read
    if not response.has_header("ETag"):
        response["ETag"] = etag_of(response.render().content)
    if not is_unchanged(request, response["ETag"]):
        return response
    unchanged = HttpResponseNotModified()
    for name in KEPT_HEADERS:
        if response.has_header(name):
            unchanged[name] = response[name]
    return unchanged
