"""Every field of an entry: its type, unit, range, default and help. Schema, help and the reader are made from these.

Lengths are in mm and areas in cm2, as a tape measure and a photograph give them. Where a default depends on other
fields, ``default`` is None and ``default_note`` says what is taken.
"""

from __future__ import annotations

from typing import Any

from advisor.brief.fields import Field
from advisor.tape.materials import FILTERS, MATERIALS
from catalog.models.vocabulary import FACES, ORIENTATIONS, BoardForm, DriveForm, SupplyForm

LONGEST_NAME = 120
LONGEST_WORD = 40
MOST_FANS = 20
MOST_BAYS = 10

CHAMBERS = ("main", "second")
WALL, DIVIDER = "wall", "divider"
INNER_PLACES = (WALL, DIVIDER)
CAGE_PLACES = ("front", "left", "right", "bottom")
OWN_CHAMBER, STILL = "own_chamber", "still"
BAY_PLACES = (*CAGE_PLACES, OWN_CHAMBER, STILL)
GUARDS = ("none", "wire", "stamped")
PLANES = ("upright", "flat", "turned")


def _mm(name: str, low: float, high: float, default: float | None, help: str, **more: Any) -> Field:
    return Field(name, "number", help, unit="mm", minimum=low, maximum=high, default=default, **more)


def _number(name: str, unit: str, low: float, high: float, default: float | None, help: str, **more: Any) -> Field:
    return Field(name, "number", help, unit=unit, minimum=low, maximum=high, default=default, **more)


def _count(name: str, low: int, high: int, default: int | None, help: str, **more: Any) -> Field:
    return Field(name, "integer", help, minimum=low, maximum=high, default=default, **more)


def _choice(name: str, choices: tuple[str, ...], default: str | None, help: str, **more: Any) -> Field:
    return Field(name, "choice", help, choices=choices, default=default, **more)


def _flag(name: str, default: bool | None, help: str, **more: Any) -> Field:
    return Field(name, "flag", help, default=default, **more)


_MATERIALS = tuple(MATERIALS)
_FILTERS = ("none", *FILTERS)
_BOARDS = tuple(BoardForm.values)

WHOLE: tuple[Field, ...] = (
    Field("name", "text", "A name for people.", maximum=LONGEST_NAME, default="Enclosure by tape"),
    Field(
        "code", "text", "Short word for it, such as `attic-box`.", maximum=LONGEST_WORD, default="",
        default_note="made from the name",
    ),
    _mm("width_mm", 60, 2000, None, "Outer width, left to right.", required=True),
    _mm("height_mm", 40, 2000, None, "Outer height, feet not counted.", required=True),
    _mm("depth_mm", 60, 2000, None, "Outer depth, front to rear.", required=True),
    _mm("feet_mm", 0, 200, 15.0, "Height of the feet; 0 where the bottom stands free, as in a rack."),
    _choice("material", _MATERIALS, "steel", "What the panels are made of."),
    _mm("thickness_mm", 0.3, 60, None, "Thickness of the panels.", default_note="by material"),
    _mm("lining_mm", 0, 50, 0.0, "Thickness of foam on the inside of the panels; 0 for none."),
    _mm("seam_mm", 0.25, 5, 0.4, "Width of the gap around the panels, by a slip of paper."),
    _choice(
        "board_plane", PLANES, None, "How the board lies: upright beside a side panel with its ports at the rear, flat "
        "like the bottom, or turned with its ports up.", default_note="flat where height_mm is below 220, else upright",
    ),
    Field(
        "board_forms", "choices", "Boards that it takes.", choices=_BOARDS, default=None,
        default_note="those that the chamber of the board has room for",
    ),
    _mm("cooler_height_mm", 0, 400, None, "Tallest processor cooler.", default_note="what is left over the board"),
    _mm("card_length_mm", 0, 600, None, "Longest card.", default_note="what the depth leaves behind the front"),
    _count("card_slots", 0, 16, None, "Card slots.", default_note="2, 4, 7 or 8 by the largest board"),
    _number("slot_cover_share", "", 0, 0.9, 0.25, "Share of holes in the covers of card slots."),
    _mm("cable_space_mm", 0, 300, 20.0, "Space for cables behind the board."),
    _count("front_ports", 0, 100, 2, "Ports at the front."),
    _flag("filters_reachable", True, "Whether dust filters come out without opening the enclosure."),
    _flag("fan_control_outside", False, "Whether a fan control can be reached from outside."),
    _number("mass_kg", "kg", 0.2, 200, None, "Mass when empty.", default_note="from panels, material and thickness"),
    _number("price", "", 0, 1_000_000, 0.0, "Price, in the currency of the catalogue; 0 where you have it already."),
    Field(
        "orientations", "choices", "Ways in which it may stand.", choices=tuple(ORIENTATIONS), default=("upright",)
    ),
)  # fmt: skip

