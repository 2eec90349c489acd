"""What is known of one field that people fill in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a brief.

    ``kind`` is ``number``, ``integer``, ``flag``, ``text``, ``currency``, ``choice``, ``choices``, ``codes`` or
    ``weights``. Where the default depends on other fields, ``default`` is None and ``default_note`` says what is taken.
    ``maximum`` is the longest text for ``text``, the longest list for ``codes``, the largest weight for ``weights``.
    ``label`` is its name and ``words`` are those of its choices, as people read them.
    """

    name: str
    kind: str
    help: str
    unit: str = ""
    minimum: float | None = None
    maximum: float | None = None
    default: Any = None
    choices: tuple[str, ...] = ()
    required: bool = False
    default_note: str = ""
    label: str = ""
    words: Mapping[str, str] = field(default_factory=dict)

    @property
    def target(self) -> str:
        """The attribute of the engine's brief: lengths in mm become metres."""
        return f"{self.name[:-3]}_m" if self.unit == "mm" else self.name

    @property
    def nullable(self) -> bool:
        """Whether null is the same as leaving the field out."""
        return self.default is None and not self.required

    @property
    def accepted(self) -> str:
        """What the field accepts, in words."""
        listed = ", ".join(f'"{choice}"' for choice in self.choices)
        unit = f" {self.unit}" if self.unit else ""
        span = "" if self.minimum is None else f" from {self.minimum:g} to {self.maximum:g}{unit}"
        words = {
            "number": f"a number{span}",
            "integer": f"a whole number{span}",
            "flag": "true or false",
            "text": f"a text of up to {self.maximum or 0:g} characters, without control characters",
            "currency": "a currency code of three capital letters",
            "choice": f"one of the texts {listed}",
            "choices": f"a list of one or more of the texts {listed}",
            "codes": f"a list of up to {self.maximum or 0:g} part codes",
            "weights": f"a mapping of {listed} to numbers{span}, not all of them 0",
        }
        return words[self.kind]
