"""An enclosure as pictures need it: where its zones, openings, bays and seats are, and how it stands.

Lengths are in metres; axes are the room's: x right, y rear, z up, seen from where the front is when it stands upright.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from advisor.engine import inputs
from advisor.engine.inputs import FACES, OUTSIDE
from advisor.engine.orientation import rotation, turned_face
from advisor.engine.units import to_si
from catalog import models

Triple = tuple[float, float, float]
_FLAT_M = 0.02  # inner openings less tall than this lie in a floor


@dataclass(frozen=True, slots=True)
class ZonePlace:
    """A zone and its middle."""

    code: str
    position: Triple


@dataclass(frozen=True, slots=True)
class OpeningPlace:
    """An opening and where it is; ``face`` is the enclosure's own, ``looks`` where that face looks now.

    ``extent`` is how far it reaches along each axis. ``fans`` is how many it may hold, each ``fan_size`` wide.
    """

    code: str
    kind: str
    from_zone: str
    to_zone: str
    position: Triple
    extent: Triple
    face: str
    looks: str
    filtered: bool = False
    two_way: bool = False
    fans: int = 0
    fan_size: float = 0.0


@dataclass(frozen=True, slots=True)
class Bays:
    """Bays of one group, in the cage of an opening or, where ``opening`` is empty, in the still air of a zone."""

    code: str
    count: int
    zone: str
    opening: str


@dataclass(frozen=True, slots=True)
class Housing:
    """An enclosure as it stands; ``seats`` maps roles of parts to zones."""

    code: str
    name: str
    size: Triple
    zones: tuple[ZonePlace, ...]
    openings: tuple[OpeningPlace, ...]
    bays: tuple[Bays, ...]
    seats: tuple[tuple[str, str], ...]
    orientation: str = "upright"

    def zone_of(self, role: str) -> str:
        """Zone of a part's seat, empty where it has none."""
        return dict(self.seats).get(role, "")

    def face_names(self) -> dict[str, str]:
        """The enclosure's own face that looks each way."""
        return {turned_face(face, self.orientation): face for face in FACES}


def of_engine(enclosure: inputs.Enclosure, orientation: str = "upright") -> Housing:
    """Return an enclosure of a study's own catalogue (``advisor.snapshots``) as it stands."""
    width, height, depth = enclosure.size_m
    upright = Housing(
        enclosure.code,
        enclosure.name,
        (width, depth, height),
        tuple(ZonePlace(zone.code, zone.position) for zone in enclosure.zones),
        tuple(_opening(one, (width, depth, height)) for one in enclosure.openings),
        tuple(Bays(one.code, one.count, one.zone, one.opening) for one in enclosure.bay_groups),
        tuple((seat.role, seat.zone) for seat in enclosure.seats),
    )
    return turned(upright, orientation)


def of_row(row: models.Enclosure, orientation: str = "upright") -> Housing:
    """Return an enclosure of the catalogue as it stands; fetch the row ``with_wiring``."""
    zones = {zone.pk: zone.code for zone in row.zones.all()} | {None: OUTSIDE}
    openings = {opening.pk: opening.code for opening in row.openings.all()} | {None: ""}
    size = (to_si(row.width_mm, "mm"), to_si(row.depth_mm, "mm"), to_si(row.height_mm, "mm"))
    upright = Housing(
        row.code,
        row.name,
        size,
        tuple(ZonePlace(zone.code, _position(zone)) for zone in row.zones.all()),
        tuple(_opening_of_row(one, zones, size) for one in row.openings.all()),
        tuple(Bays(one.code, one.count, zones[one.zone_id], openings[one.opening_id]) for one in row.bay_groups.all()),
        tuple((seat.role, zones[seat.zone_id]) for seat in row.seats.all()),
    )
    return turned(upright, orientation)


def turned(upright: Housing, orientation: str) -> Housing:
    """Return an upright enclosure turned, with its lowest front left corner in the origin again."""
    matrix = rotation(orientation)
    corners = np.array([(0.0, 0.0, 0.0), upright.size]) @ matrix.T
    shift = -corners.min(axis=0)

    def place(position: Triple) -> Triple:
        return _triple(matrix @ np.array(position) + shift)

    return replace(
        upright,
        size=_triple(np.abs(matrix @ np.array(upright.size))),
        zones=tuple(replace(zone, position=place(zone.position)) for zone in upright.zones),
        openings=tuple(
            replace(
                one,
                position=place(one.position),
                extent=_triple(np.abs(matrix @ np.array(one.extent))),
                looks=turned_face(one.face, orientation) if one.face in FACES else one.face,
            )
            for one in upright.openings
        ),
        orientation=orientation,
    )


def _triple(values: Iterable[float]) -> Triple:
    x, y, z = (round(float(value), 6) for value in values)
    return x, y, z


def _position(row: models.Zone | models.Opening) -> Triple:
    return to_si(row.x_mm, "mm"), to_si(row.y_mm, "mm"), to_si(row.z_mm, "mm")


def _opening(one: inputs.Opening, size: Triple) -> OpeningPlace:
    fan = (one.fan_size_m, one.fan_count)
    return OpeningPlace(
        one.code,
        one.kind,
        one.from_zone,
        one.to_zone,
        one.position,
        extent(one.face, one.height_m, one.area_m2, fan, size),
        one.face,
        one.face,
        one.filter is not None,
        one.two_way,
        one.fan_count,
        one.fan_size_m,
    )


def _opening_of_row(row: models.Opening, zones: dict[int | None, str], size: Triple) -> OpeningPlace:
    height, area = to_si(row.height_mm, "mm"), to_si(row.area_cm2, "cm2")
    return OpeningPlace(
        row.code,
        row.kind,
        zones[row.from_zone_id],
        zones[row.to_zone_id],
        _position(row),
        extent(row.face, height, area, (to_si(row.fan_size_mm, "mm"), row.fan_count), size),
        row.face,
        row.face,
        bool(row.filter_class),
        row.two_way,
        row.fan_count,
        to_si(row.fan_size_mm, "mm"),
    )


def extent(face: str, height: float, area: float, fan: tuple[float, int], size: Triple) -> Triple:
    """Return how far an opening reaches along x, y and z: what is stated is its height, the width follows its area.

    Fans of one mount stand side by side where the face is wide enough, else one over the other. Which way an inner wall
    looks is not known here: what is in it is as wide either way.

    >>> extent("front", 0.12, 0.03, (0.12, 3), (0.2, 0.4, 0.5))
    (0.12, 0.0, 0.36)
    """
    across = size[1] if face in ("left", "right") else size[0]
    flat = face not in FACES and height < _FLAT_M
    width = math.sqrt(area) if flat else min(area / height if height > 0 else 0.0, 0.9 * across)
    if fan[1]:
        row = fan[0] * fan[1]
        width, height = (row, fan[0]) if row <= across else (fan[0], row)
    if face in ("left", "right"):
        return 0.0, width, height
    if face in ("top", "bottom"):
        return width, height, 0.0
    return (width, 0.0, height) if face in FACES else (width, width, height)
