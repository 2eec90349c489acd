"""Columns of the catalogue: each knows its unit, what it accepts and how surely such a figure is usually known.

A column refuses a bad value in every way in: ``check_value`` serves the loader and the admin pages, numbers and words
become database constraints (see ``rules``). Lists have a module of their own.
Migrations see the plain Django columns, so that they stay readable when this module changes.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models

from catalog import validators
from catalog.validators import Range


class Checked(models.Field):
    """A column with its own check; ``spread`` names a row of ``catalog.provenance.SPREADS``, "" for exact facts."""

    plain: type[models.Field]
    unit = ""
    spread = ""

    @property
    def accepted(self) -> str:
        """What is accepted, in words."""
        raise NotImplementedError

    def check_value(self, value: Any) -> str:
        """Return why a value is refused, or an empty string."""
        raise NotImplementedError

    def canonical(self, value: Any) -> Any:
        """Return an accepted value as the database gives it back."""
        return value

    def deconstruct(self) -> tuple[str, str, list[Any], dict[str, Any]]:
        name, _, args, kwargs = super().deconstruct()
        return name, f"django.db.models.{self.plain.__name__}", list(args), kwargs

    @property
    def validators(self) -> list[Callable[[Any], None]]:
        return [*super().validators, self._validate_value]

    def _validate_value(self, value: Any) -> None:
        reason = self.check_value(value)
        if reason:
            raise ValidationError(f"{value!s:.80} {reason}; accepted: {self.accepted}")


# Spread of figures in such units, unless their column says otherwise.
_USUAL_SPREADS = {
    "mm": "length",
    "rpm": "speed",
    "kg": "mass",
    "cm2": "area",
    "m/s": "air_speed",
    "h": "life",
    "MB/s": "pace",
    "s": "pace",
}


class Quantity(Checked, models.FloatField):
    """A figure in a unit, within a range."""

    plain = models.FloatField

    def __init__(
        self,
        unit: str = "",
        low: float = 0.0,
        high: float = 1e9,
        *,
        above_low: bool = False,
        below_high: bool = False,
        spread: str = "",
        **options: Any,
    ) -> None:
        self.unit, self.spread = unit, spread or _USUAL_SPREADS.get(unit, "")
        self.range = Range(unit, low, high, above_low, below_high)
        super().__init__(**options)

    @property
    def accepted(self) -> str:
        return f"a number {self.range}"

    def check_value(self, value: Any) -> str:
        return self.range.check(value)

    def canonical(self, value: Any) -> Any:
        return None if value is None else float(value)


class Count(Checked, models.PositiveIntegerField):
    """A number of things."""

    plain = models.PositiveIntegerField

    def __init__(self, low: int = 0, high: int = 1_000_000, **options: Any) -> None:
        self.range = Range("", low, high)
        super().__init__(**options)

    @property
    def accepted(self) -> str:
        return f"a whole number {self.range}"

    def check_value(self, value: Any) -> str:
        return validators.check_whole(value, self.range)

    def canonical(self, value: Any) -> Any:
        return int(value)


class Flag(Checked, models.BooleanField):
    """A fact that holds or does not."""

    plain = models.BooleanField
    accepted = "true or false"

    def check_value(self, value: Any) -> str:
        return "" if isinstance(value, bool) else "is neither true nor false"


class Day(Checked, models.DateField):
    """A day; JSON has no dates, so text of the same form is one too."""

    plain = models.DateField
    accepted = "a date such as 2031-05-17"

    def check_value(self, value: Any) -> str:
        return validators.check_day(value)

    def canonical(self, value: Any) -> Any:
        return date.fromisoformat(value) if isinstance(value, str) else value


class Text(Checked, models.CharField):
    """One line of text."""

    plain = models.CharField

    @property
    def accepted(self) -> str:
        return f"text of {0 if self.blank else 1} to {self.max_length} characters"

    def check_value(self, value: Any) -> str:
        return validators.check_text(value, self.max_length or 0, self.blank)


class Code(Checked, models.CharField):
    """The short word by which a thing is known."""

    plain = models.CharField
    accepted = validators.CODE_ACCEPTED

    def __init__(self, **options: Any) -> None:
        super().__init__(**{"max_length": 64, **options})

    def check_value(self, value: Any) -> str:
        return "" if value == "" and self.blank else validators.check_code(value)


class Choice(Checked, models.CharField):
    """One of some words; ``blank`` adds the empty one."""

    plain = models.CharField

    def __init__(self, **options: Any) -> None:
        super().__init__(**{"max_length": 32, **options})

    @property
    def words(self) -> list[str]:
        words = [value for value, _ in self.flatchoices]
        return ["", *words] if self.blank and "" not in words else words

    @property
    def accepted(self) -> str:
        return "one of " + ", ".join(word or "''" for word in self.words)

    def check_value(self, value: Any) -> str:
        return validators.check_choice(value, self.words)
