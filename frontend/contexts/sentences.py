"""Sentences of a record as pages say them: names for codes of parts, plain words for places, scenarios and fields."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from advisor.brief.words import CHOICES, LABELS
from frontend.templatetags.quantities import MINUS, SPACE
from frontend.templatetags.words import SCENARIOS, place

Record = Mapping[str, Any]
_ISOLATE, _END = "\u2068", "\u2069"  # keep the direction of a name to itself, as <bdi> does
_CODE = re.compile(r"(?<![\w-])[A-Za-z0-9]+(?:[_-][A-Za-z0-9]+)+(?![\w-])|(?<![\w-])[A-Za-z0-9]+(?![\w-])")
_IN = re.compile(rf"\bin ({'|'.join(SCENARIOS)})\b(?!(?:,| and) (?:{'|'.join(SCENARIOS)})\b)")
_WHEN = {
    "idle": "when idle",
    "working": "when working",
    "full_load": "at full load",
    "hot_day": "on a hot day",
    "rebuild": "during a rebuild",
}
_UNIT = re.compile(r"(?<=\d) (?=(?:°C|K|dBA|dB|W|rpm|kg|g/s|m3/h|mm|min|s|%)(?!\w))")
_MINUS = re.compile(r"(?<=[ (])-(?=\d)")
_BOARDS = {form: words.partition(" (")[0] for form, words in CHOICES["board_form"].items()}


@dataclass(frozen=True)
class Speech:
    """Says sentences of one record; ``names`` are those of its parts by code, ``groups`` its groups of bays."""

    names: Mapping[str, str]
    groups: frozenset[str] = field(default_factory=frozenset)

    def say(self, sentence: str) -> str:
        """Return a sentence with every code in plain words.

        >>> speech = Speech({"box-9": "Nine Box"}, frozenset({"front_35"}))
        >>> speech.say("Take front_35 in hot_day, or raise limit_drive_c to 50 °C.")
        'Take front 3.5-inch bays on a hot day, or raise “Limit of the drives” to 50\u202f°C.'
        """
        timed = _IN.sub(lambda found: _WHEN[found.group(1)], sentence)
        spaced = _MINUS.sub(MINUS, _UNIT.sub(SPACE, timed)).replace("m3/h", "m³/h")
        return _CODE.sub(lambda found: self._word(found.group()), spaced)

    def _word(self, code: str) -> str:
        if code in self.names:
            return f"{_ISOLATE}{self.names[code]}{_END}"
        if code in LABELS and "_" in code:
            return f"“{LABELS[code]}”"
        if code in self.groups:
            return f"{place(code)} bays"
        if "_" not in code:
            return code
        return SCENARIOS[code].lower() if code in SCENARIOS else _BOARDS.get(code) or place(code)


def speech_of(builds: Iterable[Record]) -> Speech:
    """Return how to say what a record holds about some builds."""
    names: dict[str, str] = {}
    groups: set[str] = set()
    for build in builds:
        names |= {line["part"]: line["name"] for line in build["parts"]}
        groups |= {bay["group"] for bay in build.get("bays", ())}
    return Speech(names, frozenset(groups))
