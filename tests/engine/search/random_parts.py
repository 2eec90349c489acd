"""Random invented parts, their flow, sound and heat in step with size and speed, give or take."""

from __future__ import annotations

import random
from math import log10

from advisor.engine.inputs import Cooler, Drive, Fan, FanCurve, Supply
from tests.engine.make_parts import make_cooler, make_drive, make_supply


def draw_fan(rng: random.Random, code: str, size: float) -> Fan:
    """A fan whose flow, pressure and sound follow size and speed, give or take."""
    full = rng.uniform(800, 1700) * 0.12 / size
    flow, pressure = 0.033 * (size / 0.12) ** 3 * full / 1300, 17 * (size / 0.12) ** 2 * (full / 1300) ** 2
    points = ((0.0, pressure), (0.5 * flow, 0.63 * pressure), (0.8 * flow, 0.3 * pressure), (flow, 0.0))
    low = rng.uniform(0.25, 0.45) * full
    switch = rng.random() < 0.4
    loudness = 30 + rng.gauss(0, 2)
    sound = tuple(
        (n, round(loudness + 52 * _decades(n, 1300) + 30 * _decades(size, 0.12), 1)) for n in (low, 0.7 * full, full)
    )
    steps = tuple(low + (full - low) * k / 2 for k in range(3))[rng.randrange(2) :] if switch else ()
    control, slowest = ("switch", steps[0]) if switch else ("temperature", low)
    return Fan(
        code, code, size, 0.025, FanCurve(points, full), slowest, full, control, sound, round(0.5 + full / 1000, 1),
        round(rng.uniform(6, 40), 1), steps_rpm=steps, may_stop=rng.random() < 0.25,
    )  # fmt: skip


def _decades(value: float, reference: float) -> float:
    return log10(value / reference)


def draw_cooler(rng: random.Random, code: str, odd: bool) -> Cooler:
    """A cooler with a fan on temperature control or on a switch, or without one; an odd one may not fit."""
    kind = rng.choice(["temperature", "temperature", "switch", "passive"])
    size = {"height_m": 0.165 if odd else rng.choice([0.09, 0.11, 0.128]), "price": round(rng.uniform(15, 120), 1)}
    socket = {"sockets": ("S2",) if odd else ("S1", "S2")}
    if kind == "passive":
        bare = {"r_air_k_w": rng.uniform(0.25, 0.5), "flow_exponent": 0.35, "speed_exponent": 0.0, "power_w": 0.0}
        return make_cooler(code=code, name=code, min_rpm=0.0, max_rpm=0.0, sound=(), **bare, **size, **socket)
    full, level = rng.uniform(1100, 2000), rng.uniform(26, 37)
    known = {"r_air_k_w": rng.uniform(0.08, 0.2), "flow_exponent": rng.uniform(0.03, 0.12), "power_w": 1.5}
    speeds = {"min_rpm": 0.35 * full, "max_rpm": full, "sound": ((0.35 * full, level - 22), (full, level))}
    steps = (0.35 * full, 0.6 * full, full) if kind == "switch" else ()
    return make_cooler(code=code, name=code, control=kind, steps_rpm=steps, **known, **speeds, **size, **socket)


def draw_supply(rng: random.Random, code: str, odd: bool) -> Supply:
    """A supply of one of two air paths; an odd one is weak, long or of another form."""
    path = rng.choice([("atx", 0.006), ("wide", 0.007)])
    rating, length, form = rng.choice([300.0, 400.0, 450.0]), rng.choice([0.13, 0.14, 0.16]), "atx"
    if odd:
        rating, length, form = rng.choice([(120.0, 0.14, "atx"), (rating, 0.18, "atx"), (rating, 0.13, "sfx")])
    low = rng.uniform(14, 24)
    return make_supply(
        code=code, name=code, rating_w=rating, rating_12v_w=0.94 * rating, form=form, length_m=length,
        sound=((0.1, low), (0.5, low + 4), (1.0, low + 18)), air_path=path[0],
        path_area_m2=path[1], price=round(rng.uniform(40, 200), 1),
    )  # fmt: skip


def draw_drive(rng: random.Random, code: str, odd: bool) -> Drive:
    """A 3.5-inch drive; an odd one is not made for many in a box."""
    idle = rng.uniform(3.0, 5.5)
    sound = rng.uniform(20, 29)
    return make_drive(
        code=code, name=code, capacity_tb=rng.choice([4.0, 8.0, 12.0]), idle_w=idle,
        seek_w=idle + rng.uniform(1.5, 3.5), idle_sound_db=sound,
        seek_sound_db=sound + rng.uniform(2, 6), limit_c=rng.choice([72.0, 75.0]),
        max_per_box=1 if odd else 8, price=round(rng.uniform(90, 330), 1),
    )  # fmt: skip
