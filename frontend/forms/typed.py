"""From what people type to the values that a brief has in JSON, and back. Nothing here says what is accepted."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from advisor.brief import CRITERIA, FIELDS, Field
from advisor.brief.fields import FIELD_OF

WEIGHT = "weight_"
_NUMBER = re.compile(r"[+-]?(\d{1,40}(\.\d{0,40})?|\.\d{1,40})(e[+-]?\d{1,3})?", re.ASCII | re.IGNORECASE)
_WHOLE = re.compile(r"[+-]?\d{1,40}", re.ASCII)
# 1,400 is a thousand and a bit to one reader and less than two to another.
_EITHER = re.compile(r"\d,\d{3}$")
_SPACES = re.compile("[ \u00a0\u2009\u202f]")


def number_of(text: str) -> int | float | str:
    """Return the number that a text means, or the text itself where it means none or more than one.

    >>> number_of(" 34 "), number_of("0,32"), number_of("1 400"), number_of("\u22123.5")
    (34, 0.32, 1400, -3.5)
    >>> number_of("1,400"), number_of("warm"), number_of("0x10"), number_of("1_0")
    ('1,400', 'warm', '0x10', '1_0')
    """
    if _EITHER.search(text.strip()):
        return text
    plain = _SPACES.sub("", text.strip()).replace("\u2212", "-").replace(",", ".")
    if not _NUMBER.fullmatch(plain):
        return text
    return int(plain) if _WHOLE.fullmatch(plain) else float(plain)


def text_of(value: Any) -> str:
    """Return a number as people type it.

    >>> text_of(34.0), text_of(0.32), text_of(1_000_000), text_of(None)
    ('34', '0.32', '1000000', '')
    """
    return "" if value is None else str(value).removesuffix(".0")


def codes_of(texts: list[str]) -> list[str]:
    """Return the part codes in some entries, of which each may hold several.

    >>> codes_of(["fan-1, fan-2", "", " cooler-1 "])
    ['fan-1', 'fan-2', 'cooler-1']
    """
    return [code for text in texts for code in re.split(r"[\s,;]+", text) if code]


def given_of(typed: Mapping[str, Any]) -> dict[str, Any]:
    """Return the brief that a filled-in form means; what is empty, or is the default, is left out."""
    given = {}
    for field in FIELDS:
        value = _weights_of(typed) if field.kind == "weights" else _value_of(field, typed.get(field.name))
        if value is not None and not _is_default(field, value):
            given[field.name] = value
    return given


def texts_of(given: Mapping[str, Any]) -> dict[str, Any]:
    """Return what the form holds for a brief, defaults filled in."""
    texts: dict[str, Any] = {}
    for field in FIELDS:
        value = given.get(field.name)
        value = field.default if value is None else value
        if field.kind == "weights":
            weights = {**field.default, **value}
            texts |= {f"{WEIGHT}{name}": text_of(weights[name]) for name in CRITERIA}
        elif field.kind in ("choices", "codes"):
            texts[field.name] = list(value)
        elif field.kind == "flag":
            texts[field.name] = bool(value)
        else:
            texts[field.name] = text_of(value) if field.kind in ("number", "integer") else value or ""
    return texts


def _value_of(field: Field, typed: Any) -> Any:
    """Return the value of one field, None where it is left out."""
    match field.kind:
        case "number" | "integer":
            return number_of(typed) if typed and typed.strip() else None
        case "flag":
            return True if typed else None
        case "choices":
            return typed
        case "codes":
            return codes_of(typed or []) or None
        case "currency":
            return typed.strip().upper() if typed and typed.strip() else None
        case _:
            return typed if typed and typed.strip() else None


def _weights_of(typed: Mapping[str, Any]) -> dict[str, Any] | None:
    default = FIELD_OF["weights"].default
    texts = {name: typed.get(f"{WEIGHT}{name}") or "" for name in CRITERIA}
    weights = {name: number_of(text) for name, text in texts.items() if text.strip()}
    return {name: value for name, value in weights.items() if value != default[name]} or None


def _is_default(field: Field, value: Any) -> bool:
    if field.kind in ("choices", "codes"):
        return sorted(value) == sorted(field.default)
    return value == field.default
