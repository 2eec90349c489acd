"""What pages of an answer say alike: where its builds are, what limits them, what is heard."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any
from urllib.parse import quote

from django.urls import NoReverseMatch, reverse

from advisor.engine.inputs import SCENARIOS
from catalog.kinds import KIND_OF
from frontend.templatetags.quantities import dimensions, figure, fixed, number, quantity, share, with_unit
from frontend.templatetags.words import place, role, scenario

Record = Mapping[str, Any]
_FILES = {
    "enclosure": "enclosures",
    "intake_fan": "fans",
    "exhaust_fan": "fans",
    "cooler": "coolers",
    "supply": "supplies",
    "drive": "drives",
    "adapter": "adapters",
    "controller": "controllers",
    "board": "boards",
    "processor": "processors",
    "graphics": "graphics",
    "ssd": "ssds",
    "card": "cards",
    "ups": "ups_units",
}
_STAND_INS = ("assumed", "default_")


def builds_of(record: Record) -> Iterator[Record]:
    """Yield every build that a record holds in full: entries, their alternatives, near misses."""
    for entry in record["shortlist"]:
        yield entry
        yield from entry["alternatives"]
    yield from (miss for miss in record["nearest_misses"] if "predictions" in miss)


def build_address(study: str, identity: str) -> str:
    """Return where a build's page is."""
    return reverse("pages:build", args=[study, identity])


def part_address(part_role: str, code: str) -> str:
    """Return where a part's page is, empty for what stands in for a part that the brief describes."""
    if code.startswith(_STAND_INS):
        return ""
    try:
        return reverse("pages:part", args=[KIND_OF[_FILES[part_role]].path, code])
    except NoReverseMatch:  # a code that no part of the catalogue could have
        return ""


def json_address(study: str) -> str:
    """Return where the whole answer is for programs."""
    return reverse("api:study-detail", args=[study])


def brief_address(study: str) -> str:
    """Return the form with a study's brief filled in."""
    return f"{reverse('pages:brief')}?from={quote(study)}"


def nearest(build: Record) -> tuple[str, Record]:
    """Return the part that is nearest to its limit, and in which scenario."""
    pairs = ((code, one) for code in SCENARIOS for one in build["predictions"][code]["temperatures"])
    return min(pairs, key=lambda pair: pair[1]["headroom_k"])


def part_words(one: Record) -> str:
    """Name a part that has a limit, with the place of drives."""
    return f"drives in {place(one['place'])}" if one["role"] == "drive" and one["place"] else role(one["role"])


def nearest_words(build: Record) -> str:
    """Say what is nearest to its limit, when, and how warm."""
    code, one = nearest(build)
    said = f"{part_words(one)}, {scenario(code).lower()}"
    return f"{said}: {figure(one['temperature_c'], '°C')} of {quantity(one['limit_c'], '°C')}"


def headroom_words(kelvin: float) -> str:
    """Say a headroom, or by how much a limit is missed."""
    return fixed(kelvin, "K") if kelvin >= 0 else f"{fixed(-kelvin, 'K')} too much"


def margin_words(build: Record) -> str:
    """Say the least margin to the noise target and the chance of meeting it."""
    margin, chance = build["noise_margin_db"], share(build["noise_chance"])
    if margin < 0:
        return f"{fixed(-margin, 'dB')} above the target (chance of meeting it {chance})"
    return f"{fixed(margin, 'dB')} below the target (chance of meeting it {chance})"


def watts(power: float) -> str:
    """Say a power to the watt, which is finer than it is known.

    >>> watts(97.4), watts(0.52)
    ('97\u202fW', '0.5\u202fW')
    """
    return fixed(power, "W") if power < 10 else with_unit(number(power), "W")


def size_words(build: Record) -> str:
    """Say width, height and depth as it stands; empty in answers from before they were kept."""
    return dimensions(build["size_m"]) if build.get("size_m") else ""
