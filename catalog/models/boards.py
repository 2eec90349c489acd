"""The main board and what computes: processors and graphics boards."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db.models import Q

from catalog.consistency import Problem, check_shut_off
from catalog.models.columns import Choice, Count, Quantity
from catalog.models.lists import Points
from catalog.models.parts import LEVEL, MayBlowAir, Part
from catalog.models.rules import Rule, constrained, implies
from catalog.models.vocabulary import Airflow, BoardForm, Socket
from catalog.validators import Range


@constrained
class Board(Part):
    """A main board as ports and heat."""

    form = Choice(choices=BoardForm, help_text="Outline, which the enclosure must take.")
    heat_w = Quantity("W", 0, 500, spread="heat", help_text="Heat of chip set and regulators, memory apart [W].")
    sata_ports = Count(0, 100, help_text="Drives that it can connect by itself.")
    m2_slots = Count(0, 20, help_text="Solid-state drives that it takes.")
    card_slots = Count(0, 20, help_text="Add-in cards that it takes.")
    socket = Choice(
        choices=Socket, blank=True, default="", help_text="Processor socket; empty when it does not matter."
    )
    price = Quantity("EUR", 0, 1e6, default=0.0, help_text="Price of one [EUR].")

    class Meta(Part.Meta):
        pass


@constrained
class Processor(Part):
    """A processor as heat."""

    heat_w = Quantity("W", 1, 2000, spread="heat", help_text="Heat at full load [W].")
    inner_k_w = Quantity("K/W", 0, 5, spread="inner_resistance", help_text="Resistance from chip to lid [K/W].")
    limit_c = Quantity("degC", 20, 150, help_text="Highest chip temperature allowed [degC].")
    socket = Choice(choices=Socket, blank=True, default="", help_text="Socket; empty when it does not matter.")
    price = Quantity("EUR", 0, 1e6, default=0.0, help_text="Price of one [EUR].")

    class Meta(Part.Meta):
        pass


_CURVE = ("curve_points_m3h_pa", "curve_speed_rpm", "curve_density_kg_m3")
_HAS_CURVE = Q(**{f"{column}__isnull": False for column in _CURVE})
_HAS_NONE = Q(**{f"{column}__isnull": True for column in (*_CURVE, "curve_rest_loss_pa_s2_m6")})


@constrained
class Graphics(MayBlowAir, Part):
    """A graphics board with its own fans."""

    heat_w = Quantity("W", 1, 2000, spread="heat", help_text="Heat at full load [W].")
    r_k_w = Quantity(
        "K/W",
        0,
        5,
        above_low=True,
        spread="graphics_resistance",
        help_text="Resistance from chip to the air at it [K/W].",
    )
    limit_c = Quantity("degC", 20, 150, help_text="Highest chip temperature allowed [degC].")
    airflow = Choice(choices=Airflow, help_text="Where its fans blow: into the enclosure or out of it.")
    length_mm = Quantity("mm", 50, 600, help_text="Length of the board [mm].")
    slots = Count(1, 10, help_text="Card slots that it takes up.")
    sound_share_dba = Points(
        Range("", 0, 1.5),
        LEVEL,
        1,
        "graphics_sound",
        help_text="Shares of full load and A-weighted sound power levels there [dB re 1 pW].",
    )
    flow_exponent = Quantity(
        "",
        0,
        2,
        default=0.07,
        spread="exponent",
        help_text="How strongly the passing flow n lowers r_k_w: (flow/0.02 m3/s)^-n.",
    )
    price = Quantity("EUR", 0, 1e6, default=0.0, help_text="Price of one [EUR].")

    RULES = (
        Rule(
            "graphics_curve_whole",
            _HAS_CURVE | _HAS_NONE,
            (*_CURVE, "curve_rest_loss_pa_s2_m6"),
            "a curve needs points, speed and density",
        ),
        Rule(
            "graphics_blower_has_curve",
            implies(Q(airflow="blower"), _HAS_CURVE),
            ("airflow", *_CURVE),
            "a blower needs the curve of its fan",
        ),
    )

    class Meta(Part.Meta):
        verbose_name = "graphics board"

    @classmethod
    def inconsistencies(cls, row: Mapping[str, Any]) -> list[Problem]:
        return check_shut_off(row)
