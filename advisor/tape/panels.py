"""The air through one outer panel: holes, slots and gaps side by side, feet below them, and the filter behind."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.engine.airflow.losses import FREE_EXIT, MITRE_BEND, SHARP_ENTRANCE, slot_inlet, thick_plate
from advisor.tape.entry import Panel, TapeEntry

# Deepest hole, in its own widths, that the handbook covers.
_DEEPEST = 10.0
TURNING_GAP = SHARP_ENTRANCE + MITRE_BEND + FREE_EXIT


@dataclass(frozen=True, slots=True)
class Way:
    """A way for air: free area [cm2] and its loss in velocity heads on it."""

    area_cm2: float
    loss: float

    @property
    def conductance(self) -> float:
        """Flow per square root of pressure, up to a constant."""
        return self.area_cm2 / self.loss**0.5

    def part(self, share: float) -> Way:
        """Return a share of it."""
        return Way(self.area_cm2 * share, self.loss)


def side_by_side(ways: list[Way]) -> Way | None:
    """Return ways side by side as one, None for none."""
    ways = [way for way in ways if way.area_cm2 > 0]
    if not ways:
        return None
    area = sum(way.area_cm2 for way in ways)
    return Way(area, (area / sum(way.conductance for way in ways)) ** 2)


def one_after_another(ways: list[Way]) -> Way:
    """Return ways in series as one, on the smallest of their areas."""
    area = min(way.area_cm2 for way in ways)
    return Way(area, sum(way.loss * (area / way.area_cm2) ** 2 for way in ways))


def holes(field_cm2: float, share: float, hole_mm: float, thickness_mm: float) -> Way:
    """Return a perforated field between a still room and a zone: the head behind the plate is lost too."""
    loss = thick_plate(share, min(thickness_mm / hole_mm, _DEEPEST)) + FREE_EXIT
    return Way(field_cm2 * share, loss * share**2)


def slots(panel: Panel) -> Way | None:
    """Return the slots of a panel, None where it has none."""
    if not panel.slot_count:
        return None
    area = panel.slot_count * panel.slot_width_mm * panel.slot_length_mm / 100
    width = max(panel.slot_width_mm, panel.thickness_mm / (2 * _DEEPEST))
    return Way(area, slot_inlet(panel.thickness_mm / 1000, width / 1000))


def gap(panel: Panel) -> Way | None:
    """Return the gap at the edge of a cover, where air turns to pass behind it."""
    area = panel.gap_mm * panel.gap_length_mm / 100
    return Way(area, TURNING_GAP) if area else None


def field(panel: Panel) -> Way | None:
    """Return the field of holes of a panel, None where it has none."""
    if not panel.holes_share:
        return None
    return holes(panel.holes_area_cm2, panel.holes_share, panel.hole_mm, panel.thickness_mm)


def openings(panel: Panel) -> Way | None:
    """Return all that a panel lets through, side by side."""
    return side_by_side([way for way in (field(panel), slots(panel), gap(panel)) if way])


def feet(entry: TapeEntry, face: str) -> Way | None:
    """Return the gap under the enclosure through which its bottom breathes, None for other faces or none."""
    if face != "bottom" or not entry.feet_mm:
        return None
    return Way(entry.feet_mm * 2 * (entry.width_mm + entry.depth_mm) / 100, TURNING_GAP)


def filter_face_cm2(entry: TapeEntry, face: str) -> float:
    """Return the face of a panel's filter: as given, else what it has to cover."""
    panel = entry.panels[face]
    if panel.filter_area_cm2 is not None:
        return panel.filter_area_cm2
    slotted = slots(panel)
    squares = sum(fan.count * fan.size_mm**2 / 100 for fan in entry.fans if fan.face == face)
    return max(panel.holes_area_cm2, slotted.area_cm2 if slotted else 0.0, squares)
