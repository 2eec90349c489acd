"""An enclosure with its zones, openings, bay groups, seats and sound shares."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.assembly.fields import like_named
from advisor.engine import inputs
from advisor.engine.units import to_si
from catalog import models
from catalog.provenance import Origin


@dataclass(frozen=True)
class _Inside:
    """What rows below one enclosure need: the codes behind their links, and where its figures come from."""

    origin: Origin
    zones: Mapping[int, str]
    openings: Mapping[int, str]

    def zone(self, key: int | None) -> str:
        return inputs.OUTSIDE if key is None else self.zones[key]

    def opening(self, key: int | None) -> str:
        return "" if key is None else self.openings[key]


def enclosure(row: models.Enclosure, origin: Origin) -> inputs.Enclosure:
    zones, openings = list(row.zones.all()), list(row.openings.all())
    inside = _Inside(origin, {zone.pk: zone.code for zone in zones}, {opening.pk: opening.code for opening in openings})
    return inputs.Enclosure(
        **like_named(inputs.Enclosure, row),
        size_m=(to_si(row.width_mm, "mm"), to_si(row.height_mm, "mm"), to_si(row.depth_mm, "mm")),
        zones=tuple(_zone(zone, inside) for zone in zones),
        openings=tuple(_opening(opening, inside) for opening in openings),
        bay_groups=tuple(_bay_group(group, inside) for group in row.bay_groups.all()),
        seats=tuple(_seat(seat, inside) for seat in row.seats.all()),
        supply_opening=row.supply_opening,
        insertion_loss_db={face: getattr(row, f"loss_{face}_db") for face in inputs.FACES},
        insertion_loss_u=_insertion_loss_u(row, origin),
        sound_shares={share.place: _shares(share) for share in row.sound_shares.all()},
        service=inputs.Service(**like_named(inputs.Service, row)),
    )


def _insertion_loss_u(row: models.Enclosure, origin: Origin) -> float:
    """The record has one uncertainty for all faces; one stated as a share is taken of their mean loss."""
    mean = sum(getattr(row, f"loss_{face}_db") for face in inputs.FACES) / len(inputs.FACES)
    return origin.absolute("insertion_loss_db", "insertion_loss", mean)


def _shares(row: models.SoundShare) -> dict[str, float]:
    return {face: getattr(row, face) for face in inputs.FACES}


def _position(row: models.Zone | models.Opening) -> tuple[float, float, float]:
    return to_si(row.x_mm, "mm"), to_si(row.y_mm, "mm"), to_si(row.z_mm, "mm")


def _zone(row: models.Zone, inside: _Inside) -> inputs.Zone:
    u_rel = inside.origin.share(f"zones.{row.code}.wall_w_k", "wall", row.wall_w_k)
    return inputs.Zone(row.code, _position(row), row.wall_w_k, u_rel)


def _opening(row: models.Opening, inside: _Inside) -> inputs.Opening:
    spread = "leak_area" if row.kind == "leak" else "area"
    return inputs.Opening(
        **like_named(inputs.Opening, row, "from_zone", "to_zone"),
        from_zone=inside.zone(row.from_zone_id),
        to_zone=inside.zone(row.to_zone_id),
        position=_position(row),
        area_u_rel=inside.origin.share(f"openings.{row.code}.area_cm2", spread, row.area_cm2),
        filter=_filter(row, inside) if row.filter_class else None,
    )


def _filter(row: models.Opening, inside: _Inside) -> inputs.Filter:
    u_rel = inside.origin.share(f"openings.{row.code}.filter", "filter_loss", row.filter_linear_pa_s_m)
    return inputs.Filter(
        row.filter_class,
        to_si(row.filter_area_cm2, "cm2"),
        row.filter_linear_pa_s_m,
        row.filter_quadratic_pa_s2_m2,
        u_rel,
    )


def _bay_group(row: models.BayGroup, inside: _Inside) -> inputs.BayGroup:
    figure = f"bay_groups.{row.code}.maldistribution"
    return inputs.BayGroup(
        **like_named(inputs.BayGroup, row, "zone", "opening"),
        zone=inside.zone(row.zone_id),
        opening=inside.opening(row.opening_id),
        maldistribution_u=inside.origin.absolute(figure, "maldistribution", row.maldistribution),
    )


def _seat(row: models.Seat, inside: _Inside) -> inputs.Seat:
    return inputs.Seat(
        **like_named(inputs.Seat, row, "zone", "fed_by"),
        zone=inside.zone(row.zone_id),
        fed_by=inside.opening(row.fed_by_id),
        preheat_u_log=inside.origin.share(f"seats.{row.role}.preheat", "preheat", row.preheat),
    )
