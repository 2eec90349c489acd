"""Bodies: JSON in UTF-8 and nothing else, of bounded length and depth, each key once, each number finite."""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Mapping
from typing import IO, Any

from django.conf import settings
from rest_framework.exceptions import UnsupportedMediaType
from rest_framework.parsers import BaseParser

from advisor.brief import Problem
from advisor.brief.values import shown
from api.errors import TooLarge, Unreadable

MOST_DEPTH = 24
_SHOWN_DIGITS = 30
_NUMBERS = "finite numbers up to 1.7e308"

# Strings, so that brackets in them do not count, and brackets.
_TOKENS = re.compile(r'"(?:[^"\\]|\\.)*"?|[\[{\]}]', re.DOTALL)
# Escapes that JSON allows and that no text has: NUL, and halves of characters.
_SUSPECT = re.compile(r"\\u(?:0000|[dD][89a-fA-F])")


class JsonParser(BaseParser):
    """Read a JSON body; the view's ``body_limit`` bounds its bytes."""

    media_type = "application/json"

    def parse(self, stream: IO[bytes], media_type: str | None = None, parser_context: Any = None) -> Any:
        context = parser_context or {}
        _check_charset(media_type or self.media_type)
        limit = getattr(context.get("view"), "body_limit", settings.BODY_LIMIT)
        return read_json(_text(_bytes(stream, limit)))


def read_json(text: str) -> Any:
    """Return what a JSON text says, or raise ``Unreadable`` with the place and the remedy."""
    _check_depth(text)
    try:
        found = json.loads(text, object_pairs_hook=_mapping, parse_constant=_constant, parse_float=_number)
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise _unreadable(f"is not JSON: {error.msg} ({place})", place, "one JSON value") from None
    except ValueError:  # the only one left: a whole number of more digits than Python reads
        raise _unreadable("has a number of thousands of digits", "a whole number", _NUMBERS) from None
    if _SUSPECT.search(text):
        _check_characters(found)
    return found


def _check_charset(media_type: str) -> None:
    charset = re.search(r";\s*charset=\"?([^\s;\"]+)", media_type, re.IGNORECASE)
    if charset and charset[1].lower() not in ("utf-8", "utf8"):
        raise UnsupportedMediaType(media_type)


def _bytes(stream: IO[bytes], limit: int) -> bytes:
    body = stream.read(limit + 1)
    if len(body) > limit:
        detail, accepted = f"The body is longer than {limit} bytes", f"up to {limit} bytes"
        message = f"{detail}; accepted: {accepted}."
        raise TooLarge(message, [Problem("", f"more than {limit} bytes", accepted, message)])
    return body


def _text(body: bytes) -> str:
    try:
        return body.decode()
    except UnicodeDecodeError as error:
        value, place = f"0x{body[error.start]:02x}", f"position {error.start}"
        raise _unreadable(f"is not UTF-8: byte {value} at {place}", f"{value} at {place}", "JSON in UTF-8") from None


def _check_depth(text: str) -> None:
    depth = 0
    for token in _TOKENS.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(token[0], 0)
        if depth > MOST_DEPTH:
            more = f"more than {MOST_DEPTH} levels"
            raise _unreadable(f"nests {more} deep", more, f"up to {MOST_DEPTH} levels")


def _mapping(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        twice = shown(Counter(name for name, _ in pairs).most_common(1)[0][0])
        raise _unreadable(f"has the key {twice} twice in one object", twice, "each key once")
    return found


def _constant(word: str) -> Any:
    raise _unreadable(f"has {word}, which is no JSON number", word, f"{_NUMBERS}, or null")


def _number(digits: str) -> float:
    value = float(digits)
    if not math.isfinite(value):
        short = digits[:_SHOWN_DIGITS]
        raise _unreadable(f"has the number {short}, which is too large", short, _NUMBERS)
    return value


def _check_characters(found: Any) -> None:
    waiting = [found]
    while waiting:
        one = waiting.pop()
        if isinstance(one, Mapping):
            waiting += [*one.keys(), *one.values()]
        elif isinstance(one, list):
            waiting += one
        elif isinstance(one, str) and any(char == "\0" or "\ud800" <= char <= "\udfff" for char in one):
            raise _unreadable(f"has the text {shown(one)}, with NUL or half of a character", shown(one), "whole text")


def _unreadable(why: str, value: str, accepted: str) -> Unreadable:
    message = f"The body {why}; accepted: {accepted}."
    return Unreadable(message, [Problem("", value, accepted, message)])
