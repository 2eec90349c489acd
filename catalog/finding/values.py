"""Values that a list is asked for: what a text stands for, or why it cannot be read."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import date
from typing import Any

from catalog.models.columns import Day
from catalog.validators import CODE, check_day, check_text

LARGEST = 1e12
MOST_WORDS = 50
LONGEST_PHRASE = 100
_NUMBER = re.compile(r"[+-]?(\d{1,30}(\.\d{0,30})?|\.\d{1,30})([eE][+-]?\d{1,3})?", re.ASCII)
_WHOLE = re.compile(r"[+-]?\d{1,13}", re.ASCII)


class NotRead(Exception):
    """A text does not stand for such a value; the message says why, to follow the text."""


@dataclass(frozen=True, slots=True)
class Value:
    """A kind of value: how a text is read (``NotRead`` says why it cannot be), and what is accepted.

    ``form`` is ``number``, ``whole``, ``flag``, ``day``, ``words``, ``word``, ``codes`` or ``phrase``; ``choices`` are
    the words of ``words`` and ``word``, ``longest`` the most characters of a ``phrase``.
    """

    read: Callable[[str], Any]
    accepted: str
    form: str
    choices: tuple[str, ...] = ()
    longest: int = 0


def a_number() -> Value:
    return Value(_number, f"a number such as 12.5, from {-LARGEST:g} to {LARGEST:g}", "number")


def a_whole_number() -> Value:
    return Value(_whole, f"a whole number from {-LARGEST:g} to {LARGEST:g}", "whole")


def a_flag() -> Value:
    return Value(_flag, "true or false", "flag")


def a_day() -> Value:
    return Value(_day, Day.accepted, "day")


def words_of(choices: Collection[str]) -> Value:
    """One of some words, or several with commas between."""
    known = " or ".join(word or "nothing" for word in choices)
    accepted = f"{known}; several with commas between"
    return Value(lambda given: _words(given, choices), accepted, "words", tuple(choices))


def codes() -> Value:
    """One code, or several with commas between."""
    accepted = f"up to {MOST_WORDS} codes with commas between"
    return Value(_codes, accepted, "codes")


def one_word_of(choices: Collection[str]) -> Value:
    accepted = f"one of {', '.join(choices)}"
    return Value(lambda given: _words(given, choices, most=1)[0], accepted, "word", tuple(choices))


def a_phrase(longest: int = LONGEST_PHRASE) -> Value:
    accepted = f"text of 1 to {longest} characters"
    return Value(lambda given: _phrase(given, longest), accepted, "phrase", longest=longest)


def _number(given: str) -> float:
    if not _NUMBER.fullmatch(given):
        raise NotRead("is not a number")
    return _bounded(float(given))


def _whole(given: str) -> int:
    if not _WHOLE.fullmatch(given):
        raise NotRead("is not a whole number" if _NUMBER.fullmatch(given) else "is not a number")
    return _bounded(int(given))


def _bounded(value: Any) -> Any:
    if not abs(value) <= LARGEST:
        raise NotRead("is out of range")
    return value


def _flag(given: str) -> bool:
    if given not in ("true", "false"):
        raise NotRead("is neither true nor false")
    return given == "true"


def _day(given: str) -> date:
    reason = check_day(given)
    if reason:
        raise NotRead(reason)
    return date.fromisoformat(given)


def _words(given: str, choices: Collection[str], most: int = MOST_WORDS) -> list[str]:
    found = given.split(",")
    if len(found) > most:
        raise NotRead(f"has {len(found)} words")
    for word in found:
        if word not in choices:
            raise NotRead("is not known" if len(found) == 1 else f"has a word that is not known, {word[:60]!a}")
    return found


def _codes(given: str) -> list[str]:
    found = given.split(",")
    if len(found) > MOST_WORDS:
        raise NotRead(f"has {len(found)} codes")
    if not all(CODE.fullmatch(code) for code in found):
        raise NotRead("is not a code" if len(found) == 1 else "has a word that is not a code")
    return found


def _phrase(given: str, longest: int) -> str:
    reason = check_text(given, longest, may_be_blank=False)
    if reason:
        raise NotRead(reason)
    return given
