"""Preparing a case: one enclosure under one brief with a number of drives."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from advisor.engine.case.components import Components, components
from advisor.engine.case.heat import (
    DRIVES,
    GRAPHICS,
    LOSS,
    NOMINAL_LOSS_SHARE,
    HeatRows,
    drives_w,
    heat_rows,
    nominal_drives_w,
)
from advisor.engine.case.named import NamedParts, named_parts
from advisor.engine.case.network import CaseNetwork, Parameters, by_scenario, case_network, case_parameters, with_blower
from advisor.engine.case.room import Room, room_air
from advisor.engine.case.sound import sound_paths
from advisor.engine.inputs import AirCooledPart, Brief, Catalogue, Enclosure
from advisor.engine.noise.paths import Path
from advisor.engine.power.loads import build_loads
from advisor.engine.storage.bays import BayPlan

DRIVE_HEAT_U_REL = 0.05


@dataclass(frozen=True)
class VariableHeat:
    """Heat of drives and loss of the supply, per scenario (5,) [W]: what differs between candidates with the same
    fans.
    """

    drives: np.ndarray
    loss: np.ndarray


def class_heat(case: Case, drives: tuple[float, float]) -> VariableHeat:
    """Return the heat that shapes the flows of all candidates of a drive class, with a nominal loss."""
    watts = drives_w(*drives, case.drive_count)
    return VariableHeat(watts, NOMINAL_LOSS_SHARE * (case.heat.steady_w + watts))


@dataclass(frozen=True)
class Case:
    """An enclosure under a brief: network, losses by scenario (5, nb), heat, components, room and sound paths."""

    brief: Brief
    enclosure: Enclosure
    named: NamedParts
    bays: BayPlan
    controllers: tuple[AirCooledPart, ...]
    drive_count: int
    plumbing: CaseNetwork
    own: np.ndarray
    filter_alpha: np.ndarray
    filter_beta: np.ndarray
    parameters: Parameters
    heat: HeatRows
    room: Room
    components: Components
    paths: dict[str, Path]

    @cached_property
    def heated_branches(self) -> np.ndarray:
        """Which branches (nb,) air leaves warmed: cages with drives, the supply, a blower graphics board."""
        rows = self.heat.branch[:, [DRIVES, LOSS, GRAPHICS]]
        return np.asarray(np.any(rows > 0, axis=(0, 1)))


def prepare(
    brief: Brief,
    enclosure: Enclosure,
    catalogue: Catalogue,
    bays: BayPlan,
    controllers: tuple[AirCooledPart, ...],
    drive_count: int,
) -> Case:
    """Prepare everything that no choice of fans, cooler, supply or drive model changes."""
    named = named_parts(brief, catalogue)
    blower = named.graphics is not None and brief.graphics_airflow == "blower"
    box = with_blower(enclosure) if blower else enclosure
    adapters = {adapter.code: adapter for adapter in catalogue.adapters}
    plumbing = case_network(box, brief, bays.fills, adapters)
    loads = build_loads(brief, None, 0, board=named.board, ssd=named.ssd, card=named.card, controllers=controllers)
    heat = heat_rows(brief, box, plumbing.network, loads, bays.fills, blower)
    nominal = heat.steady_w + nominal_drives_w(brief.drive_form, drive_count)
    own, filter_alpha, filter_beta = by_scenario(plumbing)
    graphics_u = named.graphics.heat_u_rel if named.graphics else 0.0
    return Case(
        brief, enclosure, named, bays, controllers, drive_count, plumbing, own, filter_alpha, filter_beta,
        case_parameters(plumbing, enclosure.code, named.processor.heat_u_rel, graphics_u, DRIVE_HEAT_U_REL),
        heat,
        room_air(brief, nominal * (1 + NOMINAL_LOSS_SHARE)),
        components(box, plumbing.network, plumbing.fillings, _still(enclosure, bays), _present(brief, named,
        controllers)),
        sound_paths(enclosure, brief),
    )  # fmt: skip


def _still(enclosure: Enclosure, bays: BayPlan) -> tuple[tuple[str, str, int], ...]:
    groups = {group.code: group for group in enclosure.bay_groups}
    return tuple(
        (fill.group, groups[fill.group].zone, fill.drives)
        for fill in bays.fills
        if fill.drives and not groups[fill.group].opening
    )


def _present(brief: Brief, named: NamedParts, controllers: tuple[AirCooledPart, ...]) -> tuple[str, ...]:
    present = ["processor"]
    if named.graphics is not None:
        present.append("graphics")
    if brief.ssd_count:
        present.append("ssd")
    if brief.card_count:
        present.append("card")
    if controllers:
        present.append("controller")
    return tuple(present)
