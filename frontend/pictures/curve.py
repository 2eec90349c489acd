"""A fan as it was measured: pressure against flow with its uncertainty and at other speeds, and noise against speed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from advisor.engine import inputs
from advisor.engine.curves import FallingCurve, FanCurve, falling_curve
from advisor.engine.inputs import Point
from advisor.engine.noise.sources import sound_power, sound_power_uncertainty
from advisor.engine.units import from_si
from frontend.pictures.boxes import around, free_place, text_width
from frontend.pictures.chart import TEXT, Frame, Word, frame
from frontend.templatetags.quantities import quantity

_SAMPLES = 40
_SPEEDS = 3  # slower speeds that are drawn beside the measured one


@dataclass(frozen=True, slots=True)
class Blower:
    """What is drawn of a fan: its measured curve [m3/s, Pa], sound power by speed [rpm, dBA], speeds [rpm]."""

    name: str
    curve: FanCurve
    flow_u_rel: float
    slowest_rpm: float
    full_rpm: float
    steps_rpm: tuple[float, ...]
    sound: tuple[Point, ...]
    sound_u_db: float


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a chart with its word; ``kind`` is ``measured``, ``scaled``, ``beyond`` (measurement) or ``law``."""

    path: str
    kind: str
    word: Word | None = None


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart with its band of two standard uncertainties and its measured points; ``rows`` are these as a table."""

    key: str
    title: str
    description: str
    frame: Frame
    band: str
    lines: tuple[Line, ...]
    points: tuple[Point, ...]
    columns: tuple[str, str]
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class FanPicture:
    """Both charts of one fan."""

    pressure: Chart
    noise: Chart


def of_fan(fan: inputs.Fan) -> FanPicture:
    """Return the charts of a fan of the catalogue, from ``advisor.assembly.parts.fan`` or a study's own catalogue."""
    blower = Blower(
        fan.name,
        fan.curve,
        fan.flow_u_rel,
        fan.min_rpm,
        fan.max_rpm,
        fan.steps_rpm,
        fan.sound,
        fan.sound_u_db,
    )
    return FanPicture(pressure_chart(blower), noise_chart(blower))


def shown_speeds(blower: Blower) -> list[float]:
    """Return the speeds that are drawn beside the measured one: its steps, or even steps down to the slowest."""
    if blower.steps_rpm:
        speeds = list(blower.steps_rpm)
    else:
        speeds = [float(one) for one in np.linspace(blower.slowest_rpm, blower.full_rpm, _SPEEDS + 1)]
    return [one for one in speeds if abs(one / blower.curve.speed_rpm - 1) > 0.02]


def pressure_chart(blower: Blower) -> Chart:
    """Return pressure against flow: measured points, the curve through them, and the affinity laws' at other speeds."""
    falling = falling_curve(blower.curve)
    base = _sampled(falling)
    ratios = [1.0, *(speed / blower.curve.speed_rpm for speed in shown_speeds(blower))]
    widest = base[-1][0] * max(ratios) * (1 + 2 * blower.flow_u_rel)
    axes = frame([0.0, from_si(widest, "m3/h")], [0.0, base[0][1] * max(ratios) ** 2], "flow, m³/h", "pressure, Pa")
    low, high = ([(flow * (1 + sign * 2 * blower.flow_u_rel), pa) for flow, pa in base] for sign in (-1, 1))
    points = _in_m3h(blower.curve.points)
    return Chart(
        "pressure",
        f"Pressure against flow of {blower.name}",
        _said(falling, base),
        axes,
        axes.band(_in_m3h(low), _in_m3h(high)),
        (*_speed_lines(axes, base, ratios, blower.curve.speed_rpm), *_beyond(axes, falling, base)),
        tuple(axes.at(point) for point in points),
        ("Flow", "Pressure"),
        tuple((quantity(flow, "m³/h"), quantity(pressure, "Pa")) for flow, pressure in points),
    )


