"""Sentences of advice: each has a figure, the part it is about, and what to do. Made from the record alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor.engine.case.components import LIMITS
from advisor.engine.noise.levels import energy, level
from advisor.engine.record.ends import grids
from advisor.engine.record.ranking import weakest
from advisor.engine.record.records import BuildRecord, NoiseAtSeat, PartTemperature
from advisor.engine.record.spot import CODES, GROUPS, Spot

# What to change beside fan speeds, by the part that is nearest its limit.
COOLING_HINT = {
    "processor": "a cooler with a lower resistance than {cooler}",
    "graphics": "a board that draws less, or an enclosure that feeds its slots from outside",
    "drive": "fewer drives in {place}, ones that draw less than {drive}, or a cage with more air through it",
    "ssd": "a heat sink on it or a place nearer the intake",
    "card": "a slot nearer the intake or a card that draws less",
    "controller": "a slot nearer the intake or the board's own ports",
}


@dataclass(frozen=True, slots=True)
class Step:
    """One speed step of one group: where it leads, what it does to a headroom [K] and to the level at the seat [dB]."""

    group: str
    speed_rpm: float
    kelvin: float
    decibel: float


def reasons(
    spot: Spot, record: BuildRecord, criteria: Mapping[str, float], weights: Mapping[str, float]
) -> Iterator[str]:
    """Yield sentences on what limits a build, what is heard, how sure the noise target is, and what ranks it."""
    s, part = nearest_limit(record)
    yield _limit(spot, record, s, part)
    yield _loudest(spot, record)
    yield _chance(record)
    yield from _switches(record)
    yield from _start(record)
    if criteria:
        yield weakest(spot, record, criteria, weights)


def nearest_limit(record: BuildRecord) -> tuple[int, PartTemperature]:
    """Return the scenario and the part that is nearest to its limit."""
    pairs = [(s, part) for s, code in enumerate(CODES) for part in record.predictions[code].temperatures]
    return min(pairs, key=lambda pair: pair[1].headroom_k)


def _limit(spot: Spot, record: BuildRecord, s: int, part: PartTemperature) -> str:
    t = part.temperature_c
    said = (
        f"Nearest limit: {part.words} in {CODES[s]}, {t.value:.1f} ± {t.standard_uncertainty:.1f} °C of "
        f"{part.limit_c:g} °C, {_left(part.headroom_k)} at the confidence asked for."
    )
    hint = COOLING_HINT[part.role].format(
        cooler=spot.build.cooler.code, place=part.place, drive=spot.build.drive.code if spot.build.drive else ""
    )
    faster = best_step(steps_up(spot, s, part.role))
    if faster is None:
        return f"{said} No faster fan cools it any further: what helps is {hint}."
    return (
        f"{said} {faster.group.capitalize()} at {faster.speed_rpm:.0f} rpm there would add {faster.kelvin:.1f} K for "
        f"{faster.decibel:.1f} dB; beyond that, take {hint}."
    )


def _left(kelvin: float) -> str:
    return f"headroom {kelvin:.1f} K" if kelvin >= 0 else f"{-kelvin:.1f} K too much"


def steps_up(spot: Spot, s: int, role: str) -> list[Step]:
    """Return what one step more of each group does for a part in a scenario."""
    return [step for axis in range(3) if (step := _moved(spot, s, axis, 1, LIMITS.index(role))) is not None]


def best_step(steps: list[Step]) -> Step | None:
    """Return the step that cools most for what it is heard; None where none cools."""
    useful = [step for step in steps if step.kelvin > 0.05]
    return max(useful, key=lambda step: step.kelvin / (max(step.decibel, 0.0) + 0.1), default=None)


def _moved(spot: Spot, s: int, axis: int, by: int, limit: int) -> Step | None:
    here = spot.place(s)
    there = (here[0] + by * (axis == 0), here[1] + by * (axis == 1), here[2] + by * (axis == 2))
    sizes = (*spot.settings.cells.grid, len(spot.cooler_steps))
    if not 0 <= there[axis] < sizes[axis]:
        return None
    speed = spot.speeds(s, *there)[GROUPS[axis]].speed_rpm
    if speed is None:
        return None
    k0, k1 = spot.row(s, *here[:2]), spot.row(s, *there[:2])
    slack, sound = spot.settings.slack, spot.settings.energy
    kelvin = float(slack[k1, there[2], limit] - slack[k0, here[2], limit])
    decibel = float(level(sound[k1, there[2]]) - level(sound[k0, here[2]]))
    return Step(GROUPS[axis], speed, kelvin, decibel)


def loudest(record: BuildRecord) -> tuple[str, NoiseAtSeat]:
    """Return the scenario, of those in which the target holds, that is loudest."""
    judged = {code: one.noise for code, one in record.predictions.items() if one.noise.target_dba is not None}
    code = max(judged, key=lambda code: judged[code].noise_dba.value)
    return code, judged[code]


def _loudest(spot: Spot, record: BuildRecord) -> str:
    code, noise = loudest(record)
    shares: dict[str, float] = {}
    for one in noise.contributions:
        shares[one.source] = shares.get(one.source, 0.0) + one.heard_share
    source = max(shares, key=lambda name: shares[name])
    top = next(one for one in noise.contributions if one.source == source)
    without = float(level(energy(noise.noise_dba.value) * max(1.0 - shares[source], 1e-9)))
    part = noise.parts[source]
    said = (
        f"Loudest in {code}: {source} ({part}), {100 * shares[source]:.0f} % of what is heard at the seat, most of it "
        f"by way of the {top.path} face ({top.level_dba:.1f} of {noise.noise_dba.value:.1f} ± "
        f"{noise.noise_dba.standard_uncertainty:.1f} dBA)."
    )
    return f"{said} {_quieter(spot, code, source, part, without)}"


def _quieter(spot: Spot, code: str, source: str, part: str, without: float) -> str:
    axis = _group_of(spot, source)
    if axis is not None:
        s = CODES.index(code)
        slower = _moved(spot, s, axis, -1, 0)
        if slower is not None and slower.speed_rpm > 0:
            energies, slack = grids(spot)
            i, e, c = (step - (axis == n) for n, step in enumerate(spot.place(s)))
            left = float(slack[s, i, e, c])
            keeps = (
                f"which keeps {left:.1f} K of headroom" if left >= 0 else f"but misses a limit there by {-left:.1f} K"
            )
            slow = f"{GROUPS[axis].capitalize()} at {slower.speed_rpm:.0f} rpm"
            return f"{slow} would take {-slower.decibel:.1f} dB off, {keeps}."
    return f"Without it the level would be {without:.1f} dBA: look for a quieter {_part_word(source, part)} first."


def _part_word(source: str, part: str) -> str:
    """Name what is to be quieter: the part, or what it is where the brief names none."""
    return f"{source} board" if part.startswith("assumed") else f"part than {part}"


def _group_of(spot: Spot, source: str) -> int | None:
    """Index of the speed group that a source of sound belongs to."""
    if source == "cooler":
        return 2
    for axis, mounts in enumerate((spot.build.fans.intake, spot.build.fans.exhaust)):
        if any(opening.code == source for opening, _ in mounts):
            return axis
    return None


def _chance(record: BuildRecord) -> str:
    code, noise = loudest(record)
    margin, u = record.noise_margin_db, noise.noise_dba.standard_uncertainty
    said = f"The noise target of {noise.target_dba:g} dBA is met with a margin of {margin:.1f} dB in {code}"
    if margin < 0:
        said = f"The noise target of {noise.target_dba:g} dBA is missed by {-margin:.1f} dB in {code}"
    chance = f"chance of meeting it {percent(record.noise_chance)}"
    if 0.1 < record.noise_chance < 0.9:
        advice = f"± {u:.1f} dB is too wide to be sure, so measure {record.enclosure} with these fans first"
        return f"{said} ({chance}): {advice}."
    return f"{said} ({chance})" + (": set the speeds listed and keep them." if margin >= 0 else ".")


def percent(chance: float) -> str:
    """Write a chance without claiming certainty.

    >>> percent(0.8412), percent(0.9999), percent(0.0)
    ('84 %', 'over 99 %', 'under 1 %')
    """
    return "over 99 %" if chance > 0.99 else "under 1 %" if chance < 0.01 else f"{100 * chance:.0f} %"


def _switches(record: BuildRecord) -> Iterator[str]:
    for group, speeds in record.settings[CODES[0]].items():
        if speeds.manual and speeds.speed_rpm is not None:
            listed = ", ".join(f"{code} to {rpm:.0f} rpm" for code, rpm in speeds.fans.items())
            yield f"The {group} has a switch: set {listed} and leave it there in all scenarios."


def _start(record: BuildRecord) -> Iterator[str]:
    plan = record.power.spin_up
    if plan is not None and plan.groups > 1:
        yield (
            f"Start the drives in {plan.groups} groups of up to {plan.group_size}, {plan.interval_s:.0f} s apart "
            f"(staggered spin-up): that keeps the peak at {plan.peak_w_12v:.0f} W of the {plan.limit_w_12v:.0f} W that "
            "the supply has at 12 V."
        )
