"""Builds in answers: the entries of a shortlist, their alternatives, and near misses."""

from __future__ import annotations

from advisor.brief import CRITERIA
from advisor.engine.fit import ORDER
from api.schema.predictions import SHARE, by_scenario
from api.schema.shapes import (
    Schema,
    address,
    many,
    named,
    number,
    one_of,
    or_null,
    record,
    text,
    whole,
    with_help,
)

PART_LINE = record(
    "Parts of one kind in one place.",
    role=text("What the part is for, such as `cooler` or `intake_fan`."),
    part=text("Code of the part; one that begins with `assumed_` stands in for a part that the brief describes."),
    name=text("Name of the part."),
    quantity=whole("How many.", minimum=1),
    place=text("Where: a mount, a bay group, a zone; empty where there is one place only."),
    price=or_null(number("Price of one, in the brief's currency; null where the brief brings the part.", minimum=0)),
)
_SENTENCES = text("A sentence.")
BUILD: dict[str, Schema] = {
    "enclosure": text("Code of the enclosure."),
    "parts": many(named("PartLine"), "All parts."),
    "price": number("Price of all parts that are bought, in the brief's currency.", minimum=0),
    "settings": with_help(named("Settings"), "The fan speeds to set."),
    "predictions": by_scenario(named("Prediction"), "What is predicted"),
    "headroom_k": number("Least headroom of any part in any scenario, at the brief's confidence.", "K"),
    "noise_margin_db": number("Least margin to the noise target, where it holds.", "dB"),
    "noise_chance": number("Chance that the noise target is met wherever it holds.", **SHARE),
    "ends": record(
        "The two ends of what it can do within its limits; empty where it keeps none of them.",
        ("quietest", "coolest"),
        quietest=named("End"),
        coolest=named("End"),
    ),
    "airflow": by_scenario(named("Airflow"), "Where the air goes"),
    "bays": many(named("Bay"), "Every drive's bay."),
    "power": named("Power"),
    "storage": or_null(with_help(named("Storage"), "Null without drives.")),
    "size_m": many(
        number("A length.", "m", minimum=0), "Its width, height and depth as it stands.", minItems=3, maxItems=3
    ),
    "spare_places": whole("More drives that it takes, beyond the bays that the brief keeps free.", minimum=0),
    "loaded_kg": number("What it weighs with everything in it (estimate).", "kg", minimum=0),
    "warnings": many(_SENTENCES, "Where the figures rest on less than usual."),
    "reasons": many(_SENTENCES, "What limits it, what is heard, what to change first, how it compares."),
    "cautions": many(_SENTENCES, "What to mind when it is built."),
}
_WORTH: dict[str, Schema] = {
    "id": text("What names the build within its study."),
    "url": address("Its address."),
    "desirability": number("What it is worth.", minimum=0, maximum=1),
    "criteria": record(
        "What it is worth by each criterion that counts.",
        CRITERIA,
        **{name: number("Desirability by this criterion.", **SHARE) for name in CRITERIA},
    ),
}
ALTERNATIVE = record("Another build of the same enclosure.", **_WORTH, **BUILD)
ENTRY = record(
    "The best build of one enclosure.",
    **_WORTH,
    rank=whole("Place in the list; equal for builds that cannot be told apart from the first of the rank.", minimum=1),
    tied_with=many(text("Id."), "Builds of the list that cannot be told apart from this one."),
    **BUILD,
    alternatives=many(named("Alternative"), "The next builds of the enclosure.", maxItems=5),
)
SHORTFALL = record(
    "One requirement missed.",
    code=one_of(ORDER, "The requirement."),
    amount=number("By how much.", minimum=0),
    unit=text("The unit of that."),
    scenario=text("The scenario; empty where it is none's."),
    text=text("A sentence that says what would help."),
)
_MISS: dict[str, Schema] = {
    "id": text("What names the build within its study."),
    "enclosure": BUILD["enclosure"],
    "code": one_of(ORDER, "The first requirement missed."),
    "miss": number("By how many steps of its scale.", minimum=0),
    "text": text("What is missed and what would help."),
    "shortfalls": many(named("Shortfall"), "Every requirement missed."),
    "parts": BUILD["parts"],
    "price": BUILD["price"],
}
NEAR_MISS = record(
    "The build of an enclosure without an accepted one that misses by least.",
    [name for name in BUILD if name not in _MISS],
    **_MISS,
    **{name: schema for name, schema in BUILD.items() if name not in _MISS},
)
COMPONENTS: dict[str, Schema] = {
    "PartLine": PART_LINE,
    "Alternative": ALTERNATIVE,
    "ShortlistEntry": ENTRY,
    "Shortfall": SHORTFALL,
    "NearMiss": NEAR_MISS,
}
