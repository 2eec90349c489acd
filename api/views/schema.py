"""The interface describes itself."""

from __future__ import annotations

from functools import cache
from typing import Any

from drf_spectacular import renderers as openapi
from rest_framework.renderers import BaseRenderer
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.schema.document import document
from api.schema.operation import Answer, Operation


@cache
def written(kind: type[BaseRenderer]) -> bytes:
    """Return the document in one of its forms; writing YAML takes seconds, so each is written once."""
    return kind().render(document())


def _kept(kind: type[BaseRenderer]) -> type[BaseRenderer]:
    def render(self: BaseRenderer, data: Any, *args: Any, **more: Any) -> bytes:
        return written(kind)

    return type(kind.__name__, (kind,), {"render": render})


class Schema(Endpoint):
    """The OpenAPI document of the interface."""

    renderer_classes = (
        _kept(openapi.OpenApiJsonRenderer2),
        _kept(openapi.OpenApiYamlRenderer2),
        _kept(openapi.OpenApiJsonRenderer),
        _kept(openapi.OpenApiYamlRenderer),
    )
    operations = {
        "GET": Operation(
            "read_schema",
            {200: Answer("The document.", {"type": "object", "description": "An OpenAPI document."})},
        )
    }

    def get(self, request: Request) -> Response:
        """Read this description.

        It is OpenAPI 3.1, in JSON or YAML as the header Accept asks.
        """
        return Response(document())
