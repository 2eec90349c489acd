"""Processor coolers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db.models import F, Q

from catalog.consistency import Problem, check_fan_sound, check_steps
from catalog.models.columns import Choice, Quantity
from catalog.models.fans import SPEED, STEPS_HELP
from catalog.models.lists import Numbers, Points, Words
from catalog.models.parts import LEVEL, Part
from catalog.models.rules import Rule, constrained, implies
from catalog.models.vocabulary import Control, Socket


@constrained
class Cooler(Part):
    """A processor cooler, with its own fan or without."""

    height_mm = Quantity("mm", 5, 500, help_text="Height above the processor's lid [mm].")
    sockets = Words(Socket.values, help_text="Sockets that it can be mounted on.")
    r_solid_k_w = Quantity(
        "K/W", 0, 10, spread="cooler_resistance", help_text="Resistance from lid to fins, which no air changes [K/W]."
    )
    r_air_k_w = Quantity(
        "K/W",
        0,
        20,
        above_low=True,
        spread="cooler_resistance",
        help_text="Resistance from fins to air at its own full speed, 0.02 m3/s passing, 1.2 kg/m3 [K/W].",
    )
    speed_exponent = Quantity(
        "", 0, 2, spread="exponent", help_text="How strongly its own speed m lowers r_air: (rpm/max_rpm)^-m."
    )
    flow_exponent = Quantity(
        "", 0, 2, spread="exponent", help_text="How strongly the passing flow n lowers r_air: (flow/0.02 m3/s)^-n."
    )
    min_rpm = Quantity("rpm", 0, 50_000, help_text="Slowest stable speed of its fan [rpm]; 0 without a fan.")
    max_rpm = Quantity("rpm", 0, 50_000, help_text="Full speed of its fan [rpm]; 0 without a fan.")
    control = Choice(
        choices=Control, default="temperature", help_text="Whether temperature or a switch sets the speed."
    )
    steps_rpm = Numbers(SPEED, help_text=STEPS_HELP)
    sound_rpm_dba = Points(
        SPEED,
        LEVEL,
        0,
        "fan_sound",
        default=list,
        blank=True,
        help_text="Speeds [rpm] and A-weighted sound power levels [dB re 1 pW], slowest first; empty without a fan.",
    )
    power_w = Quantity(
        "W", 0, 500, default=0.0, spread="power", help_text="Electric power of its fan at full speed [W]."
    )

    RULES = (
        Rule(
            "cooler_speeds_in_order",
            Q(min_rpm__lte=F("max_rpm")),
            ("min_rpm", "max_rpm"),
            "min_rpm must not be above max_rpm",
        ),
        Rule(
            "cooler_fan_turns",
            implies(Q(max_rpm__gt=0), Q(min_rpm__gt=0)),
            ("min_rpm", "max_rpm"),
            "a cooler with a fan needs a slowest stable speed above 0 rpm",
        ),
    )

    class Meta(Part.Meta):
        pass

    @classmethod
    def inconsistencies(cls, row: Mapping[str, Any]) -> list[Problem]:
        return [*check_steps(row), *check_fan_sound(row)]