PANEL: tuple[Field, ...] = (
    _number("holes_share", "", 0, 0.95, 0.0, "Share of holes in its field of holes, 0.02 or more; 0 for none."),
    _number(
        "holes_area_cm2", "cm2", 0, 20_000, None, "Size of that field.",
        default_note="70 % of the panel where there are holes, else 0",
    ),
    _mm("hole_mm", 0.3, 60, 3.0, "Width of one hole."),
    _mm("slot_width_mm", 0.5, 200, None, "Width of one slot.", default_note="needed where slot_count is above 0"),
    _mm("slot_length_mm", 1, 2000, None, "Length of one slot.", default_note="needed where slot_count is above 0"),
    _count("slot_count", 0, 500, 0, "How many slots."),
    _mm("gap_mm", 0, 100, 0.0, "Gap at the edge of a closed cover through which air gets behind it; 0 for none."),
    _mm("gap_length_mm", 1, 6000, None, "Length of that gap, all sides together.", default_note="both long edges"),
    _choice("filter", _FILTERS, "none", "How fine the dust filter behind it is."),
    _number("filter_area_cm2", "cm2", 1, 20_000, None, "Face of the filter.", default_note="the fields in front of it"),
    _flag(
        "cover", None, "Whether it stands off the chassis, so that all of its openings feed the fans behind it.",
        default_note="true for a front with openings, else false",
    ),
    _choice("chamber", ("both", *CHAMBERS), "both", "Which chamber its openings lead to, where it borders on two."),
    _choice("material", _MATERIALS, None, "What it is made of.", default_note="as the enclosure"),
    _mm("thickness_mm", 0.3, 60, None, "Its thickness.", default_note="as the enclosure, or by its own material"),
    _mm("lining_mm", 0, 50, None, "Thickness of foam on its inside.", default_note="as the enclosure"),
)  # fmt: skip

FAN: tuple[Field, ...] = (
    _choice(
        "face", (*FACES, *INNER_PLACES), None, "Panel that the fans sit in or behind; wall for a fan wall behind the "
        "front space, divider for fans between the chambers.", required=True,
    ),
    _mm("size_mm", 30, 300, None, "Size of one fan.", required=True),
    _count("count", 1, 20, 1, "How many of this size."),
    _choice(
        "side", ("intake", "exhaust"), None, "Which way they blow; a wall or divider towards the board is an intake.",
        default_note="exhaust at rear and top, intake elsewhere",
    ),
    _flag("may_be_empty", False, "Whether the place may stay without fans."),
    _choice(
        "onto", ("drives", "board"), None, "What they blow on, where a drive cage stands behind their panel.",
        default_note="drives",
    ),
    _choice("chamber", CHAMBERS, None, "Which chamber they serve.", default_note="main, or the one at their panel"),
    _choice(
        "guard", GUARDS, None, "What covers the fans themselves.",
        default_note="none behind a cover and inside, wire on a panel with holes, else stamped",
    ),
)  # fmt: skip

BAYS: tuple[Field, ...] = (
    _count("count", 1, 100, None, "How many bays.", required=True),
    _choice("form", tuple(DriveForm.values), "3.5", "Width of the drives in inches."),
    _choice(
        "place", BAY_PLACES, None, "Where they stand in the air: in a cage behind a panel, in a cage in a chamber of "
        "their own, or at a wall in still air.", default_note="front for 3.5-inch drives, else still",
    ),
    _choice("chamber", CHAMBERS, None, "Which chamber they are in.", default_note="second for own_chamber, else main"),
    _mm("spacing_mm", 0.5, 100, 6.0, "Gap between two drives."),
    _choice("air_along", ("length", "width"), "length", "Which side of a drive the air passes along."),
    _count("rows", 1, 10, 1, "Drives one behind the other along the air."),
    _flag("sealed", None, "Whether air can only pass between the drives.", default_note="as hot_swap"),
    _number("bypass_cm2", "cm2", 0.1, 20_000, None, "Free area beside the cage.", default_note="by cross-section"),
    _number(
        "back_plane_share", "", 0.1, 1, None, "Share of holes in a back plane or frame behind the drives; 1 for none.",
        default_note="0.4 for hot_swap, else 1",
    ),
    _flag("hot_swap", False, "Whether drives can be changed while running."),
    _flag("tool_free", False, "Whether drives go in without tools."),
)  # fmt: skip

DIVIDER_FIELDS: tuple[Field, ...] = (
    _choice("direction", ("upright", "level"), None, "A wall between left and right, or a shelf.", required=True),
    _mm("at_mm", 20, 1980, None, "From the left, or from below.", default_note="half of width or height"),
    _choice(
        "board_side", ("left", "right", "above", "below"), None, "Where the board is.",
        default_note="left of a wall, above a shelf",
    ),
    _number("open_cm2", "cm2", 0.5, 10_000, 20.0, "Free area of its holes, such as for cables."),
    _flag(
        "reaches_front", True, "Whether it reaches the front panel; if not, both share the space behind the front."
    ),
)  # fmt: skip

SUPPLY: tuple[Field, ...] = (
    Field("forms", "choices", "Power supplies that it takes.", choices=tuple(SupplyForm.values), default=("atx",)),
    _mm("length_mm", 0, 500, None, "Longest power supply.", default_note="180, or what the depth leaves"),
    _choice("chamber", CHAMBERS, None, "Which chamber it is in.", default_note="second where there is one, else main"),
    _choice(
        "breathes", ("inside", "own_duct"), "inside", "Where its air comes from: the chamber, or an opening of its own "
        "in the bottom.",
    ),
    _number("vent_cm2", "cm2", 1, 1000, None, "Size of that opening.", default_note="110"),
    _choice("filter", _FILTERS, "medium", "How fine the filter in that opening is."),
    _choice("position", ("bottom", "top"), "bottom", "Where in its chamber it sits."),
)  # fmt: skip

# The groups below the whole: their key, their fields, and whether the key holds a list of them.
PARTS: dict[str, tuple[tuple[Field, ...], int]] = {"fans": (FAN, MOST_FANS), "bays": (BAYS, MOST_BAYS)}
ONE_OF: dict[str, tuple[Field, ...]] = {"divider": DIVIDER_FIELDS, "supply": SUPPLY}
KEYS = (*(field.name for field in WHOLE), "panels", *PARTS, *ONE_OF)
