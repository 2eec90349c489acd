"""What all parts share, and the air that some of them move."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from django.contrib.contenttypes.fields import GenericRelation
from django.core.exceptions import ValidationError
from django.db import models

from catalog.consistency import Problem
from catalog.models.columns import Code, Quantity, Text
from catalog.models.lists import Points
from catalog.models.rules import Rule
from catalog.models.sources import Maker, Source
from catalog.querysets.parts import PartQuerySet
from catalog.validators import Range

LEVEL = Range("dB", -20, 140)
SHARE = Range("", 0, 1)


class Part(models.Model):
    """A thing that can be bought, with where its figures come from."""

    RULES: ClassVar[tuple[Rule, ...]] = ()

    code = Code(help_text="Short word by which briefs and files refer to the part.")
    name = Text(max_length=120, help_text="Name of the part.")
    maker = models.ForeignKey(Maker, models.PROTECT, to_field="name", related_name="+", help_text="Who makes it.")
    source = models.ForeignKey(
        Source,
        models.PROTECT,
        to_field="code",
        related_name="+",
        help_text="Where its figures come from, unless a note on a figure says otherwise.",
    )
    price = Quantity("EUR", 0, 1e6, help_text="Price of one [EUR].")
    notes = GenericRelation("catalog.FigureNote")

    objects = PartQuerySet.as_manager()

    class Meta:
        abstract = True
        ordering = ["code"]
        constraints = [models.UniqueConstraint(fields=["code"], name="%(class)s_code_unique")]

    def __str__(self) -> str:
        return f"{self.name} ({self.code})"

    @classmethod
    def inconsistencies(cls, row: Mapping[str, Any]) -> list[Problem]:
        """Return what does not fit together between a row's columns and is beyond a database constraint."""
        return []

    def clean(self) -> None:
        super().clean()
        problems = self.inconsistencies(vars(self))
        if problems:
            raise ValidationError(
                {problem.column: f"{problem.reason}; accepted: {problem.accepted}" for problem in problems}
            )


_POINTS = (Range("m3/h", 0, 10_000), Range("Pa", 0, 10_000), 2, "fan_flow")
_POINTS_HELP = "Measured points of flow [m3/h] and static pressure rise [Pa], from shut-off to free delivery."
_SPEED_HELP = "Speed at which the points were measured [rpm]."
_DENSITY_HELP = "Air density at which the points were measured [kg/m3]; 1.2 is customary."
_REST_HELP = (
    "Measured loss of the fan at rest: pressure drop over the square of flow [Pa/(m3/s)2]; empty if not measured."
)


class BlowsAir(models.Model):
    """A part with a fan whose pressure was measured against its flow."""

    curve_points_m3h_pa = Points(*_POINTS, help_text=_POINTS_HELP)
    curve_speed_rpm = Quantity("rpm", 10, 50_000, help_text=_SPEED_HELP)
    curve_density_kg_m3 = Quantity("kg/m3", 0.3, 3, default=1.2, help_text=_DENSITY_HELP)
    curve_rest_loss_pa_s2_m6 = Quantity(
        "Pa/(m3/s)2", 0, 1e9, above_low=True, null=True, blank=True, help_text=_REST_HELP
    )

    class Meta:
        abstract = True


class MayBlowAir(models.Model):
    """A part that may have such a fan: all columns are empty when it has none."""

    curve_points_m3h_pa = Points(*_POINTS, null=True, blank=True, help_text=_POINTS_HELP)
    curve_speed_rpm = Quantity("rpm", 10, 50_000, null=True, blank=True, help_text=_SPEED_HELP)
    curve_density_kg_m3 = Quantity("kg/m3", 0.3, 3, null=True, blank=True, help_text=_DENSITY_HELP)
    curve_rest_loss_pa_s2_m6 = Quantity(
        "Pa/(m3/s)2", 0, 1e9, above_low=True, null=True, blank=True, help_text=_REST_HELP
    )

    class Meta:
        abstract = True
