"""The addresses of the interface, walked from Django's own table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver

ROOM = "/api/v1/"


@dataclass(frozen=True, slots=True)
class Route:
    """One address: its name with the namespace, its path as Django writes it, and the view's class."""

    name: str
    path: str
    endpoint: Any


def api_routes() -> list[Route]:
    """Return every route of the interface."""
    return [route for route in _walk(get_resolver(), "/", "") if route.path.startswith(ROOM)]


def _walk(resolver: URLResolver, path: str, namespace: str) -> Iterator[Route]:
    for entry in resolver.url_patterns:
        here = path + str(entry.pattern)
        if isinstance(entry, URLResolver):
            yield from _walk(entry, here, f"{namespace}{entry.namespace}:" if entry.namespace else namespace)
        elif isinstance(entry, URLPattern):
            yield Route(f"{namespace}{entry.name}", here, getattr(entry.callback, "cls", None))
