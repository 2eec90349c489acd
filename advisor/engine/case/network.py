"""A case's network: its openings with what fills them, and the parameters that its flows are uncertain by."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from advisor.engine.airflow.elements import Losses, Network, branch_losses, build_network, cage_beta
from advisor.engine.airflow.response import AREA, FILTER
from advisor.engine.case.heat import HEAT_ROWS, LOSS_U_REL, REST_U_REL
from advisor.engine.inputs import OUTSIDE, Adapter, BayGroup, Brief, Enclosure, Opening
from advisor.engine.scenarios import SCENARIO_TABLE
from advisor.engine.storage.bays import BayFill

WALLS = len(HEAT_ROWS)  # index of the parameter of all wall conductances
Filling = tuple[BayGroup, int, float, float]


@dataclass(frozen=True)
class Parameters:
    """Uncertain logarithms: names, standard uncertainties (np,), heat rows (-1 none, -2 walls), and what acts where.

    ``mode`` and ``target`` are as ``airflow.response`` reads them. Names are shared between candidates that share
    the part.
    """

    names: tuple[str, ...]
    sigma: np.ndarray
    heat_of: np.ndarray
    mode: np.ndarray
    target: np.ndarray


def with_blower(enclosure: Enclosure) -> Enclosure:
    """Add the way out through a blower graphics board to an enclosure's openings."""
    seat = next(seat for seat in enclosure.seats if seat.role == "graphics")
    zone = next(zone for zone in enclosure.zones if zone.code == seat.zone)
    x, _, z = zone.position
    opening = Opening(
        "graphics_blower", "blower", seat.zone, OUTSIDE, (x, enclosure.size_m[1], z), 0.02, "rear", 0.0025, 2.0
    )
    return replace(enclosure, openings=(*enclosure.openings, opening))


def cage_fillings(
    enclosure: Enclosure, fills: tuple[BayFill, ...], adapters: dict[str, Adapter]
) -> dict[str, tuple[Filling, ...]]:
    """Return, per cage opening, its bay groups with drives, gap area and loss; an adapter counts as a group of its
    own.
    """
    groups = {group.code: group for group in enclosure.bay_groups}
    found: dict[str, tuple[Filling, ...]] = {o.code: () for o in enclosure.openings if o.kind == "cage"}
    for fill in fills:
        group = groups[fill.group]
        if not group.opening:
            continue
        if fill.adapter:
            adapter = adapters[fill.adapter]
            # an adapter's empty places are closed by its frame
            row = (replace(group, count=fill.drives), fill.drives, adapter.gap_area_m2, adapter.loss_filled)
        else:
            open_bays = fill.drives + fill.free_bays
            row = (replace(group, count=open_bays), fill.drives, group.gap_area_m2, group.loss_filled)
        if row[0].count:
            found[group.opening] += (row,)
    return found


@dataclass(frozen=True)
class CaseNetwork:
    """The network of one case, its losses with clean and with half-clogged filters, and its cages' fillings."""

    network: Network
    clean: Losses
    clogged: Losses
    fillings: dict[str, tuple[Filling, ...]]


def case_network(
    enclosure: Enclosure, brief: Brief, fills: tuple[BayFill, ...], adapters: dict[str, Adapter]
) -> CaseNetwork:
    """Build the network of an enclosure as it stands, with its bays filled and its cards in place."""
    network = build_network(enclosure, brief.orientation)
    fillings = cage_fillings(enclosure, fills, adapters)
    cages = {code: cage_beta(rows)[0] for code, rows in fillings.items()}
    length = brief.graphics_length_m if brief.graphics_count else 0.0
    clean, clogged = (branch_losses(network, brief.orientation, length, cages, state) for state in (False, True))
    return CaseNetwork(network, clean, clogged, fillings)


def by_scenario(case: CaseNetwork) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Own quadratic, filter linear and filter quadratic losses (5, nb), by each scenario's filters."""
    states = [case.clogged if scenario.half_clogged else case.clean for scenario in SCENARIO_TABLE]
    return (
        np.array([state.own_beta for state in states]),
        np.array([state.filter_alpha for state in states]),
        np.array([state.filter_beta for state in states]),
    )


def case_parameters(
    case: CaseNetwork, enclosure: str, processor_u: float, graphics_u: float, drives_u: float
) -> Parameters:
    """Return heats, walls, areas and filters of a case as uncertain parameters (fans are added with the fans)."""
    network = case.network
    names = ["brief/processor_heat", "brief/graphics_heat", "brief/other_heat", "drives/heat", "supply/loss"]
    sigma = [processor_u, graphics_u, REST_U_REL, drives_u, LOSS_U_REL, network.wall_u_rel]
    names.append(f"{enclosure}/walls")
    heat_of, mode, target = [*HEAT_ROWS, -2], [], []
    for k, opening in enumerate(network.openings):
        branches = [b for b in range(len(network.frm)) if network.opening[b] == k]
        kinds = [(AREA, "area", opening.area_u_rel)]
        if opening.filter is not None:
            kinds.append((FILTER, "filter", opening.filter.loss_u_rel))
        for how, word, u in kinds:
            mode += [how] * len(branches)
            target += [(len(names), b) for b in branches]
            names.append(f"{enclosure}/{opening.code}/{word}")
            sigma.append(u)
            heat_of.append(-1)
    return Parameters(tuple(names), np.array(sigma), np.array(heat_of), np.array(mode), np.array(target).reshape(-1, 2))
