"""The record of a hard requirement missed, the fixed order of requirements, and how misses are compared."""

from __future__ import annotations

from dataclasses import dataclass

# A miss by one scale, in the unit beside it, counts as 1 whatever was missed: about one size or model step of the
# trade (no source). Their order is the order in which requirements are judged.
SCALES: dict[str, tuple[float, str]] = {
    # of the enclosure
    "too_wide": (0.05, "m"),
    "too_high": (0.05, "m"),
    "too_deep": (0.05, "m"),
    "orientation": (1.0, ""),
    "board_form": (1.0, ""),
    "card_length": (0.05, "m"),
    "card_slots": (1.0, "slots"),
    "drive_bays": (1.0, "bays"),
    "hot_swap": (1.0, "bays"),
    # of the drives
    "layout_capacity": (4.0, "TB"),
    "drives_per_box": (1.0, "drives"),
    "controller_ports": (4.0, "ports"),
    # of the cooler
    "cooler_socket": (1.0, ""),
    "cooler_height": (0.01, "m"),
    # of the supply
    "supply_form": (1.0, ""),
    "supply_length": (0.02, "m"),
    "supply_rating": (50.0, "W"),
    "supply_surge": (24.0, "W"),
    # of the whole build, judged by the search
    "over_budget": (0.1, "of the budget"),
    "noise": (3.0, "dB"),
    "processor_limit": (5.0, "K"),
    "graphics_limit": (5.0, "K"),
    "drive_limit": (5.0, "K"),
    "ssd_limit": (5.0, "K"),
    "card_limit": (5.0, "K"),
    "controller_limit": (5.0, "K"),
    "no_common_setting": (1.0, ""),
}
ORDER: tuple[str, ...] = tuple(SCALES)


@dataclass(frozen=True, slots=True)
class Misfit:
    """A requirement that a part misses: figures against limits, or what it is against what is accepted.

    ``shortfall`` is the miss in scales of ``SCALES``; ``text`` is a sentence with part, figure, limit and what to do.
    """

    code: str
    part_code: str
    value: float | str
    limit: float | str
    unit: str
    shortfall: float
    text: str


def normalised(code: str, amount: float) -> float:
    """Return a miss as a multiple of its scale, so that misses of different kinds compare.

    >>> normalised("noise", 4.5)
    1.5
    """
    return amount / SCALES[code][0]


def measured(code: str, part_code: str, value: float, limit: float, text: str) -> Misfit:
    """Return the misfit of a figure that is on the wrong side of its limit."""
    return Misfit(code, part_code, value, limit, SCALES[code][1], normalised(code, abs(value - limit)), text)


def unlike(code: str, part_code: str, value: str, accepted: tuple[str, ...], text: str) -> Misfit:
    """Return the misfit of a kind that is not among those accepted: always one whole scale."""
    return Misfit(code, part_code, value, ", ".join(accepted), SCALES[code][1], normalised(code, 1.0), text)
