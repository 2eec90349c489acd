"""Every address of the service, as Django's own table of addresses has it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.urls import ResolverMatch, URLPattern, URLResolver, get_resolver
from django.utils.regex_helper import normalize


@dataclass(frozen=True)
class Route:
    """One address: the name that rules know it by, and its path with ``%(name)s`` for what goes into it."""

    name: str
    path: str
    arguments: tuple[str, ...]

    def __str__(self) -> str:
        return f"{self.name} at {self.path}"


def every_route(urlconf: Any = None) -> list[Route]:
    return list(_walk(get_resolver(urlconf), "/", ()))


def _walk(resolver: URLResolver, before: str, spaces: tuple[str, ...]) -> Iterator[Route]:
    for entry in resolver.url_patterns:
        (path, arguments), *_ = normalize(entry.pattern.regex.pattern)
        if isinstance(entry, URLPattern):
            match = ResolverMatch(entry.callback, (), {}, entry.name, namespaces=spaces)
            yield Route(match.view_name, before + path, tuple(arguments))
        else:
            assert not arguments, f"{before + path}: teach this walk about arguments in the middle of an address"
            inner = (*spaces, entry.namespace) if entry.namespace else spaces
            yield from _walk(entry, before + path, inner)
