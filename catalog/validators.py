"""What one value must look like, in the words that the loader, the admin pages and the database share.

Every check returns the reason why a value is refused, to be read after the value, or an empty string.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}")
CODE_ACCEPTED = "1 to 64 letters, digits, dots, dashes or underscores, a letter or digit first"
MOST_POINTS = 200

# Marks that turn the direction of text and so can make it read as something else.
_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_UNPRINTABLE = ("Cc", "Cs", "Zl", "Zp")  # categories of control characters, halves of characters, ends of lines


@dataclass(frozen=True, slots=True)
class Range:
    """The numbers accepted for a quantity, in ``unit``; an open end leaves out the bound itself."""

    unit: str
    low: float
    high: float
    low_open: bool = False
    high_open: bool = False

    def __str__(self) -> str:
        low = f"above {self.low:.10g}" if self.low_open else f"from {self.low:.10g}"
        high = f"below {self.high:.10g}" if self.high_open else f"to {self.high:.10g}"
        joint = " and " if self.low_open or self.high_open else " "
        return f"{low}{joint}{high} {self.unit}".rstrip()

    def check(self, value: object) -> str:
        if isinstance(value, bool) or not isinstance(value, int | float):
            return "is text, not a number: remove the quotes" if _reads_as_number(value) else "is not a number"
        if isinstance(value, float) and not math.isfinite(value):
            return "is not a finite number"
        too_low = value <= self.low if self.low_open else value < self.low
        too_high = value >= self.high if self.high_open else value > self.high
        return "is out of range" if too_low or too_high else ""


def _reads_as_number(value: object) -> bool:
    return isinstance(value, str) and re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", value) is not None


def check_whole(value: object, accepted: Range) -> str:
    """Accept a whole number of a range; 3.0 counts as 3."""
    if isinstance(value, float) and math.isfinite(value) and value != int(value):
        return "is not a whole number"
    return accepted.check(value)


def check_text(value: object, longest: int, may_be_blank: bool) -> str:
    """Accept one line of text without control characters or marks that turn the direction of writing."""
    if not isinstance(value, str):
        return "is not text: put it in quotes" if isinstance(value, int | float) else "is not text"
    if any(unicodedata.category(sign) in _UNPRINTABLE for sign in value):
        return "contains control characters"
    if not _TURNING.isdisjoint(value):
        return "contains marks that turn the direction of writing"
    if len(value) > longest:
        return f"is {len(value)} characters long"
    if value != value.strip():
        return "begins or ends with a space"
    return "" if value or may_be_blank else "is empty"


def check_code(value: object) -> str:
    """Accept a code: a short word that people and addresses can carry."""
    if not isinstance(value, str):
        return "is not text: put it in quotes" if isinstance(value, int | float) else "is not text"
    return "" if CODE.fullmatch(value) else "is not a code"


def check_day(value: object) -> str:
    """Accept a day, as a date or as text of the form 2031-05-17."""
    if isinstance(value, str) and _DAY.fullmatch(value):
        try:
            date.fromisoformat(value)
        except ValueError:
            return "does not exist"
        return ""
    return "" if isinstance(value, date) and not isinstance(value, datetime) else "is not a date"


def check_choice(value: object, choices: Sequence[str]) -> str:
    """Accept one of some words."""
    if isinstance(value, str) and value in choices:
        return ""
    if isinstance(value, int | float) and not isinstance(value, bool) and str(value) in choices:
        return "is a number: put it in quotes"
    return "is not known"


def check_each(values: object, least: int, check: Callable[[object], str], noun: str) -> str:
    """Accept a list of at least ``least`` values that each pass ``check``."""
    if not isinstance(values, list | tuple):
        return "is not a list"
    if not least <= len(values) <= MOST_POINTS:
        return f"has {len(values)} {noun}s"
    reasons = ((place, check(value)) for place, value in enumerate(values, 1))
    return next((f"{noun} {place} {reason}" for place, reason in reasons if reason), "")


def check_points(values: object, least: int, across: Range, up: Range) -> str:
    """Accept pairs whose first numbers rise strictly."""

    def check_pair(pair: object) -> str:
        if not isinstance(pair, list | tuple) or len(pair) != 2:
            return "is not a pair of numbers"
        first, second = across.check(pair[0]), up.check(pair[1])
        return (f"first number {first}" if first else "") or (f"second number {second}" if second else "")

    return check_each(values, least, check_pair, "point") or _check_rising([pair[0] for pair in values], "point")  # type: ignore[attr-defined]


def check_numbers(values: object, accepted: Range) -> str:
    """Accept a list, empty or of strictly rising numbers."""
    return check_each(values, 0, accepted.check, "number") or _check_rising(values, "number")  # type: ignore[arg-type]


def check_words(values: object, least: int, choices: Sequence[str]) -> str:
    """Accept a list of different words out of ``choices``."""
    reason = check_each(values, least, lambda word: check_choice(word, choices), "word")
    if reason:
        return reason
    return "names one word twice" if len(set(values)) < len(values) else ""  # type: ignore[arg-type,call-overload]


def _check_rising(values: Sequence[float], noun: str) -> str:
    for place, (before, after) in enumerate(zip(values, values[1:], strict=False), 2):
        if after <= before:
            return f"{noun} {place} does not rise: {after:g} after {before:g}"
    return ""
