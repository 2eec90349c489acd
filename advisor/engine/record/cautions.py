"""What to take care of before and while acting on advice."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.engine.record.records import ROLE_WORDS, BuildRecord

HEAVY_KG = 12.0  # from here on a box deserves a second pair of hands (choice of ours, well below usual lifting limits)
TOUCH_C = 50.0  # above this metal hurts within seconds (from memory: touch limits of bare metal lie near 50 to 60 degC)

GENERAL = (
    "Mains power: switch off and pull the plug before you open an enclosure, and let supplies and UPS units discharge. "
    "Never open a supply or a UPS. Leave wiring and outlets to people licensed to do it, under your local codes.",
    "Supplies and loads: keep every supply, cable, outlet and UPS within its own rating, start-up surge included.",
    "Spinning fans: blades cut and catch hair, sleeves and cables; keep guards on and hands out until they rest.",
    "Hot parts: coolers, graphics boards, supplies and drives burn skin, also for some time after switching off.",
    "Lifting: take the drives out of a loaded box first, or lift it with someone.",
    "Predictions have intervals: watch real temperatures before you leave a new build alone at full load.",
)


def cautions(record: BuildRecord) -> Iterator[str]:
    """Yield cautions on one build, each with its figure."""
    weight = f"Loaded, {record.enclosure} weighs about {record.loaded_kg:.0f} kg (estimate)"
    if record.loaded_kg >= HEAVY_KG:
        yield f"{weight}: take the drives out before you lift it, or lift it with someone."
    else:
        yield f"{weight}: unplug everything before you move it."
    hot = [(part, code) for code, one in record.predictions.items() for part in one.temperatures]
    part, code = max(hot, key=lambda pair: pair[0].temperature_c.value)
    if part.temperature_c.value > TOUCH_C:
        yield (
            f"{ROLE_WORDS[part.role].capitalize()} reaches {part.temperature_c.value:.0f} °C in {code}: let it all "
            "cool down before you touch heat sinks or drives."
        )
    wall = max(state.wall_w for state in record.power.scenarios.values())
    yield (
        f"It takes up to {wall:.0f} W from the wall: keep outlet, cable and UPS within their ratings, and leave work "
        "on mains wiring to people licensed for it, under your local codes."
    )
