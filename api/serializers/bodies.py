"""Bodies of few fields, taken strictly: no unknown key, no number for a text, every refusal with what is accepted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django.core.validators import RegexValidator
from rest_framework import serializers
from rest_framework.fields import empty

from advisor.brief import Problem
from advisor.brief.values import is_unprintable, missing, nearest, problem
from api.errors import Invalid
from api.schema.shapes import PLAIN

_WHY = {
    "null": "is no value",
    "blank": "is empty",
    "max_length": "is too long",
    "min_length": "is too short",
    "max_value": "is too large",
    "min_value": "is too small",
}


class Text(serializers.CharField):
    """A text; ``secret`` ones are never repeated in an answer."""

    def __init__(self, *, accepted: str, secret: bool = False, **more: Any) -> None:
        self.accepted, self.secret = accepted, secret
        more.setdefault("validators", [RegexValidator(PLAIN, "has control characters")])
        super().__init__(trim_whitespace=False, write_only=secret, **more)

    def to_internal_value(self, data: Any) -> str:
        if not isinstance(data, str):
            raise serializers.ValidationError("is not a text")
        if is_unprintable(data):
            raise serializers.ValidationError("has control characters")
        return data


class Whole(serializers.IntegerField):
    """A whole number."""

    def __init__(self, *, accepted: str, **more: Any) -> None:
        self.accepted, self.secret = accepted, False
        super().__init__(**more)

    def to_internal_value(self, data: Any) -> int:
        if isinstance(data, bool) or not isinstance(data, int | float) or data != int(data):
            raise serializers.ValidationError("is not a whole number")
        return int(data)


class Body(serializers.Serializer):
    """What a client sends."""

    @classmethod
    def read(cls, data: Any) -> dict[str, Any]:
        """Return the values of a body with defaults filled in, or raise ``Invalid`` with all that is wrong."""
        if not isinstance(data, Mapping):
            raise Invalid([problem("", data, "is no object", "a JSON object of fields and values")])
        body = cls(data=data)
        problems = [*_unknown(body, data)]
        if not body.is_valid():
            problems += _refused(body, data)
        if problems:
            raise Invalid(problems)
        return body.validated_data


def _unknown(body: Body, data: Mapping[str, Any]) -> Iterator[Problem]:
    for name in data:
        if name not in body.fields:
            hint = f"the fields {', '.join(body.fields)}{nearest(name, tuple(body.fields))}"
            yield problem(name[:60], data[name], "is for no field here", hint)


def _refused(body: Body, data: Mapping[str, Any]) -> Iterator[Problem]:
    for name, errors in body.errors.items():
        field, value = body.fields[name], data.get(name, empty)
        if value is empty:
            yield missing(name, field.accepted)
            continue
        why = _WHY.get(errors[0].code, str(errors[0]))
        yield hidden(name, why, field.accepted) if field.secret else problem(name, value, why, field.accepted)


def hidden(name: str, why: str, accepted: str) -> Problem:
    """Return the problem of a value that must not be repeated."""
    return Problem(name, "", accepted, f"{name}: it {why}; accepted: {accepted}.")
