"""What sits where inside an enclosure: bays for drives, seats for everything else."""

from __future__ import annotations

from django.db import models

from catalog.models.columns import Choice, Code, Count, Flag, Quantity
from catalog.models.enclosures import Enclosure
from catalog.models.rules import constrained
from catalog.models.vocabulary import DriveForm, SeatRole
from catalog.models.wiring import Inside, Opening, Zone


@constrained
class BayGroup(Inside):
    """Like bays in one place, filled in the order in which the enclosure lists its groups."""

    enclosure = models.ForeignKey(Enclosure, models.CASCADE, related_name="bay_groups")
    code = Code(help_text="Short word for the group.")
    form = Choice(choices=DriveForm, help_text="Width of the bays [inch].")
    count = Count(1, 200, help_text="How many bays.")
    zone = models.ForeignKey(Zone, models.CASCADE, related_name="+", help_text="Zone that takes up the drives' heat.")
    opening = models.ForeignKey(
        Opening,
        models.CASCADE,
        null=True,
        blank=True,
        related_name="+",
        help_text="Cage whose air passes these bays; empty in still air.",
    )
    gap_area_cm2 = Quantity("cm2", 0, 500, above_low=True, help_text="Free area beside one filled bay [cm2].")
    empty_area_cm2 = Quantity("cm2", 0, 1000, above_low=True, help_text="Clear area of one empty bay [cm2].")
    loss_filled = Quantity(
        "", 0, 500, above_low=True, spread="loss", help_text="Loss of the gaps of filled bays, in velocity heads."
    )
    loss_empty = Quantity("", 0, 500, above_low=True, spread="loss", help_text="Loss of empty bays, in velocity heads.")
    rows = Count(1, 50, default=1, help_text="Drives one behind the other along the air.")
    maldistribution = Quantity(
        "",
        1,
        10,
        default=1.2,
        spread="maldistribution",
        help_text="Mean velocity in the gaps over the slowest gap's, 1 or more.",
    )
    hot_swap = Flag(default=False, help_text="Whether drives can be changed while running.")
    tool_free = Flag(default=False, help_text="Whether drives go in without tools.")

    class Meta(Inside.Meta):
        constraints = [models.UniqueConstraint(fields=["enclosure", "code"], name="baygroup_code_unique")]

    def __str__(self) -> str:
        return self.code


@constrained
class Seat(Inside):
    """Where a component sits and what air it gets."""

    enclosure = models.ForeignKey(Enclosure, models.CASCADE, related_name="seats")
    role = Choice(choices=SeatRole, help_text="What sits here.")
    zone = models.ForeignKey(Zone, models.CASCADE, related_name="+", help_text="Zone that it sits in.")
    preheat = Quantity(
        "",
        0,
        10,
        spread="preheat",
        help_text="Preheat factor: 1 in well-mixed air, below 1 fed directly, above 1 where air circulates.",
    )
    cross_area_cm2 = Quantity("cm2", 1, 50_000, help_text="Free cross-section of the air past it [cm2].")
    fed_by = models.ForeignKey(
        Opening,
        models.CASCADE,
        null=True,
        blank=True,
        related_name="+",
        help_text="Opening that feeds it directly, if any.",
    )

    class Meta(Inside.Meta):
        constraints = [models.UniqueConstraint(fields=["enclosure", "role"], name="seat_one_per_role")]

    def __str__(self) -> str:
        return self.role
