"""Enclosures: what fits in, how they treat whoever works on them, how much sound their faces hold back."""

from __future__ import annotations

from django.db import models

from catalog.models.columns import Code, Count, Flag, Quantity
from catalog.models.lists import Words
from catalog.models.parts import Part
from catalog.models.rules import Rule, constrained, sums_to
from catalog.models.vocabulary import FACES, ORIENTATIONS, BoardForm, SupplyForm
from catalog.querysets.enclosures import EnclosureQuerySet, InsideQuerySet

_LOSS = "A-weighted insertion loss of the {} face [dB]: how much quieter a sound inside is through it."


def _loss(face: str) -> Quantity:
    return Quantity("dB", 0, 60, spread="insertion_loss", help_text=_LOSS.format(face))


@constrained
class Enclosure(Part):
    """An enclosure; its zones, openings, bay groups, seats and sound shares are rows of their own.

    Axes: x to the right, y to the rear, z up, seen from the front of the upright enclosure, from its lower front left
    corner.
    """

    kind = Code(help_text="Kind of enclosure: those of one kind share how their zones and openings are joined.")
    width_mm = Quantity("mm", 20, 3000, help_text="Outer width, left to right [mm].")
    height_mm = Quantity("mm", 20, 3000, help_text="Outer height [mm].")
    depth_mm = Quantity("mm", 20, 3000, help_text="Outer depth, front to rear [mm].")
    mass_kg = Quantity("kg", 0, 500, above_low=True, help_text="Mass when empty [kg].")
    board_forms = Words(BoardForm.values, help_text="Outlines of main boards that it takes.")
    cooler_height_mm = Quantity("mm", 0, 1000, help_text="Tallest processor cooler that it takes [mm].")
    card_length_mm = Quantity("mm", 0, 1000, help_text="Longest card that it takes [mm]; 0 when it takes none.")
    card_slots = Count(0, 20, help_text="Card slots.")
    supply_forms = Words(SupplyForm.values, help_text="Outlines of power supplies that it takes.")
    supply_length_mm = Quantity("mm", 0, 600, help_text="Longest power supply that it takes [mm].")
    loss_front_db = _loss("front")
    loss_rear_db = _loss("rear")
    loss_left_db = _loss("left")
    loss_right_db = _loss("right")
    loss_top_db = _loss("top")
    loss_bottom_db = _loss("bottom")
    tool_free_bays = Flag(help_text="Whether drives go in without tools.")
    filters_reachable = Flag(help_text="Whether dust filters come out without opening the enclosure.")
    fan_control_outside = Flag(help_text="Whether a fan control can be reached from outside.")
    cable_space_mm = Quantity("mm", 0, 300, help_text="Space for cables behind the main board [mm].")
    front_ports = Count(0, 100, help_text="Ports at the front.")
    orientations = Words(list(ORIENTATIONS), help_text="Ways in which it may stand.")

    objects = EnclosureQuerySet.as_manager()

    class Meta(Part.Meta):
        indexes = [models.Index(fields=["kind"], name="enclosure_kind")]  # lists and counts by kind

    @property
    def supply_opening(self) -> str:
        """Code of the opening through which the power supply breathes, "" while there is none."""
        return next((opening.code for opening in self.openings.all() if opening.kind == "supply"), "")


@constrained
class SoundShare(models.Model):
    """How the sound power of one place inside divides over the six faces."""

    enclosure = models.ForeignKey(Enclosure, models.CASCADE, related_name="sound_shares")
    order = Count(default=0, help_text="Place in the list.")
    place = Code(help_text="Code of a fan mount, or processor, graphics, drives or supply.")
    front = Quantity("", 0, 1, default=0.0, help_text="Share that reaches the front face, 0 to 1.")
    rear = Quantity("", 0, 1, default=0.0, help_text="Share that reaches the rear face, 0 to 1.")
    left = Quantity("", 0, 1, default=0.0, help_text="Share that reaches the left face, 0 to 1.")
    right = Quantity("", 0, 1, default=0.0, help_text="Share that reaches the right face, 0 to 1.")
    top = Quantity("", 0, 1, default=0.0, help_text="Share that reaches the top face, 0 to 1.")
    bottom = Quantity("", 0, 1, default=0.0, help_text="Share that reaches the bottom face, 0 to 1.")

    objects = InsideQuerySet.as_manager()

    RULES = (
        Rule(
            "soundshare_sums_to_one", sums_to(FACES, 1.0, 1e-6), FACES, "the shares of a place must sum to 1 (to 1e-6)"
        ),
    )

    class Meta:
        ordering = ["enclosure", "order"]
        constraints = [models.UniqueConstraint(fields=["enclosure", "place"], name="soundshare_one_per_place")]

    def __str__(self) -> str:
        return self.place
