"""From bodies to blocks of the catalogue, and from refused blocks to the problems of an answer."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any
from urllib.parse import urlsplit

from rest_framework.utils.encoders import JSONEncoder

from advisor.brief import Problem
from advisor.brief.values import problem, shown
from api.errors import Conflict, Invalid
from catalog.consistency import NOTHING
from catalog.importing.refusals import LoadRefused, Refusal, printable
from catalog.importing.single import StillNeeded, TooManyOwn

MOST_PROBLEMS = 100


@contextmanager
def answering() -> Iterator[None]:
    """Turn what the catalogue refuses into answers."""
    try:
        yield
    except LoadRefused as error:
        raise Invalid(problems_of(error.refusals)) from None
    except StillNeeded as needed:
        raise Conflict(
            f"It is needed by {needed.by}. Let them name another first.",
            [Problem("code", "", "one that nothing needs", f"It is needed by {needed.by}.")],
        ) from None
    except TooManyOwn as most:
        raise Conflict(f"You have {most} own parts, and that is how many one may have. Delete one first.") from None


def problems_of(refusals: Iterable[Refusal]) -> list[Problem]:
    """Return refused values as problems; of very many the first, and how many more there are."""
    found = [refused(one.field, one.value, one.reason, one.accepted) for one in refusals]
    more = len(found) - MOST_PROBLEMS
    if more > 0:
        found[MOST_PROBLEMS:] = [Problem("", "", "fewer at a time", f"{more} more values are refused.")]
    return found


def merged(before: Any, patch: Any) -> Any:
    """Return a JSON value changed by a merge patch (RFC 7396).

    Objects are merged key by key, null takes a key away, and everything else, lists too, stands for itself.

    >>> merged({"a": 1, "b": {"c": 2, "d": 3}, "e": [1, 2]}, {"a": None, "b": {"c": 4}, "e": [5]})
    {'b': {'c': 4, 'd': 3}, 'e': [5]}
    """
    if not isinstance(patch, Mapping):
        return patch
    found = dict(before) if isinstance(before, Mapping) else {}
    for key, value in patch.items():
        if value is None:
            found.pop(key, None)
        else:
            found[key] = merged(found.get(key), value)
    return found


def without_read_only(given: Any, keys: Collection[str], body: Mapping[str, Any]) -> Any:
    """Return what is given without what only the service writes, which must be as it is in the body that it gave."""
    if not isinstance(given, Mapping):
        return given
    now = json.loads(json.dumps(body, cls=JSONEncoder))
    problems = [
        problem(key, given[key], "is written by the service", f"{shown(now[key])}, or leave it out")
        for key in keys
        if key in given and not _is_same(key, given[key], now[key])
    ]
    if problems:
        raise Invalid(problems)
    return {key: value for key, value in given.items() if key not in keys}


def _is_same(key: str, given: Any, now: Any) -> bool:
    if key == "url" and isinstance(given, str):  # this machine may have several names
        return given.endswith(urlsplit(now).path)
    return given == now


def refused(field: str, value: object, reason: str, accepted: str) -> Problem:
    """Return the problem of one value, in one line of plain characters whatever was sent."""
    field, accepted = printable(field), printable(accepted or "another value")
    told = "" if value is NOTHING else shown(value)
    subject = " ".join(word for word in (field and f"{field}:", told) if word)
    return Problem(field, told, accepted, f"{subject} {printable(reason)}; accepted: {accepted}.".lstrip())
