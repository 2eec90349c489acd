"""Fans on their mounts, and the supply's fan, as a case's air meets them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from advisor.engine import assumed
from advisor.engine.airflow.response import FAN_FLOW
from advisor.engine.airflow.solver import CurveTable, pack_curves
from advisor.engine.case.case import Case
from advisor.engine.case.network import Parameters
from advisor.engine.case.settings import Steps, group_steps
from advisor.engine.constants import REFERENCE_DENSITY
from advisor.engine.curves import FallingCurve, FanCurve, falling_curve
from advisor.engine.inputs import Enclosure, Fan, Opening, Supply
from advisor.engine.power.supply import speed_step
from advisor.engine.scenarios import SCENARIO_TABLE

SUPPLY_FLOW_U_REL = 0.08
BLOWER_FLOW_U_REL = 0.15
STALL_WIDENING = 2.0  # a fan left of its dip: twice the uncertainty of its flow
STALL_PENALTY_DB = 3.0  # and this much louder (estimate)

Mount = tuple[Opening, Fan]


@dataclass(frozen=True)
class FanSet:
    """The fans of one candidate: (mount, fan) on each side; mounts not named are left empty."""

    intake: tuple[Mount, ...]
    exhaust: tuple[Mount, ...]

    @cached_property
    def mounts(self) -> tuple[Mount, ...]:
        """All mounts with fans, intakes first."""
        return self.intake + self.exhaust

    @cached_property
    def price(self) -> float:
        """Price of all fans."""
        return sum(opening.fan_count * fan.price for opening, fan in self.mounts)

    @cached_property
    def full_power_w(self) -> float:
        """Power of all fans at full speed [W]."""
        return sum(opening.fan_count * fan.power_w for opening, fan in self.mounts)

    @cached_property
    def steps(self) -> tuple[Steps, Steps]:
        """Steps of the intake and the exhaust group."""
        return group_steps(tuple(fan for _, fan in self.intake)), group_steps(tuple(fan for _, fan in self.exhaust))


@dataclass(frozen=True)
class SupplyAir:
    """What of a supply shapes the flows: its air path, and its fan's share of full speed per scenario."""

    path: str
    curve: FanCurve
    path_beta: float
    speeds: tuple[float, ...]


def supply_air(supply: Supply, load_w: np.ndarray) -> SupplyAir:
    """Return what supplies must have in common to share flows, at loads (5,) [W] no higher than the rating."""
    shares = np.minimum(load_w / supply.rating_w, 1.0)
    beta = supply.path_loss * REFERENCE_DENSITY / 2 / supply.path_area_m2**2
    return SupplyAir(supply.air_path, supply.curve, beta, tuple(float(v) for v in speed_step(supply, shares)))


def fan_choices(enclosure: Enclosure, side: str, fans: tuple[Fan, ...]) -> list[tuple[Mount, ...]]:
    """Every way to equip one side: per mount size one model for all its mounts, or none where all may be empty."""
    sizes = sorted({o.fan_size_m for o in enclosure.openings if o.kind == "fan_mount" and o.side == side})
    ways: list[tuple[Mount, ...]] = [()]
    for size in sizes:
        mounts = [o for o in enclosure.openings if o.kind == "fan_mount" and o.side == side and o.fan_size_m == size]
        fitting = [fan for fan in fans if abs(fan.size_m - size) < 5e-4]
        options: list[tuple[Mount, ...]] = [tuple((mount, fan) for mount in mounts) for fan in fitting]
        if all(mount.may_be_empty for mount in mounts):
            options.append(())
        ways = [way + option for way in ways for option in options]
    return ways


@dataclass(frozen=True)
class Movers:
    """Curves of all fan branches, full-speed ratios and scales (nb,), and the parameters with the fans' own added."""

    curves: CurveTable
    ratio: np.ndarray
    scale: np.ndarray
    parameters: Parameters
    by_mount: tuple[tuple[int, FallingCurve, int], ...]


def movers(case: Case, fans: FanSet, supply: SupplyAir) -> Movers:
    """Place fans, the supply and a blower on the branches of a case.

    ``by_mount`` gives each mount's branch, curve and parameter index.
    """
    network = case.plumbing.network
    by_branch: dict[int, FallingCurve] = {}
    scale, ratio = np.ones(len(network.frm)), np.zeros(len(network.frm))
    base = case.parameters
    names, sigma = list(base.names), list(base.sigma)
    heat_of, mode, target = list(base.heat_of), list(base.mode), [tuple(row) for row in base.target]

    def add(code: str, curve: FanCurve, count: int, full: float, name: str, u: float) -> tuple[int, FallingCurve, int]:
        (branch,) = network.branches_of(code)
        by_branch[branch] = falling_curve(curve)
        scale[branch], ratio[branch] = count, full
        if name not in names:
            names.append(name)
            sigma.append(u)
            heat_of.append(-1)
        parameter = names.index(name)
        mode.append(FAN_FLOW)
        target.append((parameter, branch))
        return branch, by_branch[branch], parameter

    placed = tuple(
        add(o.code, fan.curve, o.fan_count, 1.0 / fan.curve.speed_rpm, f"fan/{fan.code}/flow", fan.flow_u_rel)
        for o, fan in fans.mounts
    )
    add(case.enclosure.supply_opening, supply.curve, 1, 1.0, f"air_path/{supply.path}", SUPPLY_FLOW_U_REL)
    blower = case.named.graphics
    if blower is not None and case.brief.graphics_airflow == "blower":
        count = case.brief.graphics_count
        add("graphics_blower", blower.curve or assumed.BLOWER_CURVE, count, 1.0, "brief/blower", BLOWER_FLOW_U_REL)
    parameters = Parameters(
        tuple(names), np.array(sigma), np.array(heat_of), np.array(mode), np.array(target).reshape(-1, 2)
    )
    return Movers(pack_curves(network, by_branch), ratio, scale, parameters, placed)


def blower_speeds() -> np.ndarray:
    """Speed of a blower board's fan per scenario (5,), as a share of full."""
    low = assumed.BLOWER_IDLE_SPEED
    return np.array([low + (1 - low) * scenario.graphics_share for scenario in SCENARIO_TABLE])
