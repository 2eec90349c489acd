"""What an endpoint says of its operations: enough to describe them, with examples that really work."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from rest_framework.serializers import BaseSerializer

# A JSON schema, or the serializer that one can be made of.
Shape = Mapping[str, Any] | type[BaseSerializer]

QUERY, HEADER, PATH = "query", "header", "path"


@dataclass(frozen=True, slots=True)
class Parameter:
    """A parameter of the query, the path or the header; ``schema`` has its description, range and default."""

    name: str
    schema: Mapping[str, Any]
    place: str = QUERY
    required: bool = False


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer that is no error: what it means, its body's shape, an example, and headers with what they say.

    The example may be a function that makes it, for those that are read from files.
    """

    meaning: str
    shape: Shape | None = None
    example: Any = None
    headers: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Operation:
    """One method of an endpoint.

    ``id`` never changes once published. ``examples`` are bodies that are accepted, by name. ``errors`` are those that
    do not follow from what an endpoint is, with their reason; ``headers`` those that a request may have. ``said``
    describes a method that many endpoints share, whose docstring cannot; its first paragraph is the summary.
    """

    id: str
    answers: Mapping[int, Answer]
    body: Shape | None = None
    examples: Mapping[str, Any] | Callable[[], Mapping[str, Any]] = field(default_factory=dict)
    errors: Mapping[int, str] = field(default_factory=dict)
    headers: tuple[Parameter, ...] = ()
    said: str = ""
