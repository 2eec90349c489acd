"""Where the current comes from: power supplies and UPS units."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db.models import F, Q

from catalog.consistency import Problem, check_reaches_full_load, check_shut_off
from catalog.models.columns import Choice, Code, Quantity
from catalog.models.lists import Points
from catalog.models.parts import LEVEL, SHARE, BlowsAir, Part
from catalog.models.rules import Rule, constrained
from catalog.models.vocabulary import SupplyForm
from catalog.validators import Range

LOAD = Range("", 0, 1.5)


@constrained
class Supply(BlowsAir, Part):
    """A power supply: its rating, its losses, and the air and sound of its own fan."""

    form = Choice(choices=SupplyForm, help_text="Outline, which the enclosure must take.")
    length_mm = Quantity("mm", 40, 500, help_text="Length of its case [mm].")
    rating_w = Quantity("W", 10, 10_000, help_text="Power that it can give in all [W].")
    rating_12v_w = Quantity("W", 10, 10_000, help_text="Power that it can give on 12 V [W].")
    efficiency = Points(
        LOAD,
        Range("", 0, 1, low_open=True, high_open=True),
        2,
        "efficiency",
        help_text="Shares of the rating and the efficiency there, both 0 to 1.",
    )
    sound_share_dba = Points(
        LOAD,
        LEVEL,
        1,
        "supply_sound",
        help_text="Shares of the rating and A-weighted sound power levels there [dB re 1 pW].",
    )
    air_path = Code(help_text="Name of the air path; supplies with the same fan and case share one.")
    speed_steps = Points(
        LOAD,
        SHARE,
        1,
        help_text="Up to which share of the rating its fan runs at which share of full speed; 0 means at rest.",
    )
    path_area_cm2 = Quantity("cm2", 0, 1000, above_low=True, help_text="Free area through its case [cm2].")
    path_loss = Quantity("", 0, 1000, spread="loss", help_text="Loss through its case, in velocity heads on that area.")

    RULES = (
        Rule(
            "supply_12v_within_rating",
            Q(rating_12v_w__lte=F("rating_w")),
            ("rating_12v_w", "rating_w"),
            "rating_12v_w must not be above rating_w",
        ),
    )

    class Meta(Part.Meta):
        verbose_name_plural = "supplies"

    @classmethod
    def inconsistencies(cls, row: Mapping[str, Any]) -> list[Problem]:
        return [*check_reaches_full_load(row), *check_shut_off(row)]


@constrained
class Ups(Part):
    """A UPS unit: what it can carry and for how long."""

    rating_w = Quantity("W", 10, 100_000, help_text="Power that it can carry [W].")
    runtime_w_min = Points(
        Range("W", 0, 100_000, low_open=True),
        Range("min", 0, 10_000, low_open=True),
        2,
        "runtime",
        help_text="Loads [W] and how long they are carried [min].",
    )

    class Meta(Part.Meta):
        verbose_name = "UPS unit"
