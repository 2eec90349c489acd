"""How sound leaves: what each face lets through and swallows, and how each source's sound divides over the faces."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.engine.noise.panels import BANDS_HZ, diffuse_shares, foam_absorption, holes, insertion_loss, mass_law
from advisor.tape import panels
from advisor.tape.draft import Draft
from advisor.tape.fields import DIVIDER
from advisor.tape.geometry import FACES
from advisor.tape.materials import MATERIALS
from advisor.tape.mounts import ring

# Inside of a bare enclosure with its boards and cables (common practice, no source).
BARE_ABSORPTION = 0.1
# Share of a source's sound that goes straight to its own face: half of what fans and the supply radiate, a part of
# what drives pass on to their cage (common practice, no source).
FAN_DIRECT, DRIVE_DIRECT = 0.5, 0.3
# One standard uncertainty of the insertion loss [dB] of a face that holds back less and more than 3 dB.
OPEN_U_DB, CLOSED_U_DB, OPEN_BELOW_DB = 2.0, 3.0, 3.0

Octaves = list[float]


def passed(draft: Draft, face: str) -> Octaves:
    """Return the share of sound energy that a face lets through, by octave."""
    panel, whole = draft.entry.panels[face], draft.rooms.outer.area_cm2(face)
    field = panel.holes_area_cm2 if panel.holes_share else 0.0
    free = _free_cm2(draft, face)
    holed, opened = min(field / whole, 1.0), min(free / whole, 1.0)
    mass = MATERIALS[panel.material].density * panel.thickness_mm / 1000
    closed = max(1.0 - holed - opened, 0.0)
    through = []
    for band in BANDS_HZ:
        tau = closed * mass_law(mass, band) + opened
        if holed:
            tau += holed * holes(panel.holes_share, panel.hole_mm / 1000, panel.thickness_mm / 1000, band)
        through.append(min(tau, 1.0))
    return through


def absorbed(draft: Draft, face: str) -> Octaves:
    """Return the share of sound energy that the inside of a face swallows, by octave."""
    lining = draft.entry.panels[face].lining_mm / 1000
    return [min(BARE_ABSORPTION + foam_absorption(lining, band), 1.0) for band in BANDS_HZ]


def _free_cm2(draft: Draft, face: str) -> float:
    """Return what is plainly open in a face [cm2]: slots, gaps, fans and grilles in it, and half of its seams."""
    entry, panel = draft.entry, draft.entry.panels[face]
    ways = [way for way in (panels.slots(panel), panels.gap(panel)) if way]
    free = sum(way.area_cm2 for way in ways) + entry.seam_mm * sum(draft.rooms.outer.across(face)) / 100
    if not panel.cover and not panel.holes_share:
        free += sum(ring(fan).area_cm2 for fan in entry.fans if fan.face == face)
    grilles = ("slot_covers", "supply_path", "supply_vent")
    return free + sum(one["area_cm2"] for one in draft.openings if one["code"] in grilles and one["face"] == face)


def insertion_losses(draft: Draft) -> tuple[dict[str, float], float]:
    """Return the insertion loss of each face [dB] and its one standard uncertainty for all."""
    losses, spreads = {}, []
    for face in FACES:
        panel = draft.entry.panels[face]
        loss = min(insertion_loss(passed(draft, face), absorbed(draft, face)), 60.0)
        u = OPEN_U_DB if loss < OPEN_BELOW_DB else CLOSED_U_DB
        inputs: dict[str, float | str] = {"material": panel.material, "thickness_mm": panel.thickness_mm}
        inputs |= {"holes_share": panel.holes_share, "holes_area_cm2": panel.holes_area_cm2}
        inputs |= {"free_cm2": _free_cm2(draft, face), "lining_mm": panel.lining_mm}
        losses[face] = draft.ledger.add(f"insertion_loss_db.{face}", loss, "dB", "insertion_loss", inputs, plain=u)
        spreads.append(u)
    return losses, round((sum(u * u for u in spreads) / len(spreads)) ** 0.5, 2)


def sound_shares(draft: Draft) -> dict[str, dict[str, float]]:
    """Return how the sound of each place divides over the faces."""
    through = {face: passed(draft, face) for face in FACES}
    kept = {face: absorbed(draft, face) for face in FACES}
    spread = {
        chamber: diffuse_shares(
            {face: box.area_cm2(face) if box.touches(face, draft.rooms.outer) else 0.0 for face in FACES}, through, kept
        )
        for chamber, box in draft.rooms.chambers.items()
    }
    entry = draft.entry
    shares = {code: _mix(spread[c], direct, FAN_DIRECT) for code, c, direct in _mounts(draft)}
    shares["processor"] = shares["graphics"] = _mix(spread["main"], {}, 0.0)
    caged = max((bays for bays in entry.bays if bays.in_cage), key=lambda bays: bays.count, default=None)
    standing = caged or max(entry.bays, key=lambda bays: bays.count, default=None)
    direct = {caged.place: 1.0} if caged else {}
    shares["drives"] = _mix(spread[standing.chamber if standing else "main"], direct, DRIVE_DIRECT)
    shares["supply"] = _mix(spread[entry.supply.chamber], {"rear": 1.0}, FAN_DIRECT)
    for place, by_face in shares.items():
        for face, share in by_face.items():
            draft.ledger.add(f"sound_shares.{place}.{face}", share, "", "sound_share", {"place": place}, share=PLACE_U)
    return shares


# A share of the sound over the faces is known to so much of itself (common practice, no source).
PLACE_U = 0.3


def _mounts(draft: Draft) -> list[tuple[str, str, Mapping[str, float]]]:
    """Return code, chamber and the faces that each fan mount looks at; inside, fans look both ways."""
    codes = [one["code"] for one in draft.openings if one["kind"] == "fan_mount"]
    return [
        (code, fan.chamber, {fan.face: 1.0} if fan.face in FACES else _ways_of(draft, fan.face))
        for code, fan in zip(codes, draft.entry.fans, strict=True)
    ]


def _ways_of(draft: Draft, face: str) -> Mapping[str, float]:
    if face == DIVIDER:
        level = draft.entry.divider is not None and draft.entry.divider.direction == "level"
        return {"top": 0.5, "bottom": 0.5} if level else {"left": 0.5, "right": 0.5}
    return {"front": 0.5, "rear": 0.5}


def _mix(diffuse: Mapping[str, float], direct: Mapping[str, float], share: float) -> dict[str, float]:
    """Mix what goes straight to some faces with what spreads, to six digits that sum to 1."""
    share = share if direct else 0.0
    mixed = {face: round(share * direct.get(face, 0.0) + (1 - share) * diffuse.get(face, 0.0), 6) for face in FACES}
    largest = max(mixed, key=lambda face: mixed[face])
    mixed[largest] = round(mixed[largest] + 1.0 - sum(mixed.values()), 6)
    return mixed