def _sampled(falling: FallingCurve) -> list[Point]:
    """Return the curve from no flow to no pressure."""
    flows = (float(flow) for flow in np.linspace(0.0, falling.free_flow_m3s, _SAMPLES))
    return [(flow, max(falling.pressure(flow), 0.0)) for flow in flows]


def _said(falling: FallingCurve, base: list[Point]) -> str:
    free = quantity(from_si(base[-1][0], "m3/h"), "m³/h")
    said = (
        f"At {quantity(falling.speed_rpm, 'rpm')}: {quantity(base[0][1], 'Pa')} without flow, {free} without pressure."
    )
    if _is_beyond(falling):
        said += f" Beyond {quantity(from_si(falling.end, 'm3/h'), 'm³/h')} nothing was measured."
    if falling.stall_flow_m3s > 0:
        said += f" Below {quantity(from_si(falling.stall_flow_m3s, 'm3/h'), 'm³/h')} the fan may stall."
    return said


def _is_beyond(falling: FallingCurve) -> bool:
    return falling.free_flow_m3s > 1.01 * falling.end


def _beyond(axes: Frame, falling: FallingCurve, base: list[Point]) -> Iterator[Line]:
    """Cover what lies beyond the last measured point."""
    if _is_beyond(falling):
        points = [(falling.end, falling.pressure(falling.end)), *(one for one in base if one[0] > falling.end)]
        yield Line(axes.path(_in_m3h(points)), "beyond")


def _in_m3h(points: Iterable[Point]) -> list[Point]:
    return [(from_si(flow, "m3/h"), pressure) for flow, pressure in points]


def _speed_lines(axes: Frame, base: list[Point], ratios: list[float], measured_rpm: float) -> tuple[Line, ...]:
    """Scale flow with speed and pressure with its square; speeds stand above their left ends, off all lines."""
    scaled = [_in_m3h([(flow * ratio, pressure * ratio**2) for flow, pressure in base]) for ratio in ratios]
    taken = [around(x, y, 6.0, 4.0) for points in scaled for x, y in map(axes.at, points)]
    lines = []
    for ratio, points in zip(ratios, scaled, strict=True):
        text, (x, y) = quantity(measured_rpm * ratio, "rpm"), axes.at(points[0])
        size = (text_width(text, TEXT) + 4, TEXT * 1.2)
        box = free_place(size, (x + 8 + size[0] / 2, y - size[1] / 2), axes.room, taken, step=3.0)
        if box:
            taken.append(box)
        word = Word(box, text) if box else None
        lines.append(Line(axes.path(points), "measured" if ratio == 1.0 else "scaled", word))
    return tuple(lines)


def noise_chart(blower: Blower) -> Chart:
    """Return sound power against speed: readings, the law between and beyond them, and its growing uncertainty."""
    speeds = np.linspace(
        min(blower.slowest_rpm, blower.sound[0][0]), max(blower.full_rpm, blower.sound[-1][0]), _SAMPLES
    )
    levels = np.asarray(sound_power(speeds, blower.sound))
    half = 2 * np.asarray(sound_power_uncertainty(speeds, blower.sound, blower.sound_u_db))
    axes = frame(
        [float(speeds[0]), float(speeds[-1])],
        [float((levels - half).min()), float((levels + half).max())],
        "speed, rpm",
        "sound power, dBA",
    )
    curve, low, high = (
        [(float(speed), float(one)) for speed, one in zip(speeds, column, strict=True)]
        for column in (levels, levels - half, levels + half)
    )
    return Chart(
        "sound",
        f"Sound power against speed of {blower.name}",
        f"From {quantity(curve[0][1], 'dBA')} at {quantity(curve[0][0], 'rpm')} to {quantity(curve[-1][1], 'dBA')} at "
        f"{quantity(curve[-1][0], 'rpm')}.",
        axes,
        axes.band(low, high),
        (Line(axes.path(curve), "law"),),
        tuple(axes.at(point) for point in blower.sound),
        ("Speed", "Sound power"),
        tuple((quantity(speed, "rpm"), quantity(found, "dBA")) for speed, found in blower.sound),
    )
