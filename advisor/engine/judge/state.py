"""Everything a batch of networks is solved from, row by row."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.case.case import Case
from advisor.engine.case.fans import FanSet, Movers, SupplyAir, blower_speeds
from advisor.engine.case.heat import SHARED


@dataclass(frozen=True)
class State:
    """Losses (n, nb), fan speeds and scales (n, nb), heat rows of zones and branches (n, ROWS, ...), walls (n, nz)."""

    own: np.ndarray
    filter_alpha: np.ndarray
    filter_beta: np.ndarray
    speed: np.ndarray
    scale: np.ndarray
    zone: np.ndarray
    branch: np.ndarray
    wall: np.ndarray


def row_state(
    case: Case, fans: FanSet, supply: SupplyAir, gear: Movers, scenario: np.ndarray, rpm: np.ndarray
) -> State:
    """Lay out best estimates for rows of scenarios (n,) and mounts' speeds (n, mounts) [rpm]."""
    network = case.plumbing.network
    n, nb = len(scenario), len(network.frm)
    own, branch = case.own[scenario], case.heat.branch[scenario]
    (supply_branch,) = network.branches_of(case.enclosure.supply_opening)
    own[:, supply_branch] += supply.path_beta
    speed = np.zeros((n, nb))
    for k, ((opening, fan), (b, _, _)) in enumerate(zip(fans.mounts, gear.by_mount, strict=True)):
        speed[:, b] = rpm[:, k] * gear.ratio[b]
        branch[:, SHARED, b] += opening.fan_count * fan.power_w * (rpm[:, k] / fan.max_rpm) ** 3
    speed[:, supply_branch] = np.array(supply.speeds)[scenario]
    for b in network.branches_of("graphics_blower"):
        speed[:, b] = blower_speeds()[scenario]
    return State(
        own, case.filter_alpha[scenario], case.filter_beta[scenario], speed, np.tile(gear.scale, (n, 1)),
        case.heat.zone[scenario], branch, np.tile(network.wall_w_k, (n, 1)),
    )  # fmt: skip
