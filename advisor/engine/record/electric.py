"""What a build draws, what that costs, how its drives start, and which UPS carries it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields

from advisor.engine.inputs import Ups
from advisor.engine.power.backup import choose_ups
from advisor.engine.power.draw import Draw, draw, fan_watts
from advisor.engine.power.energy import DUTY, yearly_cost, yearly_energy_kwh
from advisor.engine.power.loads import Loads, build_loads
from advisor.engine.power.spin_up import START_SCENARIO, SpinUpPlan, rest_at_start, spin_up_plan
from advisor.engine.power.supply import wall_power
from advisor.engine.record.records import Backup, Power, PowerState
from advisor.engine.record.spot import CODES, Spot
from advisor.engine.scenarios import SCENARIO_TABLE


def power(spot: Spot, ups_units: Sequence[Ups]) -> Power:
    """Return power by scenario with fans at their chosen speeds, and what follows from it."""
    loads, brief = _loads(spot), spot.build.case.brief
    states = {code: _state(spot, s, loads) for s, code in enumerate(CODES)}
    yearly = yearly_energy_kwh({code: state.wall_w for code, state in states.items()})
    return Power(
        states,
        yearly,
        yearly_cost(yearly, brief.energy_price),
        dict(DUTY),
        _spin_up(spot, loads),
        _backup(ups_units, states[START_SCENARIO].wall_w, brief.ups_minutes) if brief.ups_minutes > 0 else None,
    )


def _loads(spot: Spot) -> Loads:
    case = spot.build.case
    return build_loads(
        case.brief,
        spot.build.drive,
        case.drive_count,
        board=case.named.board,
        ssd=case.named.ssd,
        card=case.named.card,
        controllers=case.controllers,
    )


def fans_w(spot: Spot, s: int) -> float:
    """Power of case fans and the cooler's fan [W] at their speeds in a scenario."""
    cells, cooler = spot.settings.cells, spot.build.cooler
    total = sum(
        opening.fan_count * float(fan_watts(fan.power_w, float(cells.rpm[spot.rows[s], m]), fan.max_rpm))
        for m, (opening, fan) in enumerate(spot.build.fans.mounts)
    )
    rpm = float(spot.cooler_steps.rpm[spot.steps[s], 0]) if cooler.max_rpm > 0 else 0.0
    return total + float(fan_watts(cooler.power_w, rpm, cooler.max_rpm))


def _state(spot: Spot, s: int, loads: Loads) -> PowerState:
    drawn = draw(loads, SCENARIO_TABLE[s], fans_w(spot, s))
    wall = wall_power(spot.build.supply, float(drawn.dc_w))
    return PowerState(
        _by_part(drawn),
        float(wall.dc_w),
        float(wall.share),
        float(wall.efficiency),
        float(wall.wall_w),
        float(wall.loss_w),
        bool(wall.extrapolated),
    )


def _by_part(drawn: Draw) -> dict[str, float]:
    """Watts by kind of part; they sum to the supply's load, since the 12 V share of drives is within that of drives."""
    names = [field.name.removesuffix("_w") for field in fields(drawn) if field.name != "drives_12v_w"]
    return {name: float(getattr(drawn, f"{name}_w")) for name in names}


def _spin_up(spot: Spot, loads: Loads) -> SpinUpPlan | None:
    build, count = spot.build, spot.build.case.drive_count
    if build.drive is None or not count:
        return None
    full = build.fans.full_power_w + build.cooler.power_w
    return spin_up_plan(build.drive, count, rest_at_start(loads, full), build.supply)


def _backup(units: Sequence[Ups], load_w: float, minutes: float) -> Backup:
    found = choose_ups(units, load_w, minutes)
    if found.unit is None or found.runtime is None:
        return Backup(None, "", None, load_w, None, found.reason)
    said = found.reason + (" That runtime is extrapolated from its points." if found.runtime.extrapolated else "")
    return Backup(found.unit.code, found.unit.name, found.runtime.minutes, load_w, found.unit.price, said)
