"""One kind of part each: a row and where its figures come from, into a record of the engine."""

from __future__ import annotations

from advisor.assembly.fields import like_named, points
from advisor.engine import inputs
from advisor.engine.units import to_si
from catalog import models
from catalog.models.columns import Checked
from catalog.provenance import Origin


def _spread(row: models.Part, column: str) -> str:
    field = row._meta.get_field(column)
    assert isinstance(field, Checked)
    return field.spread


def _share(row: models.Part, origin: Origin, column: str) -> float:
    """One standard uncertainty of a number, as a share of it."""
    return origin.share(column, _spread(row, column), getattr(row, column))


def _absolute(row: models.Part, origin: Origin, column: str) -> float:
    """One standard uncertainty of a number in its own unit, or of every point of a list."""
    value = getattr(row, column)
    return origin.absolute(column, _spread(row, column), value if isinstance(value, int | float) else 0.0)


def _curve(row: models.Fan | models.Supply | models.Graphics) -> inputs.FanCurve:
    pairs = tuple((to_si(flow, "m3/h"), pressure) for flow, pressure in row.curve_points_m3h_pa)
    return inputs.FanCurve(pairs, row.curve_speed_rpm, row.curve_density_kg_m3, row.curve_rest_loss_pa_s2_m6)


def fan(row: models.Fan, origin: Origin) -> inputs.Fan:
    return inputs.Fan(
        **like_named(inputs.Fan, row),
        curve=_curve(row),
        sound=points(row.sound_rpm_dba),
        flow_u_rel=origin.share("curve", "fan_flow", 0.0),
        sound_u_db=_absolute(row, origin, "sound_rpm_dba"),
    )


def cooler(row: models.Cooler, origin: Origin) -> inputs.Cooler:
    """R_solid and R_air share one relative uncertainty: one heated block gave both, so their errors go together."""
    total = row.r_solid_k_w + row.r_air_k_w
    u_solid = row.r_solid_k_w * _share(row, origin, "r_solid_k_w")
    u_air = row.r_air_k_w * _share(row, origin, "r_air_k_w")
    return inputs.Cooler(
        **like_named(inputs.Cooler, row),
        sound=points(row.sound_rpm_dba),
        r_u_rel=(u_solid + u_air) / total,
        flow_exponent_u=_absolute(row, origin, "flow_exponent"),
        speed_exponent_u=_absolute(row, origin, "speed_exponent"),
        sound_u_db=_absolute(row, origin, "sound_rpm_dba"),
    )


def supply(row: models.Supply, origin: Origin) -> inputs.Supply:
    """Flows are solved once for each air path; an own supply has one to itself, as public ones may change beside it."""
    return inputs.Supply(
        **like_named(inputs.Supply, row, "efficiency", "speed_steps", "air_path"),
        air_path=row.air_path if row.owner_id is None else row.code,
        efficiency=points(row.efficiency),
        sound=points(row.sound_share_dba),
        curve=_curve(row),
        speed_steps=points(row.speed_steps),
        sound_u_db=_absolute(row, origin, "sound_share_dba"),
        efficiency_u=_absolute(row, origin, "efficiency"),
    )


def drive(row: models.Drive, origin: Origin) -> inputs.Drive:
    """The record has one uncertainty for idling and seeking alike: the larger of the two."""
    return inputs.Drive(
        **like_named(inputs.Drive, row),
        power_u_rel=max(_share(row, origin, "idle_w"), _share(row, origin, "seek_w")),
        sound_u_db=max(_absolute(row, origin, "idle_sound_dba"), _absolute(row, origin, "seek_sound_dba")),
    )


def air_cooled(row: models.SolidStateDrive | models.Card | models.Controller, origin: Origin) -> inputs.AirCooledPart:
    return inputs.AirCooledPart(**like_named(inputs.AirCooledPart, row), rise_u_rel=_share(row, origin, "rise_k"))


def adapter(row: models.Adapter, origin: Origin) -> inputs.Adapter:
    return inputs.Adapter(**like_named(inputs.Adapter, row))


def processor(row: models.Processor, origin: Origin) -> inputs.Processor:
    return inputs.Processor(
        **like_named(inputs.Processor, row),
        inner_u_rel=_share(row, origin, "inner_k_w"),
        heat_u_rel=_share(row, origin, "heat_w"),
    )


def graphics(row: models.Graphics, origin: Origin) -> inputs.Graphics:
    return inputs.Graphics(
        **like_named(inputs.Graphics, row),
        sound=points(row.sound_share_dba),
        curve=_curve(row) if row.curve_points_m3h_pa else None,
        r_u_rel=_share(row, origin, "r_k_w"),
        flow_exponent_u=_absolute(row, origin, "flow_exponent"),
        heat_u_rel=_share(row, origin, "heat_w"),
        sound_u_db=_absolute(row, origin, "sound_share_dba"),
    )


def board(row: models.Board, origin: Origin) -> inputs.Board:
    return inputs.Board(**like_named(inputs.Board, row))


def ups(row: models.Ups, origin: Origin) -> inputs.Ups:
    return inputs.Ups(**like_named(inputs.Ups, row), runtime=points(row.runtime_w_min))
