"""What the loader says about a value that it does not take."""

from __future__ import annotations

import difflib
import reprlib
from collections.abc import Collection
from dataclasses import dataclass

from catalog.consistency import NOTHING

_SHORT = reprlib.Repr()
_SHORT.maxstring = _SHORT.maxother = _SHORT.maxlong = 60
_SHORT.maxlist = _SHORT.maxtuple = _SHORT.maxdict = 4
_SHORT.maxlevel = 2


@dataclass(frozen=True, slots=True)
class Place:
    """A block in a file, as people find it."""

    file: str
    line: int = 0
    noun: str = ""
    code: str = ""

    def __str__(self) -> str:
        where = f"{self.file} line {self.line}" if self.line else self.file
        return f"{where}, {self.noun} {show(self.code)}" if self.noun and self.code else where


@dataclass(frozen=True, slots=True)
class Refusal:
    """One bad value: where it is, what it is, why it is refused and what is accepted."""

    place: Place
    field: str
    value: object
    reason: str
    accepted: str = ""

    def __str__(self) -> str:
        return printable(f"{self.place}: ") + self.sentence

    @property
    def sentence(self) -> str:
        """What is refused and why, without the place."""
        subject = " ".join(word for word in (self.field and f"{self.field}:", show(self.value)) if word)
        tail = f"; accepted: {self.accepted}" if self.accepted else ""
        return printable(f"{subject} {self.reason}{tail}".strip())


class LoadRefused(Exception):
    """The files hold bad values and nothing was loaded; ``refusals`` lists every one."""

    def __init__(self, refusals: list[Refusal]) -> None:
        self.refusals = refusals
        super().__init__("\n".join(str(refusal) for refusal in refusals))


def printable(text: str) -> str:
    """Escape what would end the line or command the terminal: names in files may hold anything."""
    return "".join(sign if sign.isprintable() else repr(sign)[1:-1] for sign in text)


def show(value: object) -> str:
    """Return a value in one short line, whatever it is."""
    return "" if value is NOTHING else _SHORT.repr(value)


def nearest(word: object, known: Collection[str]) -> str:
    """Return what may have been meant, or all that is known where nothing is near."""
    close = difflib.get_close_matches(str(word)[:80], known, n=1, cutoff=0.6)
    if close:
        return f"did you mean '{close[0]}'?"
    return ", ".join(sorted(known)) if len(known) <= 30 else f"one of {len(known)} known ones"
