"""Values of query parameters: what a text stands for, or why it is refused."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import date
from typing import Any

from advisor.brief.values import Refused
from api.schema.shapes import Schema, number, one_of, text, whole
from catalog.models.columns import Day
from catalog.validators import CODE, check_day, check_text

LARGEST = 1e12
MOST_WORDS = 50
LONGEST_PHRASE = 100
_NUMBER = re.compile(r"[+-]?(\d{1,30}(\.\d{0,30})?|\.\d{1,30})([eE][+-]?\d{1,3})?", re.ASCII)
_WHOLE = re.compile(r"[+-]?\d{1,13}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Value:
    """A kind of value: how a text is read (``Refused`` says why it is not), what is accepted, and its schema."""

    read: Callable[[str], Any]
    accepted: str
    schema: Callable[..., Schema]


def a_number() -> Value:
    return Value(_number, f"a number such as 12.5, from {-LARGEST:g} to {LARGEST:g}", number)


def a_whole_number() -> Value:
    return Value(_whole, f"a whole number from {-LARGEST:g} to {LARGEST:g}", whole)


def a_flag() -> Value:
    return Value(_flag, "true or false", lambda help: {"type": "boolean", "description": help})


def a_day() -> Value:
    return Value(_day, Day.accepted, lambda help: text(help, format="date"))


def words_of(choices: Collection[str]) -> Value:
    """One of some words, or several with commas between."""
    known = " or ".join(word or "nothing" for word in choices)
    accepted = f"{known}; several with commas between"
    return Value(lambda given: _words(given, choices), accepted, lambda help: text(f"{help} One of {accepted}."))


def codes() -> Value:
    """One code, or several with commas between."""
    accepted = f"up to {MOST_WORDS} codes with commas between"
    return Value(_codes, accepted, lambda help: text(f"{help} {accepted.capitalize()}."))


def one_word_of(choices: Collection[str]) -> Value:
    accepted = f"one of {', '.join(choices)}"
    return Value(lambda given: _words(given, choices, most=1)[0], accepted, lambda help: one_of(choices, help))


def a_phrase(longest: int = LONGEST_PHRASE) -> Value:
    accepted = f"text of 1 to {longest} characters"
    return Value(
        lambda given: _phrase(given, longest), accepted, lambda help: text(help, minLength=1, maxLength=longest)
    )


def _number(given: str) -> float:
    if not _NUMBER.fullmatch(given):
        raise Refused("is not a number")
    return _bounded(float(given))


def _whole(given: str) -> int:
    if not _WHOLE.fullmatch(given):
        raise Refused("is not a whole number" if _NUMBER.fullmatch(given) else "is not a number")
    return _bounded(int(given))


def _bounded(value: Any) -> Any:
    if not abs(value) <= LARGEST:
        raise Refused("is out of range")
    return value


def _flag(given: str) -> bool:
    if given not in ("true", "false"):
        raise Refused("is neither true nor false")
    return given == "true"


def _day(given: str) -> date:
    reason = check_day(given)
    if reason:
        raise Refused(reason)
    return date.fromisoformat(given)


def _words(given: str, choices: Collection[str], most: int = MOST_WORDS) -> list[str]:
    found = given.split(",")
    if len(found) > most:
        raise Refused(f"has {len(found)} words")
    for word in found:
        if word not in choices:
            raise Refused("is not known" if len(found) == 1 else f"has a word that is not known, {word[:60]!a}")
    return found


def _codes(given: str) -> list[str]:
    found = given.split(",")
    if len(found) > MOST_WORDS:
        raise Refused(f"has {len(found)} codes")
    if not all(CODE.fullmatch(code) for code in found):
        raise Refused("is not a code" if len(found) == 1 else "has a word that is not a code")
    return found


def _phrase(given: str, longest: int) -> str:
    reason = check_text(given, longest, may_be_blank=False)
    if reason:
        raise Refused(reason)
    return given
