"""Drives, what brings them into bays, and the chips and boards that serve them."""

from __future__ import annotations

from django.db.models import Q

from catalog.models.columns import Choice, Count, Flag, Quantity
from catalog.models.parts import Part
from catalog.models.rules import Rule, constrained
from catalog.models.vocabulary import DriveForm


@constrained
class Drive(Part):
    """A drive in a bay, with moving parts or without."""

    form = Choice(choices=DriveForm, help_text="Width of the drive [inch].")
    capacity_tb = Quantity("TB", 0, 1000, above_low=True, help_text="Capacity [TB, decimal].")
    idle_w = Quantity("W", 0, 100, spread="drive_power", help_text="Power while it idles, turning [W].")
    seek_w = Quantity("W", 0, 100, spread="drive_power", help_text="Power while it seeks [W].")
    spin_up_a = Quantity("A", 0, 20, spread="power", help_text="Current on 12 V while it spins up [A].")
    spin_up_s = Quantity("s", 0, 120, help_text="How long it spins up [s].")
    idle_sound_dba = Quantity(
        "dB", -20, 100, spread="drive_sound", help_text="A-weighted sound power level while it idles [dB re 1 pW]."
    )
    seek_sound_dba = Quantity(
        "dB", -20, 100, spread="drive_sound", help_text="A-weighted sound power level while it seeks [dB re 1 pW]."
    )
    limit_c = Quantity("degC", 20, 120, help_text="Highest case temperature that the maker allows [degC].")
    yearly_failure_rate = Quantity(
        "", 0, 1, spread="rate", help_text="Share of such drives that fail in a year, 0 to 1."
    )
    read_error_rate = Quantity("1/bit", 0, 1e-6, spread="rate", help_text="Unrecoverable read errors per bit read.")
    max_per_box = Count(1, 10_000, help_text="How many the maker allows in one enclosure.")
    surface_cm2 = Quantity("cm2", 1, 5000, help_text="Surface that gives off its heat [cm2].")
    transfer_mb_s = Quantity("MB/s", 1, 20_000, default=200.0, help_text="Sustained transfer rate [MB/s].")

    class Meta(Part.Meta):
        pass


@constrained
class Adapter(Part):
    """A frame that puts drives of one form into bays of another."""

    from_form = Choice(choices=DriveForm, help_text="Width of the bays that it fills [inch].")
    bays = Count(1, 20, help_text="How many bays it fills.")
    to_form = Choice(choices=DriveForm, help_text="Width of the drives that it takes [inch].")
    drives = Count(1, 50, help_text="How many drives it takes.")
    gap_area_cm2 = Quantity("cm2", 0, 500, above_low=True, help_text="Free area beside each drive [cm2].")
    loss_filled = Quantity(
        "", 0, 500, above_low=True, spread="loss", help_text="Loss of the gaps when filled, in velocity heads."
    )
    hot_swap = Flag(default=False, help_text="Whether drives can be changed while running.")

    class Meta(Part.Meta):
        pass


class AirCooledPart(Part):
    """Heat that wants moving air."""

    heat_w = Quantity("W", 0, 600, spread="heat", help_text="Heat at full load [W].")
    needed_air_m_s = Quantity("m/s", 0, 20, help_text="Air speed that it wants over it [m/s].")
    rise_k = Quantity("K", 0, 150, spread="rise", help_text="How far above its air it runs at that speed and heat [K].")
    limit_c = Quantity("degC", 20, 150, help_text="Highest temperature allowed [degC].")
    price = Quantity("EUR", 0, 1e6, default=0.0, help_text="Price of one [EUR].")
    ports = Count(0, 1000, default=0, help_text="Drives that it can connect.")
    slots = Count(0, 20, default=0, help_text="Card slots that it takes up.")
    capacity_tb = Quantity("TB", 0, 1000, default=0.0, help_text="Capacity [TB, decimal]; 0 for what stores nothing.")

    class Meta(Part.Meta):
        abstract = True


@constrained
class SolidStateDrive(AirCooledPart):
    """A solid-state drive on the main board."""

    RULES = (
        Rule(
            "solidstatedrive_stores",
            Q(capacity_tb__gt=0),
            ("capacity_tb",),
            "a solid-state drive needs a capacity above 0 TB",
        ),
    )

    class Meta(AirCooledPart.Meta):
        verbose_name = "solid-state drive"


@constrained
class Card(AirCooledPart):
    """An add-in card."""

    class Meta(AirCooledPart.Meta):
        pass


@constrained
class Controller(AirCooledPart):
    """A storage controller."""

    RULES = (Rule("controller_has_ports", Q(ports__gt=0), ("ports",), "a storage controller needs at least one port"),)

    class Meta(AirCooledPart.Meta):
        pass
