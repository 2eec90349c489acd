"""Where air can go inside an enclosure: zones and the openings that join them."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q

from catalog.models.columns import Choice, Code, Count, Flag, Quantity
from catalog.models.enclosures import Enclosure
from catalog.models.rules import Rule, constrained, implies
from catalog.models.vocabulary import FACES, INNER, SIDES, FilterClass, OpeningKind
from catalog.querysets.enclosures import InsideQuerySet


class Inside(models.Model):
    """A row that belongs to one enclosure and may point only at rows of the same."""

    order = Count(default=0, help_text="Place in the enclosure's list.")

    objects = InsideQuerySet.as_manager()

    class Meta:
        abstract = True
        ordering = ["enclosure", "order"]

    def clean(self) -> None:
        super().clean()
        for field in self._meta.concrete_fields:
            if field.related_model not in (Zone, Opening) or getattr(self, field.attname) is None:
                continue
            if getattr(self, field.name).enclosure_id != self.enclosure_id:
                raise ValidationError({field.name: f"{getattr(self, field.name)} belongs to another enclosure"})


@constrained
class Zone(Inside):
    """A well-mixed volume of air."""

    enclosure = models.ForeignKey(Enclosure, models.CASCADE, related_name="zones")
    code = Code(help_text="Short word for the zone.")
    x_mm = Quantity("mm", -500, 3500, help_text="Middle of the zone, from the left [mm].")
    y_mm = Quantity("mm", -500, 3500, help_text="Middle of the zone, from the front [mm].")
    z_mm = Quantity("mm", -500, 3500, help_text="Middle of the zone, from below [mm].")
    wall_w_k = Quantity("W/K", 0, 200, spread="wall", help_text="Conductance of its outer panels to the room [W/K].")

    RULES = (
        Rule("zone_is_not_outside", ~Q(code="outside"), ("code",), "outside is the room, no zone may be called so"),
    )

    class Meta(Inside.Meta):
        constraints = [models.UniqueConstraint(fields=["enclosure", "code"], name="zone_code_unique")]

    def __str__(self) -> str:
        return self.code


_FROM_IN, _TO_IN = Q(from_zone__isnull=False), Q(to_zone__isnull=False)
_FROM_OUT, _TO_OUT = Q(from_zone__isnull=True), Q(to_zone__isnull=True)
_NO_FILTER = Q(filter_class="", filter_area_cm2=0, filter_linear_pa_s_m=0, filter_quadratic_pa_s2_m2=0)
_SOME_FILTER = (
    ~Q(filter_class="")
    & Q(filter_area_cm2__gt=0)
    & (Q(filter_linear_pa_s_m__gt=0) | Q(filter_quadratic_pa_s2_m2__gt=0))
)
_MOUNT = Q(kind=OpeningKind.FAN_MOUNT)
_FILTER_COLUMNS = ("filter_class", "filter_area_cm2", "filter_linear_pa_s_m", "filter_quadratic_pa_s2_m2")


@constrained
class Opening(Inside):
    """A way for air from one zone, or from outside, to another; it is meant to blow from -> to."""

    enclosure = models.ForeignKey(Enclosure, models.CASCADE, related_name="openings")
    code = Code(help_text="Short word for the opening.")
    kind = Choice(choices=OpeningKind, help_text="What it is.")
    from_zone = models.ForeignKey(
        Zone,
        models.CASCADE,
        null=True,
        blank=True,
        related_name="+",
        help_text="Zone that it is meant to take air from; empty for outside.",
    )
    to_zone = models.ForeignKey(
        Zone,
        models.CASCADE,
        null=True,
        blank=True,
        related_name="+",
        help_text="Zone that it is meant to blow into; empty for outside.",
    )
    x_mm = Quantity("mm", -500, 3500, help_text="Middle of the opening, from the left [mm].")
    y_mm = Quantity("mm", -500, 3500, help_text="Middle of the opening, from the front [mm].")
    z_mm = Quantity("mm", -500, 3500, help_text="Middle of the opening, from below [mm].")
    height_mm = Quantity(
        "mm", 0, 3000, help_text="How tall it is; above 50 mm without a fan, air can pass both ways [mm]."
    )
    face = Choice(choices=[(face, face) for face in (*FACES, INNER)], help_text="Face in which it lies, or inner.")
    area_cm2 = Quantity("cm2", 0, 50_000, above_low=True, help_text="Free area [cm2]; of a cage, its outline.")
    loss_coefficient = Quantity(
        "", 0, 10_000, above_low=True, spread="loss", help_text="Loss in velocity heads on the free area."
    )
    two_way = Flag(default=False, help_text="Whether air may pass either way without being wrong.")
    filter_class = Choice(
        choices=FilterClass, blank=True, default="", help_text="How fine its dust filter is; empty without."
    )
    filter_area_cm2 = Quantity("cm2", 0, 50_000, default=0.0, help_text="Face of the filter [cm2]; 0 without.")
    filter_linear_pa_s_m = Quantity(
        "Pa s/m", 0, 10_000, default=0.0, spread="filter_loss", help_text="Filter loss per face velocity [Pa/(m/s)]."
    )
    filter_quadratic_pa_s2_m2 = Quantity(
        "Pa s2/m2",
        0,
        10_000,
        default=0.0,
        spread="filter_loss",
        help_text="Filter loss per square of face velocity [Pa/(m/s)2].",
    )
    side = Choice(
        choices=[(side, side) for side in SIDES],
        blank=True,
        default="",
        help_text="Which group its fans belong to, intake or exhaust.",
    )
    fan_size_mm = Quantity("mm", 0, 400, default=0.0, help_text="Size of the fans it takes [mm]; 0 when it takes none.")
    fan_count = Count(0, 50, default=0, help_text="How many fans it takes.")
    may_be_empty = Flag(default=False, help_text="Whether it may stay without fans.")
    obstruction_db = Quantity(
        "dB",
        0,
        30,
        default=0.0,
        help_text="How much louder a fan is here for what stands close before or behind it [dB].",
    )
    narrowed_beyond_mm = Quantity(
        "mm",
        0,
        1000,
        default=0.0,
        help_text="Cards longer than this narrow it [mm]; without meaning when the share is 0.",
    )
    narrowed_share = Quantity(
        "", 0, 1, below_high=True, default=0.0, help_text="Share of the area that a long card takes."
    )

    RULES = (
        Rule(
            "opening_joins_two_places",
            (_FROM_OUT & _TO_IN)
            | (_FROM_IN & _TO_OUT)
            | (_FROM_IN & _TO_IN & (Q(from_zone__lt=F("to_zone")) | Q(from_zone__gt=F("to_zone")))),
            ("from_zone", "to_zone"),
            "an opening joins two different zones, or a zone and outside",
        ),
        Rule(
            "opening_mount_has_fans",
            implies(_MOUNT, Q(fan_size_mm__gte=20, fan_count__gte=1)),
            ("kind", "fan_size_mm", "fan_count"),
            "a fan mount needs fan_size_mm of 20 or more and fan_count of 1 or more",
        ),
        Rule(
            "opening_fans_in_mounts_only",
            implies(Q(fan_count__gt=0) | Q(fan_size_mm__gt=0) | Q(may_be_empty=True), _MOUNT),
            ("kind", "fan_size_mm", "fan_count", "may_be_empty"),
            "only a fan mount has fan_size_mm, fan_count and may_be_empty",
        ),
        Rule(
            "opening_mount_has_side",
            implies(_MOUNT, ~Q(side="")),
            ("kind", "side"),
            "a fan mount belongs to a side, intake or exhaust",
        ),
        Rule(
            "opening_outer_has_face",
            implies(Q(face=INNER), _FROM_IN & _TO_IN),
            ("face", "from_zone", "to_zone"),
            "an opening to outside lies in one of the six outer faces",
        ),
        Rule(
            "opening_filter_whole",
            _NO_FILTER | _SOME_FILTER,
            _FILTER_COLUMNS,
            "a filter needs a class, an area above 0 cm2 and a linear or quadratic loss above 0",
        ),
    )

    class Meta(Inside.Meta):
        constraints = [
            models.UniqueConstraint(fields=["enclosure", "code"], name="opening_code_unique"),
            models.UniqueConstraint(
                fields=["enclosure"], condition=Q(kind=OpeningKind.SUPPLY), name="opening_one_supply"
            ),
        ]

    def __str__(self) -> str:
        return self.code
