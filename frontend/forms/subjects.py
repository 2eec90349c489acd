"""How the form of a brief is laid out: what is asked first, what is folded under which subject, what its line says."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from advisor.brief import CRITERIA, DEFAULT_WEIGHTS
from advisor.brief.fields import FIELD_OF
from advisor.brief.values import is_unprintable
from frontend.forms.typed import WEIGHT, codes_of, number_of
from frontend.templatetags.quantities import counted, quantity

# Asked in sight: these, then drives by number or by capacity, then those.
FIRST = ("processor_watts", "graphics_watts", "board_form")
THEN = ("noise_target_dba", "ambient_c")

_LONGEST_SHOWN = 40
_FEW = 4


class Filled:
    """What stands in the entries of a form, as short text."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        self.values = values

    def __getitem__(self, name: str) -> str:
        """Return the text of an entry with its unit, the word of its choice, or nothing."""
        text = _plain(str(self.values.get(name) or ""))
        field = FIELD_OF.get(name)
        if field and text in field.words:
            return field.words[text].partition(" (")[0]
        number = number_of(text)
        if isinstance(number, str) or field is None or abs(number) > 1e12:
            return text
        return quantity(number, field.unit if field.unit != "per kWh" else "")

    def count(self, name: str, words: str) -> str:
        """Return how many of something an entry says, or nothing where it says no such number."""
        number = number_of(str(self.values.get(name) or ""))
        if not isinstance(number, int) or not 0 <= number < 1000:
            return self[name]
        return counted(number, words) if number else f"no {words}s"

    def several(self, name: str) -> list[str]:
        return [_plain(one) for one in self.values.get(name) or []]


def _plain(text: str) -> str:
    """Return a text that fits into a line and turns nothing around it."""
    shown = "".join(one for one in text if not is_unprintable(one)).strip()
    return shown if len(shown) <= _LONGEST_SHOWN else f"{shown[:_LONGEST_SHOWN]}\u2026"


Line = Callable[[Filled], Iterable[str]]


@dataclass(frozen=True, slots=True)
class Subject:
    """Fields that are folded together; ``line`` says their values in the fold's own line, ``note`` helps with all."""

    title: str
    names: tuple[str, ...]
    line: Line
    note: str = ""


def _heat(v: Filled) -> Iterable[str]:
    yield f"socket {v['processor_socket']}" if v["processor_socket"] else "any socket"
    hot = number_of(str(v.values.get("graphics_watts") or "0")) != 0
    boards = v.count("graphics_count", "graphics board") or ("1 graphics board" if hot else "no graphics boards")
    yield boards if boards.startswith("no") else f"{boards}, blowing {v['graphics_airflow']}"
    yield v.count("ssd_count", "solid-state drive")
    yield v.count("card_count", "other card")


def _storage(v: Filled) -> Iterable[str]:
    yield v["drive_form"]
    yield v["layout"]
    yield v.count("hot_spares", "hot spare")
    yield f"{v.count('spare_bays', 'bay')} kept free"
    yield "changeable while it runs" if v.values.get("hot_swap") else "changed with the power off"


def _noise(v: Filled) -> Iterable[str]:
    held = [FIELD_OF["noise_scenarios"].words.get(one, one) for one in v.several("noise_scenarios")]
    yield f"target holds {' and '.join(held[:_FEW])}" if held else "no scenario chosen"
    yield f"seat {v['seat_distance_m']} from its {v['seat_side']}"
    yield f"room {v['room_background_dba']}"


def _place(v: Filled) -> Iterable[str]:
    yield f"{v['hot_day_c'] or quantity(30, '°C')} on a hot day"
    height = v["altitude_m"]
    yield "at sea level" if number_of(str(v.values.get("altitude_m") or "0")) == 0 else f"{height} above the sea"
    yield f"{v['orientation']} {v['placement']}"
    sides = ("width", "height", "depth")
    room = [f"{side} up to {v[f'max_{side}_mm']}" for side in sides if v[f"max_{side}_mm"]]
    yield ", ".join(room) or "any size"


def _limits(v: Filled) -> Iterable[str]:
    yield f"processor {v['limit_processor_c']}"
    yield f"graphics {v['limit_graphics_c']}"
    yield f"drives {v['limit_drive_c']}"
    yield f"each with confidence {v['confidence']}"


def _money(v: Filled) -> Iterable[str]:
    currency = v["currency"]
    yield f"budget {v['budget']} {currency}" if v["budget"] else "no budget"
    yield f"{v['energy_price']} {currency} per kWh"
    minutes = number_of(str(v.values.get("ups_minutes") or "0"))
    yield "no UPS" if minutes == 0 else f"{v['ups_minutes']} on a UPS"


def _worth(v: Filled) -> Iterable[str]:
    for name in CRITERIA:
        yield f"{name} {v[f'{WEIGHT}{name}'] or f'{DEFAULT_WEIGHTS[name]:g}'}"


def _parts(v: Filled) -> Iterable[str]:
    for name, words, none in (
        ("required_parts", "must have", "nothing required"),
        ("excluded_parts", "must not have", "nothing excluded"),
    ):
        codes = [_plain(code) for code in codes_of(v.several(name))]
        more = f" and {len(codes) - _FEW} more" if len(codes) > _FEW else ""
        yield f"{words} {', '.join(codes[:_FEW])}{more}" if codes else none


_PICKING = (
    "Begin to type a code or a name, and pick from the catalogue. Several codes may stand in one entry, with commas "
    "between them."
)
SUBJECTS = (
    Subject(
        "Processor, graphics and cards",
        (
            *("processor_socket", "graphics_count", "graphics_airflow", "graphics_length_mm", "graphics_slots"),
            *("graphics_noise_dba", "ssd_count", "card_count"),
        ),
        _heat,
    ),
    Subject(
        "Drives",
        ("drive_form", "drive_capacity_tb", "layout", "hot_spares", "spare_bays", "hot_swap"),
        _storage,
    ),
    Subject(
        "Noise and the seat",
        ("seat_distance_m", "seat_side", "room_background_dba", "room_absorption_m2", "noise_scenarios"),
        _noise,
    ),
    Subject(
        "Room and place",
        (
            *("hot_day_c", "altitude_m", "placement", "orientation"),
            *("max_width_mm", "max_height_mm", "max_depth_mm"),
        ),
        _place,
    ),
    Subject("Temperature limits", ("limit_processor_c", "limit_graphics_c", "limit_drive_c", "confidence"), _limits),
    Subject("Money and power", ("budget", "currency", "energy_price", "ups_minutes"), _money),
    Subject("What counts how much", tuple(f"{WEIGHT}{name}" for name in CRITERIA), _worth, FIELD_OF["weights"].help),
    Subject("Parts to insist on or leave out", ("required_parts", "excluded_parts"), _parts, _PICKING),
    Subject("A name", ("title",), lambda v: [v["title"] or "none yet; it helps to find the study again"]),
)
