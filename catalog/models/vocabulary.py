"""The words that catalogue columns may hold; the engine compares them, so they must not drift."""

from __future__ import annotations

from django.db.models import TextChoices

# The catalogue stands beside the engine, so it has these words of its own; a test holds the two lists together.
OUTSIDE = "outside"
FACES = ("front", "rear", "left", "right", "top", "bottom")
INNER = "inner"
SIDES = ("intake", "exhaust")
SOUND_PLACES = ("processor", "graphics", "drives", "supply")
ORIENTATIONS = ("upright", "on_left", "on_right", "on_front", "on_rear", "inverted")


class DriveForm(TextChoices):
    """Width of a drive or a bay, in inches."""

    THREE_HALF = "3.5", "3.5 inch"
    TWO_HALF = "2.5", "2.5 inch"
    FIVE_QUARTER = "5.25", "5.25 inch"


class BoardForm(TextChoices):
    """Outline of a main board."""

    MINI_ITX = "mini_itx", "mini"
    MICRO_ATX = "micro_atx", "micro"
    ATX = "atx", "full"
    EATX = "eatx", "extended"


class SupplyForm(TextChoices):
    """Outline of a power supply."""

    ATX = "atx", "full"
    SFX = "sfx", "small"
    FLEX = "flex", "slim"
    REDUNDANT_1U = "redundant_1u", "redundant, one rack unit"


class Socket(TextChoices):
    """Processor sockets of the invented catalogue."""

    S1 = "S1", "S1"
    S2 = "S2", "S2"
    S3 = "S3", "S3"


class Control(TextChoices):
    """How a fan's speed is set."""

    TEMPERATURE = "temperature", "by temperature"
    SWITCH = "switch", "by a switch in steps"


class Airflow(TextChoices):
    """Where a graphics board blows its air."""

    OPEN = "open", "into the enclosure"
    BLOWER = "blower", "out of the enclosure"


class OpeningKind(TextChoices):
    """What an opening is."""

    FAN_MOUNT = "fan_mount", "fan mount"
    VENT = "vent", "vent"
    PASSAGE = "passage", "inner passage"
    CAGE = "cage", "drive cage"
    LEAK = "leak", "leak"
    SUPPLY = "supply", "through the power supply"
    BLOWER = "blower", "through a graphics board"


class FilterClass(TextChoices):
    """How fine a dust filter is."""

    FINE = "fine", "fine"
    MEDIUM = "medium", "medium"
    COARSE = "coarse", "coarse"


class SeatRole(TextChoices):
    """What sits in a seat."""

    PROCESSOR = "processor", "processor"
    GRAPHICS = "graphics", "graphics board"
    BOARD = "board", "main board"
    MEMORY = "memory", "memory"
    SSD = "ssd", "solid-state drive"
    CARD = "card", "add-in card"
    CONTROLLER = "controller", "storage controller"


class SourceKind(TextChoices):
    """How a figure came about."""

    MEASURED = "measured", "measured on a bench"
    DECLARED = "declared", "declared by the maker"
    ESTIMATED = "estimated", "estimated"
