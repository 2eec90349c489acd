"""What all parts share, and the air that some of them move."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from django.conf import settings
from django.contrib.contenttypes.fields import GenericRelation
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q

from catalog.consistency import Problem
from catalog.models.columns import Checked, Code, Quantity, Text
from catalog.models.lists import Points
from catalog.models.rules import Rule
from catalog.models.sources import Maker, Source
from catalog.ownership import PREFIX
from catalog.querysets.parts import PartQuerySet
from catalog.validators import Range

LEVEL = Range("dB", -20, 140)
SHARE = Range("", 0, 1)

_PUBLIC, _PRIVATE = Q(owner__isnull=True), Q(owner__isnull=False)
# SQLite compares the beginning of a text without regard to case; asked for, PostgreSQL does the same.
_OWN_CODE = Q(code__istartswith=PREFIX)
_OWNERSHIP = (
    models.CheckConstraint(
        condition=(_PUBLIC & ~_OWN_CODE) | (_PRIVATE & _OWN_CODE),
        name="%(class)s_own_code",
        violation_error_message=f"codes of own parts begin with {PREFIX}, and no others do",
    ),
    models.CheckConstraint(
        condition=Q(offered_at__isnull=True) | _PRIVATE,
        name="%(class)s_offer_has_owner",
        violation_error_message="a part of the public catalogue cannot be offered to it",
    ),
    models.CheckConstraint(
        condition=Q(decline_note="") | (_PRIVATE & Q(offered_at__isnull=True)),
        name="%(class)s_declined_is_private",
        violation_error_message="only an own part that is not on offer has a note why it was declined",
    ),
)


class Part(models.Model):
    """A thing that can be bought, with where its figures come from.

    A part without an owner is in the public catalogue. Any other is its owner's alone until the catalogue accepts it.
    """

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
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.CASCADE,
        null=True,
        blank=True,
        related_name="+",
        help_text="Whose own part it is; empty in the public catalogue.",
    )
    offered_at = models.DateTimeField(
        null=True, blank=True, help_text="Since when its owner offers it to the catalogue; empty if not."
    )
    decline_note = Text(
        max_length=500, blank=True, default="", help_text="Why the catalogue declined it, for its owner to read."
    )
    contributor = Text(max_length=150, blank=True, default="", help_text="Who gave it to the catalogue, to be named.")
    notes = GenericRelation("catalog.FigureNote")

    objects = PartQuerySet.as_manager()

    class Meta:
        abstract = True
        ordering = ["code"]
        constraints = [models.UniqueConstraint(fields=["code"], name="%(class)s_code_unique"), *_OWNERSHIP]

    def __str__(self) -> str:
        return f"{self.name} ({self.code})"

    @classmethod
    def inconsistencies(cls, row: Mapping[str, Any]) -> list[Problem]:
        """Return what does not fit together between a row's columns and is beyond a database constraint."""
        return []

    def clean(self) -> None:
        super().clean()
        if not all(_is_accepted(field, getattr(self, field.attname)) for field in self._meta.concrete_fields):
            return  # what a refused value does to the others, nobody knows
        problems = self.inconsistencies(vars(self))
        if problems:
            raise ValidationError(
                {problem.column: f"{problem.reason}; accepted: {problem.accepted}" for problem in problems}
            )


def _is_accepted(field: models.Field, value: Any) -> bool:
    if value is None:
        return field.null
    return not (isinstance(field, Checked) and field.check_value(value))


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
