"""Where heat is released, per scenario: the rows that the thermal area multiplies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.airflow.elements import Network
from advisor.engine.inputs import Brief, Enclosure
from advisor.engine.power.draw import draw, drive_watts
from advisor.engine.power.loads import Loads
from advisor.engine.scenarios import SCENARIO_TABLE
from advisor.engine.storage.bays import BayFill

# Rows of heat: the three bases of ``thermal.temperatures``, then parts of the first that are uncertain on their own.
SHARED, DRIVES, LOSS, PROCESSOR, GRAPHICS, REST = range(6)
ROWS = 6
# Uncertain heats in the order of parameters, with the row each multiplies.
HEAT_ROWS = (PROCESSOR, GRAPHICS, REST, DRIVES, LOSS)
REST_U_REL = 0.05
LOSS_U_REL = 0.10
# Nominal loss of a supply, as a share of its load, in the heat that shapes the flows.
NOMINAL_LOSS_SHARE = 0.10
# Nominal power of one drive [W] idle and seeking, where no model is chosen yet (common practice, no source).
NOMINAL_DRIVE_W = {"3.5": (4.5, 7.0), "2.5": (1.2, 2.5)}
_CLASS_W = 2.0


@dataclass(frozen=True)
class HeatRows:
    """Heat released in zones (5, ROWS, nz) and into passing branches (5, ROWS, nb) [W], by scenario.

    ``steady_w`` (5,) is all direct-current power but that of drives and fans.
    """

    zone: np.ndarray
    branch: np.ndarray
    steady_w: np.ndarray


def heat_rows(
    brief: Brief, enclosure: Enclosure, network: Network, loads: Loads, fills: tuple[BayFill, ...], blower: bool
) -> HeatRows:
    """Lay out the heat of everything but fans; drives and the supply's loss as one watt each."""
    nz, nb = len(network.zones), len(network.frm)
    zone, branch = np.zeros((5, ROWS, nz)), np.zeros((5, ROWS, nb))
    place = {seat.role: network.zone(seat.zone) for seat in enclosure.seats}
    steady = np.zeros(5)
    for s, scenario in enumerate(SCENARIO_TABLE):
        drawn = draw(loads, scenario)
        steady[s] = drawn.dc_w - drawn.drives_w
        zone[s, PROCESSOR, place["processor"]] = drawn.processor_w
        if blower:
            branch[s, GRAPHICS, list(network.branches_of("graphics_blower"))] = drawn.graphics_w
        else:
            zone[s, GRAPHICS, place["graphics"]] = drawn.graphics_w
        for role in ("board", "memory", "ssd", "card", "controller"):
            zone[s, REST, place[role]] += getattr(drawn, f"{role}_w")
        zone[s, SHARED] = zone[s, PROCESSOR] + zone[s, GRAPHICS] + zone[s, REST]
        branch[s, SHARED] = branch[s, GRAPHICS]
    _spread_drives(enclosure, network, fills, zone, branch)
    supply = list(network.branches_of(enclosure.supply_opening))
    branch[:, LOSS, supply] = 1.0 / len(supply)
    return HeatRows(zone, branch, steady)


def _spread_drives(
    enclosure: Enclosure, network: Network, fills: tuple[BayFill, ...], zone: np.ndarray, branch: np.ndarray
) -> None:
    """Share one watt of drives out over cages and still places by the number of drives in each."""
    groups = {group.code: group for group in enclosure.bay_groups}
    total = sum(fill.drives for fill in fills)
    for fill in fills:
        if not fill.drives:
            continue
        group = groups[fill.group]
        if group.opening:
            branch[:, DRIVES, network.branches_of(group.opening)[0]] += fill.drives / total
        else:
            zone[:, DRIVES, network.zone(group.zone)] += fill.drives / total


def drive_class(idle_w: float, seek_w: float) -> tuple[float, float]:
    """Round a drive's power idle and seeking to classes of 2 W, at least 1 W: drives of a class share flows.

    >>> drive_class(4.6, 7.3)
    (4.0, 8.0)
    """
    return max(1.0, _CLASS_W * round(idle_w / _CLASS_W)), max(1.0, _CLASS_W * round(seek_w / _CLASS_W))


def nominal_drives_w(form: str, count: int) -> np.ndarray:
    """Heat (5,) [W] of ``count`` drives of no particular model."""
    return drives_w(*NOMINAL_DRIVE_W[form], count)


def drives_w(idle_w: float, seek_w: float, count: int) -> np.ndarray:
    """Heat (5,) [W] of ``count`` drives, per scenario."""
    return np.array([count * drive_watts(idle_w, seek_w, scenario.seeking) for scenario in SCENARIO_TABLE], dtype=float)
