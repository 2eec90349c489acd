"""The air as it is told: nothing is lost on the way, flows blow where they are said to."""

import math

import pytest

from advisor.engine.inputs import OUTSIDE
from advisor.engine.record.air import halves
from advisor.engine.record.spot import CODES
from tests.engine.record import found

BLEND_KG_S = 1e-4  # METHODS.md: a heated passage shares its heat with both sides where its flow is about to turn
BOXES = [box.code for box in found.catalogue().enclosures]


def sums(air, value):
    """What flows out of each zone less what flows in."""
    total = {zone.code: 0.0 for zone in air.zones} | {OUTSIDE: 0.0}
    for one in air.openings:
        total[one.from_zone] += value(one)
        total[one.to_zone] -= value(one)
    return total


@pytest.mark.parametrize("code", BOXES)
def test_air_that_enters_a_zone_leaves_it(code):
    for air in found.record(code).airflow.values():
        lost = sums(air, lambda one: one.mass_flow_kgs)
        assert max(map(abs, lost.values())) < 1e-9 * air.throughflow_kgs


@pytest.mark.parametrize("code", BOXES)
def test_air_and_walls_carry_out_the_heat_put_in(code):
    record, spot = found.record(code), found.spot(code)
    case, network = spot.build.case, spot.build.case.plumbing.network
    for s, scenario in enumerate(CODES):
        air, ambient = record.airflow[scenario], float(case.room.temperature_c[s])
        warm = {zone.code: zone.temperature_c - ambient for zone in air.zones} | {OUTSIDE: 0.0}
        out = sum(wall * warm[zone] for wall, zone in zip(network.wall_w_k, network.zones, strict=True))
        for one in air.openings:
            up = one.from_zone if one.mass_flow_kgs > 0 else one.to_zone
            leaves = OUTSIDE in (one.from_zone, one.to_zone)
            out += leaves * abs(one.mass_flow_kgs) * float(case.room.heat_capacity[s]) * warm[up]
        # heat that passing air takes up on its way out of the box warms nothing inside
        assert out == pytest.approx(heat_kept(spot, s, air), rel=1e-9)


def heat_kept(spot, s, air):
    """Heat [W] of parts and drives, and of fans and supply as far as their air stays inside."""
    case, load, k = spot.build.case, spot.load, spot.rows[s]
    flows = {one.code: one for one in air.openings}
    kept = float(case.heat.steady_w[s] + load.drives_w[s])
    released = [(o.code, o.fan_count * f.power_w * (spot.settings.cells.rpm[k, m] / f.max_rpm) ** 3) for m, (o, f) in
                enumerate(spot.build.fans.mounts)]  # fmt: skip
    for code, watts in [*released, (case.enclosure.supply_opening, float(load.loss_w[s]))]:
        one = flows[code]
        ahead = 0.5 * (1 + one.mass_flow_kgs / math.hypot(one.mass_flow_kgs, BLEND_KG_S))
        kept += watts * (ahead * (one.to_zone != OUTSIDE) + (1 - ahead) * (one.from_zone != OUTSIDE))
    return kept


@pytest.mark.parametrize("code", BOXES)
def test_only_one_way_openings_can_blow_the_wrong_way(code):
    openings = {o.code: o for o in found.best(code)[1].case.enclosure.openings}
    for air in found.record(code).airflow.values():
        for one in air.openings:
            meant = openings[one.code]
            assert one.reversed == (one.mass_flow_kgs < 0 and not meant.two_way and meant.kind != "leak")


def test_volume_flow_is_that_of_the_air_it_comes_from():
    record, spot = found.record(), found.spot()
    air, room = record.airflow["full_load"], spot.build.case.room
    warm = {zone.code: zone.temperature_c for zone in air.zones} | {OUTSIDE: float(room.temperature_c[2])}
    for one in air.openings:
        up = one.from_zone if one.mass_flow_kgs > 0 else one.to_zone
        # ideal gas: density goes with the inverse of absolute temperature
        density = float(room.density[2]) * (273.15 + float(room.temperature_c[2])) / (273.15 + warm[up])
        assert one.flow_m3s == pytest.approx(one.mass_flow_kgs / density, rel=1e-9)


def test_tall_openings_come_in_two_halves():
    spot = found.spot()
    codes = [spot.build.case.plumbing.network.openings[k].code for k in spot.build.case.plumbing.network.opening]
    told = dict.fromkeys(codes, "")
    for code, half in zip(codes, halves(spot), strict=True):
        told[code] += half
    assert told["slots"] == "lowerupper"
    assert told["front"] == ""


def test_air_changes_count_the_outer_volume():
    record, box = found.record(), found.best()[1].case.enclosure
    width, height, depth = box.size_m
    air = record.airflow["idle"]
    entering = sum(
        abs(one.flow_m3s)
        for one in air.openings
        if (one.from_zone if one.mass_flow_kgs > 0 else one.to_zone) == OUTSIDE
    )
    assert air.air_changes_per_h == pytest.approx(3600 * entering / (width * height * depth), rel=1e-9)
