"""The OpenAPI document as a whole."""

from __future__ import annotations

from functools import cache
from typing import Any

from drf_spectacular.generators import SchemaGenerator

from api.schema import builds, parts, power, predictions, studies, tape
from api.schema.part_operations import FIGURE_COMPONENTS
from api.schema.problems import PROBLEM, REFUSED_VALUE
from api.schema.shapes import Schema

COMPONENTS: dict[str, Schema] = {
    "Problem": PROBLEM,
    "RefusedValue": REFUSED_VALUE,
    **studies.COMPONENTS,
    **builds.COMPONENTS,
    **predictions.COMPONENTS,
    **power.COMPONENTS,
    **tape.COMPONENTS,
    **parts.components(),
    **FIGURE_COMPONENTS,
}


@cache
def document() -> dict[str, Any]:
    """Return the document: the same for everybody, and as long as the program runs."""
    return SchemaGenerator().get_schema(request=None, public=True)


def add_components(result: dict[str, Any], **more: Any) -> dict[str, Any]:
    """Add the shapes that operations name; a hook of the generator."""
    schemas = result["components"].setdefault("schemas", {})
    schemas.update(COMPONENTS)
    result["components"]["schemas"] = dict(sorted(schemas.items()))
    return result
