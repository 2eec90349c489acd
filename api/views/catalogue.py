"""The endpoints of every kind of the catalogue, and their addresses."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.urls import URLPattern, path, register_converter

from api.endpoint import PAGE_PARAMETERS, Endpoint
from api.kinds import KINDS, Kind
from api.schema import part_operations as said
from api.views.offers import PartAccept, PartDecline, PartOffer
from api.views.parts import PartDetail, PartFigures, PartList
from catalog.validators import CODE


class CodeConverter:
    """A code in an address; what cannot be one leads nowhere."""

    regex = CODE.pattern

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value


register_converter(CodeConverter, "code")


def catalogue_addresses() -> Iterator[URLPattern]:
    """Yield the addresses of all kinds."""
    for kind in KINDS:
        one = f"{kind.path}/<code:code>/"
        lists = {"query_parameters": (*PAGE_PARAMETERS, *said.list_parameters(kind))}
        yield _address(kind, PartList, f"{kind.path}/", "list", said.list_operations(kind), **lists)
        yield _address(kind, PartDetail, one, "detail", said.detail_operations(kind))
        if kind.layout.is_part:
            yield _address(kind, PartFigures, f"{one}figures/", "figures", said.figures_operations(kind))
            yield _address(kind, PartOffer, f"{one}offer/", "offer", said.offer_operations(kind))
            yield _address(kind, PartAccept, f"{one}accept/", "accept", said.accept_operations(kind))
            yield _address(kind, PartDecline, f"{one}decline/", "decline", said.decline_operations(kind))


def _address(
    kind: Kind, endpoint: type[Endpoint], address: str, action: str, operations: said.Operations, **more: Any
) -> URLPattern:
    """Return the address of an endpoint's own class for one kind, since the interface describes classes."""
    own = type(f"{kind.name}{endpoint.__name__}", (endpoint,), {"kind": kind, "operations": operations, **more})
    return path(address, own.as_view(), name=f"{kind.word}-{action}")
