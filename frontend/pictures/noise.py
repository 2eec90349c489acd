"""Where the noise at the seat comes from: what each source and each face adds, and what would be left without it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from advisor.engine.noise.levels import energy, level
from frontend.templatetags.quantities import figure, fixed, share
from frontend.templatetags.words import place, scenario

Record = Mapping[str, Any]
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
_LETTERED = 7.0  # percent of the width from which on a letter fits into a part of the bar
_SOURCES = {"cooler": "processor cooler", "supply": "power supply", "graphics": "graphics board", "drives": "drives"}


@dataclass(frozen=True, slots=True)
class Share:
    """A source's or a face's share of what is heard, ``start`` and ``width`` in percent of the whole bar.

    ``level_dba`` is what it makes alone, ``without_dba`` what is left without it, None where nothing is.
    """

    letter: str
    name: str
    part: str
    through: str
    heard: float
    level_dba: float
    without_dba: float | None
    start: float
    width: float

    @property
    def middle(self) -> float:
        return round(self.start + self.width / 2, 2)

    @property
    def lettered(self) -> bool:
        """Whether its letter fits into its part of the bar."""
        return self.width >= _LETTERED


@dataclass(frozen=True, slots=True)
class NoisePicture:
    """What is heard of a build in one scenario; ``sources`` and ``faces`` each add up to ``level_dba``."""

    key: str
    title: str
    description: str
    level: Mapping[str, float]
    target_dba: float | None
    with_background_dba: float
    sources: tuple[Share, ...]
    faces: tuple[Share, ...]


def of_build(build: Record, code: str) -> NoisePicture:
    """Return what is heard of a build of the shortlist or a near miss in one scenario."""
    found = build["predictions"][code]
    sources, faces = tuple(_sources(build, found)), tuple(_faces(found))
    said = f"{figure(found['noise_dba'], 'dBA')} at the seat"
    if sources:
        said += f"; {sources[0].name} makes {share(sources[0].heard)} of it"
    return NoisePicture(
        f"noise-{code}",
        f"Where the noise comes from: {scenario(code)}",
        f"{said}.",
        found["noise_dba"],
        found["noise_target_dba"],
        found["noise_with_background_dba"],
        sources,
        faces,
    )


def _sources(build: Record, found: Record) -> Iterator[Share]:
    names = {line["part"]: line["name"] for line in build["parts"]}
    parts = {one["source"]: names.get(one["part"], "") for one in found["noise_sources"]}
    faces: dict[str, list[str]] = {}
    for one in found["noise_sources"]:
        faces.setdefault(one["source"], []).append(f"{one['face']} {fixed(one['level_dba'], 'dBA')}")
    for letter, source, heard, start in _laid_out(found["noise_by_source"]):
        name = _SOURCES.get(source) or place(source)
        yield _share(letter, name, parts.get(source, ""), ", ".join(faces.get(source, ())), heard, start, found)


def _faces(found: Record) -> Iterator[Share]:
    for letter, face, heard, start in _laid_out(found["noise_by_face"]):
        yield _share(letter, face, "", "", heard, start, found)


def _laid_out(shares: Mapping[str, float]) -> Iterator[tuple[str, str, float, float]]:
    start = 0.0
    for n, (name, heard) in enumerate(shares.items()):
        yield _LETTERS[n % len(_LETTERS)], name, heard, start
        start += heard


def _share(letter: str, name: str, part: str, through: str, heard: float, start: float, found: Record) -> Share:
    total = float(energy(found["noise_dba"]["value"]))
    alone, rest = float(level(total * heard)), float(level(total * max(1.0 - heard, 0.0)))
    left = rest if math.isfinite(rest) and heard < 1 - 1e-6 else None
    return Share(letter, name, part, through, heard, alone, left, round(100 * start, 2), round(100 * heard, 2))
