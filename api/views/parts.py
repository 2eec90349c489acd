"""The catalogue: lists, single parts, their figures, and changes by those who may; all alike for every kind."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any, ClassVar

from django.conf import settings
from django.core.exceptions import ObjectDoesNotExist
from django.db.models import Model, QuerySet
from django.http import Http404
from rest_framework.request import Request
from rest_framework.response import Response

from advisor.access import objects
from advisor.accounts import tag_of
from advisor.brief.values import problem
from api.endpoint import Endpoint, ListEndpoint
from api.errors import PAGE_FORMAT, Forbidden, Invalid
from api.etags import require_match
from api.filters import matching, order, owner
from api.kinds import Kind
from api.schema.operation import Parameter
from api.schema.part_operations import path_parameters
from api.schema.parts import read_only
from api.serializers.parts import body_around, body_of, fetched, figure_body, version_of
from api.writing import answering, merged, without_read_only
from catalog.importing.single import add_block, add_own_block, change_block, remove_block
from catalog.provenance import figures


class OfKind:
    """An endpoint of one kind of the catalogue."""

    kind: ClassVar[Kind]
    body_limit = settings.PART_BODY_LIMIT
    request: Request

    @property
    def path_parameters(self) -> tuple[Parameter, ...]:
        return path_parameters(self.kind)

    @property
    def model(self) -> type[Model]:
        return self.kind.layout.model

    def seen(self) -> QuerySet:
        """Return the rows that the person who asks may look at."""
        if self.kind.layout.is_part:
            return objects.parts_seen(self.model, self.request.user)
        return self.model._default_manager.all()

    def changed(self) -> QuerySet:
        """Return the rows that the person who asks may change."""
        if self.kind.layout.is_part:
            return objects.parts_changed(self.model, self.request.user)
        return self.model._default_manager.all()

    def whole(self, code: str) -> Model:
        """Return one row that may be seen, with everything that its body shows."""
        row = fetched(self.seen(), self.kind.layout).coded(code).first()
        if row is None:
            raise Http404
        return row

    @contextmanager
    def found(self, code: str) -> Iterator[None]:
        """Answer that a row is not there, or that others may change it, where it is not among those looked in."""
        try:
            yield
        except ObjectDoesNotExist:
            if self.seen().coded(code).exists():
                raise Forbidden("It is not yours: curators write the public catalogue.") from None
            raise Http404 from None

    def answer(self, code: str, status: int = 200) -> Response:
        """Return the answer that shows one row as it is now."""
        body = body_of(self.kind, self.kind.layout, self.whole(code), self.request)
        headers = {"Location": body["url"]} if status == 201 else {}
        if self.request.accepted_renderer.format != PAGE_FORMAT:  # a page for people is not what is sent back
            headers["ETag"] = version_of(body)
        return Response(body, status=status, headers=headers)


class PartList(OfKind, ListEndpoint):
    """All parts of a kind that a person may choose from."""

    def order(self, request: Request) -> Sequence[str]:
        return order(self.kind, request.query_params.get("ordering"))

    def get(self, request: Request) -> Response:
        layout = self.kind.layout.outside
        rows = fetched(matching(self.kind, self._chosen(request), request.query_params), layout)
        return self.page(rows, lambda row: body_of(self.kind, layout, row, request))

    def post(self, request: Request) -> Response:
        with answering():
            row = self._added(request)
        return self.answer(row.code, status=201)

    def _chosen(self, request: Request) -> QuerySet:
        if not self.kind.layout.is_part:
            return self.seen()
        whose = owner(request.query_params.get("owner"))
        if whose == "catalogue":
            return self.model._default_manager.public()
        chosen = {"mine": objects.parts_owned, "offered": objects.parts_on_offer, "": objects.parts_to_choose_from}
        return chosen[whose](self.model, request.user)

    def _added(self, request: Request) -> Any:
        given, public = request.data, objects.may_add_public(request.user)
        if self.kind.layout.is_part and isinstance(given, Mapping) and "owner" in given:
            public = _is_for_all(given["owner"], public)
            given = {key: value for key, value in given.items() if key != "owner"}
        file, person = self.kind.file, request.user
        if public:
            return add_block(kind=file, block=given)
        return add_own_block(kind=file, block=given, owner=person, tag=tag_of(person), most=settings.OWN_PARTS)


class PartDetail(OfKind, Endpoint):
    """One part."""

    def get(self, request: Request, code: str) -> Response:
        return self.answer(code)

    def put(self, request: Request, code: str) -> Response:
        return self._change(code, lambda block, given: given)

    def patch(self, request: Request, code: str) -> Response:
        return self._change(code, merged)

    def delete(self, request: Request, code: str) -> Response:
        with answering(), self.found(code):
            remove_block(kind=self.kind.file, rows=self.changed(), code=code, check=self._version)
        return Response(status=204)

    def _change(self, code: str, revised: Callable[[Any, Any], Any]) -> Response:
        def revise(row: Model, block: dict[str, Any]) -> Any:
            body = self._version(row, block)
            return revised(block, without_read_only(given, read_only(self.kind.layout), body))

        given = self.request.data
        with answering(), self.found(code):
            change_block(kind=self.kind.file, rows=self.changed(), code=code, revise=revise)
        return self.answer(code)

    def _version(self, row: Model, block: dict[str, Any]) -> dict[str, Any]:
        """Return a row's body as it is now, if that is the version which the request names."""
        body = body_around(block, self.kind, row, self.request)
        require_match(self.request, version_of(body))
        return body


class PartFigures(OfKind, Endpoint):
    """Every figure of one part."""

    def get(self, request: Request, code: str) -> Response:
        part = self.whole(code)
        return Response({"code": part.code, "figures": [figure_body(figure) for figure in figures(part)]})


def _is_for_all(owner: Any, may_add_public: bool) -> bool:
    """Return whether a new part is to be in the public catalogue, from the word given as its owner."""
    if owner not in ("you", "catalogue"):
        raise Invalid([problem("owner", owner, "is nobody whom a new part can be for", "you or catalogue")])
    if owner == "catalogue" and not may_add_public:
        raise Forbidden("Only curators write the public catalogue; leave out 'owner', and the part is your own.")
    return owner == "catalogue"
