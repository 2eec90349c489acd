"""Every field of a brief: its type, unit, range, default and help. API schema and forms are made from this table."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from advisor.brief.field import Field
from advisor.brief.words import CHOICES, LABELS
from advisor.engine.boards import BOARD_SIZE_M
from advisor.engine.inputs import SCENARIOS
from advisor.engine.noise.paths import PLACEMENTS
from advisor.engine.orientation import ROTATIONS
from advisor.engine.storage.form_factors import DRIVE_SIZE_M
from advisor.engine.storage.layouts import LAYOUTS, MOST_DRIVES

SEAT_SIDES = ("front", "rear", "left", "right")

# What a build is judged by, and how much each criterion counts where the brief says nothing.
DEFAULT_WEIGHTS = {"noise": 3.0, "headroom": 3.0, "airflow": 1.0, "bays": 1.0, "service": 1.0, "price": 2.0}
CRITERIA = tuple(DEFAULT_WEIGHTS)

LONGEST_TITLE = 120
LONGEST_CODE = 60
MOST_CODES = 50


def _number(name: str, unit: str, low: float, high: float, default: float | None, help: str, **more: Any) -> Field:
    return Field(name, "number", help, unit=unit, minimum=low, maximum=high, default=default, **more)


def _integer(name: str, low: int, high: int, default: int | None, help: str, **more: Any) -> Field:
    return Field(name, "integer", help, minimum=low, maximum=high, default=default, **more)


def _choice(name: str, choices: tuple[str, ...], default: str | None, help: str, **more: Any) -> Field:
    return Field(name, "choice", help, choices=choices, default=default, **more)


_NO_LIMIT = "no limit"
_WITH_GRAPHICS = "where graphics boards are wanted, otherwise nothing"

_PARTS = (
    _number(
        "processor_watts",
        "W",
        1,
        1000,
        None,
        "Heat of the processor at full load: its sustained power, not the peak of a second.",
        required=True,
    ),
    _choice(
        "board_form", tuple(BOARD_SIZE_M), None, "Form of the main board, which the enclosure must hold.", required=True
    ),
    Field("processor_socket", "text", "Socket of the processor; empty for any.", maximum=LONGEST_CODE, default=""),
    _number("graphics_watts", "W", 0, 1000, 0.0, "Heat of one graphics board at full load; 0 for none."),
    _integer(
        "graphics_count", 0, 8, None, "Graphics boards.", default_note="1 where graphics_watts is above 0, else 0"
    ),
    _number(
        "graphics_length_mm", "mm", 0, 500, None, "Length of a graphics board.", default_note=f"270 {_WITH_GRAPHICS}"
    ),
    _integer("graphics_slots", 0, 6, None, "Slots that one graphics board covers.", default_note=f"2 {_WITH_GRAPHICS}"),
    _choice(
        "graphics_airflow", ("open", "blower"), "open", "Whether the board leaves its heat inside or blows it out."
    ),
    _number(
        "graphics_noise_dba",
        "dBA",
        0,
        90,
        None,
        "Level of one graphics board at full load, at 1 m over a hard floor.",
        default_note=f"36 {_WITH_GRAPHICS}",
    ),
    _integer("ssd_count", 0, 16, 1, "Solid-state drives on the main board."),
    _integer("card_count", 0, 8, 0, "Further cards, storage controllers not counted."),
)

_STORAGE = (
    _integer("drive_count", 0, MOST_DRIVES, None, "Drives, hot spares included; or give usable_capacity_tb."),
    _number("usable_capacity_tb", "TB", 0.1, 5000, None, "Capacity after redundancy; or give drive_count."),
    _choice("drive_form", tuple(DRIVE_SIZE_M), "3.5", "Form of the drives in inches."),
    _number("drive_capacity_tb", "TB", 0.1, 100, None, "Capacity of one drive.", default_note="any"),
    _choice("layout", tuple(LAYOUTS), "none", "How data is spread over the drives, and so how many may fail."),
    _integer("hot_spares", 0, 20, 0, "Drives that wait to replace a failed one."),
    _integer("spare_bays", 0, 100, 0, "Bays to keep free for drives to come."),
    Field("hot_swap", "flag", "Whether drives must be changeable in service.", default=False),
)

_NOISE = (
    _number(
        "noise_target_dba",
        "dBA",
        5,
        90,
        None,
        "Highest level where you sit, of the machine alone. A quiet bedroom at night has about 25 dBA.",
        required=True,
    ),
    Field(
        "noise_scenarios",
        "choices",
        "Scenarios in which the noise target holds.",
        choices=SCENARIOS,
        default=("idle", "working"),
    ),
    _number("seat_distance_m", "m", 0.2, 20, 1.0, "From the machine to your ears."),
    _choice("seat_side", SEAT_SIDES, "front", "Which side of the machine looks at the seat."),
    _number(
        "room_background_dba",
        "dBA",
        0,
        80,
        25.0,
        "Level of the room with the machine off; it never counts as the machine's.",
    ),
    _number(
        "room_absorption_m2",
        "m2",
        0.5,
        1000,
        10.0,
        "Equivalent absorption area of the room: 5 in a bare one, 10 furnished, 20 with carpets and curtains.",
    ),
)

_PLACE = (
    _choice("orientation", tuple(ROTATIONS), "upright", "How the enclosure stands."),
    _choice("placement", tuple(PLACEMENTS), "open", "Where it stands; a cupboard is taken to be ventilated."),
    _number("max_width_mm", "mm", 50, 2000, None, "Room for the width, as it stands.", default_note=_NO_LIMIT),
    _number("max_height_mm", "mm", 50, 2000, None, "Room for the height, as it stands.", default_note=_NO_LIMIT),
    _number("max_depth_mm", "mm", 50, 2000, None, "Room for the depth, as it stands.", default_note=_NO_LIMIT),
    _number("ambient_c", "°C", -10, 50, 22.0, "Temperature of the air around the machine on a usual day."),
    _number(
        "hot_day_c",
        "°C",
        -10,
        60,
        None,
        "Temperature of that air on the hottest day.",
        default_note="30, or ambient_c where that is higher",
    ),
    _number("altitude_m", "m", 0, 5000, 0.0, "Height above the sea: thin air carries less heat."),
)

_LIMITS = (
    _number("limit_processor_c", "°C", 20, 125, 85.0, "Highest temperature of the processor's chip."),
    _number("limit_graphics_c", "°C", 20, 125, 83.0, "Highest temperature of the graphics chip."),
    _number("limit_drive_c", "°C", 20, 85, 45.0, "Highest temperature of the hottest drive."),
    _number("confidence", "", 0.5, 0.999, 0.9, "One-sided confidence with which each temperature limit holds."),
)

_WORTH = (
    _number("ups_minutes", "min", 0, 600, 0.0, "Minutes that a UPS must carry the machine at work; 0 for none."),
    _number("energy_price", "per kWh", 0, 10, 0.30, "Price of a kilowatt-hour, in the currency."),
    _number("budget", "", 1, 1_000_000, None, "Most that the parts may cost, in the currency.", default_note=_NO_LIMIT),
    Field("currency", "currency", "Code of the currency of all prices.", default="EUR"),
    Field(
        "weights",
        "weights",
        "How much each criterion counts; one left out keeps its default, 0 drops it.",
        minimum=0,
        maximum=100,
        choices=CRITERIA,
        default=DEFAULT_WEIGHTS,
    ),
    Field("required_parts", "codes", "Codes of parts that every build must have.", maximum=MOST_CODES, default=()),
    Field("excluded_parts", "codes", "Codes of parts that no build may have.", maximum=MOST_CODES, default=()),
    Field("title", "text", "A name for people; changes nothing.", maximum=LONGEST_TITLE, default=""),
)

FIELDS: tuple[Field, ...] = tuple(
    replace(one, label=LABELS[one.name], words=CHOICES.get(one.name, {}))
    for one in (*_PARTS, *_STORAGE, *_NOISE, *_PLACE, *_LIMITS, *_WORTH)
)
FIELD_OF = {one.name: one for one in FIELDS}
