"""What was derived, and how: each figure with its uncertainty, the relation and its source, and what went in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from advisor.tape.relations import RELATIONS

Input = tuple[str, float | str]
Inputs = Mapping[str, float | str]


@dataclass(frozen=True, slots=True)
class Derived:
    """One figure of the block.

    ``figure`` is its key in catalogue files, such as ``openings.rear_fans.area_cm2``. ``uncertainty`` is one standard
    uncertainty in ``unit``. ``inputs`` names what went into ``relation``, each name ending in its unit.
    """

    figure: str
    value: float
    unit: str
    uncertainty: float
    relation: str
    source: str
    inputs: tuple[Input, ...]


@dataclass
class Ledger:
    """Collects derived figures in the order in which they are made."""

    lines: list[Derived] = field(default_factory=list)

    def add(
        self, figure: str, value: float, unit: str, relation: str, inputs: Inputs, *, share: float = 0.0,
        plain: float = 0.0,
    ) -> float:  # fmt: skip
        """Note a figure and return it, rounded; ``share`` is a relative uncertainty, ``plain`` one in its unit."""
        known = RELATIONS[relation]
        value = rounded(value)
        uncertainty = rounded(plain + share * abs(value))
        given = tuple((name, rounded(one) if isinstance(one, float) else one) for name, one in inputs.items())
        self.lines.append(Derived(figure, value, unit, uncertainty, known.equation, known.source, given))
        return value


def rounded(value: float, digits: int = 6) -> float:
    """Return a number to so many significant digits.

    >>> rounded(123.4567891), rounded(0.0)
    (123.457, 0.0)
    """
    return float(f"{value:.{digits}g}")
