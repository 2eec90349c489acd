"""What is predicted for a build in answers: temperatures, noise and air by scenario, and the fan speeds behind them."""

from __future__ import annotations

from typing import Any

from advisor.engine.inputs import SCENARIOS
from advisor.engine.record.records import ROLE_WORDS
from advisor.engine.record.spot import GROUPS
from api.schema.shapes import (
    Schema,
    by_name,
    flag,
    many,
    named,
    number,
    one_of,
    or_null,
    record,
    text,
    with_help,
)

SHARE: dict[str, Any] = {"minimum": 0, "maximum": 1}


def by_scenario(item: Schema, help: str) -> Schema:
    return by_name(item, f"{help}, by scenario.", SCENARIOS)


def _figure(help: str, unit: str) -> Schema:
    return with_help(named("Figure"), f"{help} [{unit}]")


FIGURE = record(
    "A predicted value and its standard uncertainty, both in the unit that the field's name says.",
    value=number("The value."),
    standard_uncertainty=number("Its standard uncertainty.", minimum=0),
)
SPEEDS = record(
    "The setting of a group of fans.",
    speed_rpm=or_null(number("Speed of the model that most of them are; null without fans.", "rpm", minimum=0)),
    fans=by_name(number("Speed.", "rpm", minimum=0), "Speed of every model, by its code."),
    manual=flag("Whether a switch sets it, the same in all scenarios."),
)
SETTINGS = by_scenario(by_name(named("Speeds"), "Groups of fans.", GROUPS), "Fan speeds to set")
PART_TEMPERATURE = record(
    "The warmest spot of a part.",
    role=one_of(ROLE_WORDS, "What the part is."),
    place=text("Bay group of drives; empty elsewhere."),
    temperature_c=_figure("Its temperature.", "°C"),
    limit_c=number("Its limit.", "°C"),
    headroom_k=number("What the limit leaves, at the brief's confidence.", "K"),
)
HEARD_SOURCE = record(
    "A source of noise by one way out.",
    source=text("The source."),
    part=text("Code of the part."),
    face=text("Face of the enclosure by which it is heard."),
    level_dba=number("Level at the seat, by this face alone.", "dBA"),
    sound_power_db=number("Sound power of the whole source, A-weighted.", "dB re 1 pW"),
    heard_share=number("Share of the sound energy at the seat.", **SHARE),
)
_HEARD_SHARE = number("Share of the sound energy at the seat.", **SHARE)
_PREDICTION: dict[str, Schema] = {
    **{
        f"{role}_c": or_null(_figure(f"Temperature of {words}; null where there is none.", "°C"))
        for role, words in ROLE_WORDS.items()
    },
    "noise_dba": _figure("Level at the seat, the machine alone.", "dBA"),
    "noise_with_background_dba": number("Level at the seat, the room's background included.", "dBA"),
    "noise_target_dba": or_null(number("The target; null in scenarios in which it does not hold.", "dBA")),
    "noise_chance": or_null(number("Chance that the target is met; null where none holds.", **SHARE)),
    "temperatures": many(named("PartTemperature"), "Every part with a limit."),
}
PREDICTION = record(
    "What is predicted for one scenario.",
    ["noise_by_source", "noise_by_face", "noise_sources"],
    **_PREDICTION,
    noise_by_source=by_name(_HEARD_SHARE, "What is heard at the seat, by source. Not told of alternatives."),
    noise_by_face=by_name(_HEARD_SHARE, "What is heard at the seat, by face. Not told of alternatives."),
    noise_sources=many(named("HeardSource"), "Where the noise comes from, loudest first. Not told of alternatives."),
)
END = record(
    "One end of what the build can do within its limits.",
    settings=with_help(named("Settings"), "The settings there."),
    noise_dba=number("The loudest level of the scenarios in which the target holds.", "dBA"),
    headroom_k=number("The least headroom of any part.", "K"),
)
AIRFLOW = record(
    "The air of one scenario; shares are of the air that passes through.",
    ["openings"],
    zones=many(
        record(
            "Air of one zone.",
            code=text("The zone."),
            pressure_pa=number("Pressure over the outside at that height.", "Pa"),
            temperature_c=number("Temperature.", "°C"),
            fresh_share=number("Share of fresh air in what enters it.", **SHARE),
        ),
        "Zones of the enclosure.",
    ),
    openings=many(
        record(
            "Air through one opening, or through one half of a tall one, positive from -> to.",
            code=text("The opening."),
            half=one_of(("", "lower", "upper"), "Which half; empty for all of it."),
            **{"from": text("Zone on one side."), "to": text("Zone on the other side.")},
            mass_flow_kgs=number("Mass flow.", "kg/s"),
            standard_uncertainty_kgs=number("Its standard uncertainty.", "kg/s", minimum=0),
            flow_m3s=number("Volume flow.", "m3/s"),
            reversed=flag("Whether it blows the wrong way."),
        ),
        "Openings of the enclosure. Not told of alternatives.",
    ),
    intake_c=number(
        "Temperature of the air around the machine, warmer than the room in a place that holds heat.", "°C"
    ),
    throughflow_kgs=number("Mass flow through the enclosure.", "kg/s", minimum=0),
    air_changes_per_h=number("How often its air is changed.", "1/h", minimum=0),
    fresh_share=number("Share of fresh air in what reaches the parts.", **SHARE),
    filtered_share=number("Share that comes in by filters.", **SHARE),
    wrong_way_share=number("Share that passes openings the wrong way.", minimum=0),
    short_circuit_share=number("Share that leaves without passing a source of heat.", **SHARE),
    score=number("The criterion `airflow` of this scenario.", **SHARE),
)
BAY = record(
    "One drive's bay.",
    bay=text("The bay."),
    group=text("The group that it is in."),
    adapter=text("Code of the adapter; empty without one."),
    drive=text("Code of the drive."),
    temperature_c=_figure("Temperature of the warmest drive of the group.", "°C"),
    scenario=one_of(SCENARIOS, "The scenario in which it is warmest."),
)

COMPONENTS: dict[str, Schema] = {
    "Figure": FIGURE,
    "Speeds": SPEEDS,
    "Settings": SETTINGS,
    "PartTemperature": PART_TEMPERATURE,
    "HeardSource": HEARD_SOURCE,
    "Prediction": PREDICTION,
    "End": END,
    "Airflow": AIRFLOW,
    "Bay": BAY,
}
