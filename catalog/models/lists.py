"""Columns that hold a list, as JSON: no constraint can look into them, so each is checked whenever it is written."""

from __future__ import annotations

from typing import Any

from django.db import models

from catalog import validators
from catalog.models.columns import Checked
from catalog.validators import Range


class CheckedList(Checked, models.JSONField):
    """A list kept in one column, checked whenever it is written."""

    plain = models.JSONField

    def get_db_prep_save(self, value: Any, connection: Any) -> Any:
        if value is not None:
            self._validate_value(value)
        return super().get_db_prep_save(value, connection)


class Points(CheckedList):
    """Pairs of numbers, the first of each rising strictly."""

    def __init__(
        self, across: Range | None = None, up: Range | None = None, least: int = 1, spread: str = "", **options: Any
    ) -> None:
        anything = Range("", -1e9, 1e9)
        self.across, self.up, self.least, self.spread = across or anything, up or anything, least, spread
        self.unit = self.up.unit
        super().__init__(**options)

    @property
    def accepted(self) -> str:
        return f"at least {self.least} pairs of a number {self.across} that rises and a number {self.up}"

    def check_value(self, value: Any) -> str:
        return validators.check_points(value, self.least, self.across, self.up)

    def canonical(self, value: Any) -> Any:
        return None if value is None else [[float(x), float(y)] for x, y in value]


class Numbers(CheckedList):
    """A list of strictly rising numbers, possibly empty."""

    def __init__(self, accepts: Range | None = None, **options: Any) -> None:
        self.range = accepts or Range("", -1e9, 1e9)
        self.unit = self.range.unit
        super().__init__(**{"default": list, "blank": True, **options})

    @property
    def accepted(self) -> str:
        return f"a list of rising numbers {self.range}"

    def check_value(self, value: Any) -> str:
        return validators.check_numbers(value, self.range)

    def canonical(self, value: Any) -> Any:
        return [float(x) for x in value]


class Words(CheckedList):
    """A list of different words out of a fixed vocabulary."""

    def __init__(self, words: list[str] | None = None, least: int = 1, **options: Any) -> None:
        self.words, self.least = words or [], least
        super().__init__(**options)

    @property
    def accepted(self) -> str:
        return f"a list of {self.least} or more of {', '.join(self.words)}"

    def check_value(self, value: Any) -> str:
        return validators.check_words(value, self.least, self.words)
