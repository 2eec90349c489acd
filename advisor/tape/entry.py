"""An enclosure as a person with a tape measure and a camera describes it, every default filled in.

Units as in ``fields``: mm, cm2, shares of 1.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Panel:
    """One outer face. ``cover`` tells that all of its openings feed the fans behind it."""

    holes_share: float
    holes_area_cm2: float
    hole_mm: float
    slot_width_mm: float
    slot_length_mm: float
    slot_count: int
    gap_mm: float
    gap_length_mm: float
    filter: str
    filter_area_cm2: float | None
    cover: bool
    chamber: str
    material: str
    thickness_mm: float
    lining_mm: float


@dataclass(frozen=True, slots=True)
class FanMount:
    """Like fans in one place; ``face`` is a panel, ``wall`` or ``divider``."""

    face: str
    size_mm: float
    count: int
    side: str
    may_be_empty: bool
    onto: str
    chamber: str
    guard: str


@dataclass(frozen=True, slots=True)
class Bays:
    """Like bays in one place; ``place`` is the panel before their cage, or ``still``."""

    count: int
    form: str
    place: str
    chamber: str
    spacing_mm: float
    air_along: str
    rows: int
    sealed: bool
    bypass_cm2: float | None
    back_plane_share: float
    hot_swap: bool
    tool_free: bool

    @property
    def in_cage(self) -> bool:
        """Whether air passes them in a cage."""
        return self.place != "still"


@dataclass(frozen=True, slots=True)
class Divider:
    """What parts the board's chamber from a second one."""

    direction: str
    at_mm: float
    board_side: str
    open_cm2: float
    reaches_front: bool


@dataclass(frozen=True, slots=True)
class SupplyPlace:
    """Where the power supply sits and breathes."""

    forms: tuple[str, ...]
    length_mm: float
    chamber: str
    breathes: str
    vent_cm2: float
    filter: str
    position: str


@dataclass(frozen=True)
class TapeEntry:
    """A whole enclosure. ``given`` holds the paths of the fields that a person entered, such as ``fans[0].count``."""

    name: str
    code: str
    width_mm: float
    height_mm: float
    depth_mm: float
    feet_mm: float
    seam_mm: float
    board_plane: str
    board_forms: tuple[str, ...]
    cooler_height_mm: float
    card_length_mm: float
    card_slots: int
    slot_cover_share: float
    cable_space_mm: float
    front_ports: int
    filters_reachable: bool
    fan_control_outside: bool
    mass_kg: float
    price: float
    orientations: tuple[str, ...]
    panels: dict[str, Panel]
    fans: tuple[FanMount, ...]
    bays: tuple[Bays, ...]
    divider: Divider | None
    supply: SupplyPlace
    given: frozenset[str]
