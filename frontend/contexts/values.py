"""Values of the catalogue as text: a figure with its uncertainty, a word, a yes, a list of readings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from catalog.models.columns import Checked, Choice, Code, Count, Day, Flag
from catalog.models.lists import Numbers, Points, Words
from frontend.contexts.columns import unit_of, unit_words, word_of
from frontend.templatetags.quantities import NOTHING, exact, money, share, stated, with_unit

# Figures without a unit that are shares of a whole.
_SHARES = {"yearly_failure_rate", "narrowed_share", "front", "rear", "left", "right", "top", "bottom"}


@dataclass(frozen=True, slots=True)
class Uncertainty:
    """One standard uncertainty: in the figure's unit, or as a share of it."""

    size: float = 0.0
    relative: bool = False

    def of(self, value: float) -> float:
        """Return it in the unit of a value."""
        return self.size * abs(value) if self.relative else self.size


SURE = Uncertainty()


def value_text(column: Checked, value: Any, u: Uncertainty = SURE) -> str:
    """Return a value in words, a list as several lines."""
    match column:
        case _ if value is None:
            return NOTHING
        case Flag():
            return "yes" if value else "no"
        case Choice():
            return word_of(column, value)
        case Words():
            return ", ".join(word_of(column, one) for one in value) or NOTHING
        case Numbers():
            return with_unit(", ".join(exact(one) for one in value), unit_of(column)) if value else NOTHING
        case Points():
            return "\n".join(_pair(column, pair) for pair in value) or NOTHING
        case Count():
            return exact(value)
        case Day() | Code():
            return day_text(value) if isinstance(value, date) else str(value)
    return _number(column, value, u) if isinstance(value, int | float) else str(value)


def spread_text(column: Checked, u: Uncertainty) -> str:
    """Return the uncertainty of every reading of a list, an empty text where there is none."""
    if not isinstance(column, Points) or not u.size:
        return ""
    if u.relative:
        of = " of the flow" if column.name == "curve_points_m3h_pa" else ""
        return f"each ± {share(u.size)}{of}"
    if not column.up.unit:
        return f"each ± {with_unit(exact(100 * u.size), '%')}"
    return f"each ± {exact(u.size, unit_of(column))}"


def day_text(day: date) -> str:
    """Return a day.

    >>> day_text(date(2031, 5, 7))
    '7 May 2031'
    """
    return f"{day.day} {day:%B %Y}"


def _number(column: Checked, value: float, u: Uncertainty) -> str:
    if column.unit == "EUR":
        return money(value, "EUR")
    if column.name in _SHARES:
        return stated(100 * value, 100 * u.of(value), "%")
    return stated(value, u.of(value), unit_of(column))


def _pair(column: Points, pair: tuple[float, float]) -> str:
    return ": ".join(
        exact(one, unit) if unit else with_unit(exact(100 * one), "%")
        for one, unit in zip(pair, (unit_words(column.across.unit), unit_of(column)), strict=True)
    )
