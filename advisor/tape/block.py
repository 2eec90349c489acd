"""From an entry to a block of the catalogue and everything that was derived for it: read this first.

1. ``rooms``             which zones of air there are
2. ``mounts``, ``vents`` fan mounts and openings of the panels, card slots, the supply
3. ``inner``             drive cages and ways past them, the divider, leaks
4. ``walls``, ``seats``  heat through the panels; where parts sit and what feeds them
5. ``sound``             insertion losses and shares over the faces
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from advisor.tape.draft import AREA_U, FILTER_U, LOSS_U, Draft
from advisor.tape.entry import TapeEntry
from advisor.tape.inner import MALDISTRIBUTION_U, add_cages, add_divider, add_leaks, add_wall_seams
from advisor.tape.ledger import Derived, Ledger
from advisor.tape.mounts import add_mounts
from advisor.tape.rooms import rooms_of
from advisor.tape.seats import PREHEAT_U, seats_of
from advisor.tape.sound import insertion_losses, sound_shares
from advisor.tape.vents import add_card_slots, add_supply, add_vents
from advisor.tape.walls import WALL_U, zones_of
from catalog.built_in import ESTIMATE, MEASURE, OWN_MAKER

# How well lengths come off a tape measure [mm] (common practice, no source).
TAPE_U_MM = 2.0
_MEASURED = ("size_mm", "cooler_height_mm", "card_length_mm", "supply_length_mm", "mass_kg")


@dataclass(frozen=True)
class TapeResult:
    """A block of the catalogue's enclosures, without maker and code where none was given, and how it came about."""

    block: dict[str, Any]
    derived: tuple[Derived, ...]


def enclosure_of(entry: TapeEntry, code: str) -> TapeResult:
    """Derive the catalogue block of an entry under a code."""
    draft = Draft(entry, rooms_of(entry), Ledger())
    add_mounts(draft)
    add_vents(draft)
    add_card_slots(draft)
    groups = add_cages(draft)
    add_divider(draft)
    add_wall_seams(draft)
    supply = add_supply(draft)
    zones = zones_of(draft)
    seats = seats_of(draft)
    add_leaks(draft)
    losses, loss_u = insertion_losses(draft)
    block = {
        **_facts(entry, code),
        "zones": zones,
        "openings": draft.openings,
        "bay_groups": groups,
        "seats": seats,
        "supply_opening": supply,
        "insertion_loss_db": losses,
        "sound_shares": sound_shares(draft),
        "sources": dict.fromkeys(_measured(entry), MEASURE),
        "uncertainty": _uncertainty(draft, loss_u),
    }
    return TapeResult(block, tuple(draft.ledger.lines))


def _facts(entry: TapeEntry, code: str) -> dict[str, Any]:
    """Return what a person entered and the catalogue holds as it is."""
    return {
        "code": code,
        "name": entry.name,
        "maker": OWN_MAKER,
        "kind": kind_of(entry),
        "source": ESTIMATE,
        "size_mm": [entry.width_mm, entry.height_mm, entry.depth_mm],
        "mass_kg": entry.mass_kg,
        "price": entry.price,
        "board_forms": list(entry.board_forms),
        "cooler_height_mm": entry.cooler_height_mm,
        "card_length_mm": entry.card_length_mm,
        "card_slots": entry.card_slots,
        "supply_forms": list(entry.supply.forms),
        "supply_length_mm": entry.supply.length_mm,
        "service": {
            "tool_free_bays": bool(entry.bays) and all(bays.tool_free for bays in entry.bays),
            "filters_reachable": entry.filters_reachable,
            "fan_control_outside": entry.fan_control_outside,
            "cable_space_mm": entry.cable_space_mm,
            "front_ports": entry.front_ports,
        },
        "orientations": list(entry.orientations),
    }


def kind_of(entry: TapeEntry) -> str:
    """Return a word for how the air goes: the first of a fixed order that fits."""
    faces = {fan.face for fan in entry.fans if fan.side == "intake"}
    words = (
        ("own_fan_wall", "wall" in faces),
        ("own_two_chambers", entry.divider is not None),
        ("own_chimney", entry.board_plane == "turned"),
        ("own_side_intake", bool(faces & {"left", "right"})),
        ("own_bottom_intake", "bottom" in faces),
        ("own_front_intake", "front" in faces),
    )
    return next((word for word, fits in words if fits), "own_exhaust_only")


def _measured(entry: TapeEntry) -> list[str]:
    """Return the figures that are as a person entered them."""
    paths = {"size_mm": "width_mm", "supply_length_mm": "supply.length_mm"}
    return [figure for figure in _MEASURED if paths.get(figure, figure) in entry.given]


def _uncertainty(draft: Draft, loss_u: float) -> dict[str, Any]:
    percent = {
        "zones.wall_w_k": WALL_U,
        "openings.area_cm2": AREA_U,
        "openings.loss_coefficient": LOSS_U,
        "openings.filter": FILTER_U,
        "seats.preheat": PREHEAT_U,
        **{f"openings.{code}.area_cm2": share for code, share in draft.area_u.items()},
    }
    groups = draft.entry.bays
    percent |= {f"bay_groups.{key}": AREA_U for key in ("gap_area_cm2", "empty_area_cm2") if groups}
    return {
        "size_mm": TAPE_U_MM,
        "insertion_loss_db": loss_u,
        **({"bay_groups.maldistribution": MALDISTRIBUTION_U} if groups else {}),
        **{figure: f"{100 * share:g} %" for figure, share in percent.items()},
    }
