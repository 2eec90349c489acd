"""What a build that is not accepted misses, by how much, and what would let it in."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from advisor.engine.inputs import Brief
from advisor.engine.pipeline import Build
from advisor.engine.record.records import BuildRecord, PartTemperature

# Fields of the brief that set a limit, by the role of the part.
LIMIT_FIELDS = {"processor": "limit_processor_c", "graphics": "limit_graphics_c", "drive": "limit_drive_c"}


@dataclass(frozen=True, slots=True)
class Shortfall:
    """One requirement missed: its code, by how much, in which scenario, and a sentence that says what would help."""

    code: str
    amount: float
    unit: str
    scenario: str
    text: str


def shortfalls(build: Build, record: BuildRecord) -> tuple[Shortfall, ...]:
    """Return every requirement that a build misses at the settings of its record, the worst scenario of each."""
    brief = build.case.brief
    return (*_budget(brief, record), *_noise(brief, record), *_limits(build, record))


def _budget(brief: Brief, record: BuildRecord) -> Iterator[Shortfall]:
    if brief.budget is not None and record.price > brief.budget:
        over = record.price - brief.budget
        yield Shortfall(
            "over_budget",
            over,
            brief.currency,
            "",
            f"It costs {record.price:.0f} {brief.currency}, {over:.0f} more than the budget: raise budget to "
            f"{_up(record.price, 0):.0f}.",
        )


def _noise(brief: Brief, record: BuildRecord) -> Iterator[Shortfall]:
    if record.noise_margin_db >= 0:
        return
    judged = {code: one.noise for code, one in record.predictions.items() if one.noise.target_dba is not None}
    code = max(judged, key=lambda one: judged[one].noise_dba.value)
    noise = judged[code]
    level, top = noise.noise_dba, noise.contributions[0]
    yield Shortfall(
        "noise",
        -record.noise_margin_db,
        "dB",
        code,
        f"In {code} it makes {level.value:.1f} ± {level.standard_uncertainty:.1f} dBA at the seat, "
        f"{-record.noise_margin_db:.1f} dB above the target: raise noise_target_dba from {brief.noise_target_dba:g} to "
        f"{_up(level.value, 1):.1f}, or quieten {top.source} ({noise.parts[top.source]}, {top.level_dba:.1f} dBA "
        f"by the {top.path} face).",
    )


def _limits(build: Build, record: BuildRecord) -> Iterator[Shortfall]:
    worst: dict[tuple[str, str], tuple[PartTemperature, str]] = {}
    for code, one in record.predictions.items():
        for part in one.temperatures:
            known = worst.get((part.role, part.place))
            if part.headroom_k < (known[0].headroom_k if known else 0.0):
                worst[part.role, part.place] = part, code
    for part, code in worst.values():
        t, left = part.temperature_c, part.headroom_k
        yield Shortfall(
            f"{part.role}_limit",
            -left,
            "K",
            code,
            f"{part.words.capitalize()} reaches {t.value:.1f} ± {t.standard_uncertainty:.1f} °C in {code}, "
            f"{-left:.1f} K too much for {part.limit_c:g} °C with its interval: {_remedy(build, part)}.",
        )


def _remedy(build: Build, part: PartTemperature) -> str:
    needed = _up(part.limit_c - part.headroom_k, 1)
    field, own = LIMIT_FIELDS.get(part.role), _own_limit(build, part.role)
    if field is not None and needed <= own:
        return f"raise {field} from {part.limit_c:g} to {needed:.1f}, lower its heat or cool the room"
    return f"take a part that stands {needed:.1f} °C, lower its heat or cool the room"


def _own_limit(build: Build, role: str) -> float:
    """Highest temperature [degC] that the part itself stands; the brief's where only the brief has one."""
    named = build.case.named
    limits = {"processor": named.processor.limit_c, "graphics": named.graphics.limit_c if named.graphics else math.inf}
    if role in limits and getattr(named, role).code.startswith("assumed"):
        return math.inf
    return build.drive.limit_c if role == "drive" and build.drive else limits.get(role, 0.0)


def _up(value: float, digits: int) -> float:
    """Round up, so that what is asked for is enough.

    >>> _up(32.01, 1)
    32.1
    """
    return math.ceil(value * 10**digits - 1e-9) / 10**digits
