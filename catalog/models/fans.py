"""Case fans."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db.models import F, Q

from catalog.consistency import Problem, check_shut_off, check_steps
from catalog.models.columns import Choice, Flag, Quantity
from catalog.models.lists import Numbers, Points
from catalog.models.parts import LEVEL, BlowsAir, Part
from catalog.models.rules import Rule, constrained
from catalog.models.vocabulary import Control
from catalog.validators import Range

SPEED = Range("rpm", 10, 50_000)
STEPS_HELP = "Speeds that the switch offers, slowest first [rpm]; empty for control by temperature."


@constrained
class Fan(BlowsAir, Part):
    """A case fan: its air, its sound and how its speed is set."""

    size_mm = Quantity("mm", 20, 400, help_text="Frame size, which is also the mount's [mm].")
    thickness_mm = Quantity("mm", 5, 120, help_text="Depth of the frame along the air [mm].")
    min_rpm = Quantity("rpm", 10, 50_000, help_text="Slowest stable speed [rpm].")
    max_rpm = Quantity("rpm", 10, 50_000, help_text="Full speed [rpm].")
    control = Choice(choices=Control, help_text="Whether temperature or a switch sets the speed.")
    steps_rpm = Numbers(SPEED, help_text=STEPS_HELP)
    may_stop = Flag(default=False, help_text="Whether the fan may rest when its air is not needed.")
    sound_rpm_dba = Points(
        SPEED,
        LEVEL,
        1,
        "fan_sound",
        help_text="Speeds [rpm] and A-weighted sound power levels there [dB re 1 pW], slowest first.",
    )
    power_w = Quantity("W", 0, 500, spread="power", help_text="Electric power at full speed [W].")
    life_h = Quantity("h", 100, 1e7, default=50_000.0, help_text="Bearing life [h].")

    RULES = (
        Rule(
            "fan_speeds_in_order",
            Q(min_rpm__lte=F("max_rpm")),
            ("min_rpm", "max_rpm"),
            "min_rpm must not be above max_rpm",
        ),
    )

    class Meta(Part.Meta):
        pass

    @classmethod
    def inconsistencies(cls, row: Mapping[str, Any]) -> list[Problem]:
        return [*check_steps(row), *check_shut_off(row)]
