"""Filters and orders of the catalogue's lists as query parameters; what can be asked is told in ``catalog.finding``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from django.db.models import QuerySet

from advisor.brief.values import problem
from api.errors import Invalid
from api.kinds import Kind
from api.query_values import value_schema
from api.schema.operation import Parameter
from catalog.finding import filters
from catalog.finding.filters import NotAsked, order_columns, order_value, owner_value
from catalog.finding.values import Value


def parameters_of(kind: Kind) -> list[Parameter]:
    """Return every filter of a kind as a query parameter."""
    return [Parameter(one.name, value_schema(one.value, one.help)) for one in filters.filters_of(kind.layout).values()]


def read(name: str, given: str, value: Value) -> Any:
    """Return what the text of a parameter stands for, or raise ``Invalid``."""
    with _answering():
        return filters.read(name, given, value)


def order(kind: Kind, given: str | None) -> Sequence[str]:
    """Return the columns to sort by; where ``ordering`` is not given, the code."""
    word = "code" if given is None else read("ordering", given, order_value(kind.layout))
    return order_columns(kind.layout, word)


def owner(given: str | None) -> str:
    """Return whose parts are asked for, an empty word where ``owner`` is not given."""
    return "" if given is None else read("owner", given, owner_value())


def matching(kind: Kind, rows: QuerySet, given: Mapping[str, str]) -> QuerySet:
    """Return the rows that meet every filter among the parameters, or raise ``Invalid`` with all that are refused."""
    with _answering():
        return filters.matching(kind.layout, rows, given)


@contextmanager
def _answering() -> Iterator[None]:
    try:
        yield
    except NotAsked as refused:
        raise Invalid([problem(one.column, one.value, one.reason, one.accepted) for one in refused.problems]) from None
