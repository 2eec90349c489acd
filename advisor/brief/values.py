"""One value of a brief against its field: accepted and made regular, or a problem that says what is wrong."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

from advisor.brief.fields import FIELD_OF, LONGEST_CODE, Field

# Marks that turn the direction of text and so can make it read as something else.
_BIDI = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_FORBIDDEN_CATEGORIES = ("Cc", "Cs", "Zl", "Zp")
_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Problem:
    """Why a brief cannot be taken: the field, its value (shortened), what is accepted, and a sentence of all that."""

    field: str
    value: str
    accepted: str
    message: str


@dataclass(frozen=True, slots=True)
class Caution:
    """Something about an acceptable brief that its writer should know."""

    field: str
    message: str


class Refused(Exception):
    """A value is not accepted; the text says why, to follow the field's name."""


def shown(value: object) -> str:
    """Write any value for people: short, on one line, without control characters.

    >>> shown("a\\nb"), shown([1, 2]), shown(10**5000), shown(True)
    ("'a\\\\nb'", 'a list of 2', 'a whole number of more than 18 digits', 'true')
    """
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, int) and abs(value) >= 10**18:
        return "a whole number of more than 18 digits"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, Mapping):
        return f"a mapping of {len(value)}"
    if isinstance(value, str):
        short = value if len(value) <= _SHOWN else f"{value[:_SHOWN]}…"
        return f"'{short}'" if short.isprintable() else ascii(short)
    if isinstance(value, int | float):
        return repr(value).removesuffix(".0")
    return f"a {type(value).__name__}"


def is_unprintable(text: str) -> bool:
    """Tell whether a text has control characters, halves of characters or marks that turn its direction."""
    return any(unicodedata.category(one) in _FORBIDDEN_CATEGORIES or one in _BIDI for one in text)


def problem(name: str, value: object, why: str, accepted: str = "") -> Problem:
    """Return a problem; what is accepted comes from the field of that name unless it is told."""
    accepted = accepted or FIELD_OF[name].accepted
    start = f"{name}: " if name else ""
    return Problem(name, shown(value), accepted, f"{start}{shown(value)} {why}; accepted: {accepted}.")


def missing(name: str, accepted: str = "") -> Problem:
    """Return the problem of a field that is not there."""
    accepted = accepted or FIELD_OF[name].accepted
    return Problem(name, "", accepted, f"{name} is missing; accepted: {accepted}.")


def nearest(word: object, known: Mapping[str, Any] | tuple[str, ...]) -> str:
    """Return a hint at the known word nearest to one that is not known, or an empty string."""
    folded = {one.lower(): one for one in known}
    found = get_close_matches(word[:LONGEST_CODE].lower(), folded, n=1) if isinstance(word, str) else []
    return f" (did you mean '{folded[found[0]]}'?)" if found else ""


def read_value(field: Field, value: object) -> Any:
    """Return a value in its regular form, or raise ``Refused``."""
    return _READERS[field.kind](field, value)


def _read_number(field: Field, value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Refused("is not a number")
    if isinstance(value, float) and not math.isfinite(value):
        raise Refused("is not a finite number")
    # Compared before it is made a float, for which a whole number may be too large.
    if field.minimum is not None and field.maximum is not None and not field.minimum <= value <= field.maximum:
        raise Refused("is out of range")
    return float(value) + 0.0  # no negative zero


def _read_integer(field: Field, value: object) -> int:
    number = _read_number(field, value)
    if not number.is_integer():
        raise Refused("is not a whole number")
    return int(number)


def _read_flag(field: Field, value: object) -> bool:
    if not isinstance(value, bool):
        raise Refused("is neither true nor false")
    return value


def _read_text(field: Field, value: object) -> str:
    if not isinstance(value, str):
        raise Refused("is not a text")
    if field.maximum is not None and len(value) > field.maximum:
        raise Refused(f"is {len(value)} characters long")
    if is_unprintable(value):
        raise Refused("has control characters")
    return value.strip()


def _read_currency(field: Field, value: object) -> str:
    if not isinstance(value, str) or re.fullmatch("[A-Z]{3}", value) is None:
        raise Refused("is not such a code")
    return value


def _read_choice(field: Field, value: object) -> str:
    if not isinstance(value, str):
        raise Refused("is not a text (write it in quotes)" if isinstance(value, int | float) else "is not a text")
    if value not in field.choices:
        raise Refused(f"is not known{nearest(value, field.choices)}")
    return value


def _read_choices(field: Field, value: object) -> tuple[str, ...]:
    if not isinstance(value, list | tuple) or not value:
        raise Refused("is empty" if value in ([], ()) else "is not a list")
    chosen = {_entry(one, lambda one: _read_choice(field, one)) for one in value}
    return tuple(choice for choice in field.choices if choice in chosen)


def _read_codes(field: Field, value: object) -> tuple[str, ...]:
    if not isinstance(value, list | tuple):
        raise Refused("is not a list")
    if field.maximum is not None and len(value) > field.maximum:
        raise Refused("is too long")
    return tuple(sorted({_entry(one, _read_code) for one in value}))


def _read_code(value: object) -> str:
    if not isinstance(value, str) or not value.strip() or len(value) > LONGEST_CODE or is_unprintable(value):
        raise Refused(f"is not a part code (a text of 1 to {LONGEST_CODE} characters)")
    return value.strip()


def _entry(value: object, read: Callable[[object], str]) -> str:
    try:
        return read(value)
    except Refused as refused:
        raise Refused(f"has the entry {shown(value)}, which {refused}") from None


def _read_weights(field: Field, value: object) -> dict[str, float]:
    if not isinstance(value, Mapping):
        raise Refused("is not a mapping")
    weights = dict(field.default)
    for name, weight in value.items():
        if not isinstance(name, str) or name not in field.choices:
            raise Refused(f"has the criterion {shown(name)}, which is not known{nearest(name, field.choices)}")
        try:
            weights[name] = _read_number(field, weight)
        except Refused as refused:
            raise Refused(f"gives '{name}' the weight {shown(weight)}, which {refused}") from None
    if not any(weights.values()):
        raise Refused("drops every criterion")
    return weights


_READERS: dict[str, Callable[[Field, object], Any]] = {
    "number": _read_number,
    "integer": _read_integer,
    "flag": _read_flag,
    "text": _read_text,
    "currency": _read_currency,
    "choice": _read_choice,
    "choices": _read_choices,
    "codes": _read_codes,
    "weights": _read_weights,
}
