"""From an enclosure's openings to the branches of a network and the laws of their losses.

Losses are ``dp = alpha*Q + beta*Q*|Q|`` of volume flow at the reference density and temperature; METHODS.md,
'The airflow network', derives them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from advisor.engine.airflow.kernel import FAN, PASSIVE
from advisor.engine.constants import HALF_CLOGGED_BLOCKED_SHARE, REFERENCE_DENSITY, TWO_WAY_HEIGHT_M
from advisor.engine.errors import InputError
from advisor.engine.inputs import INNER, OUTSIDE, BayGroup, Enclosure, Filter, Opening
from advisor.engine.orientation import heights, turned_face, vertical_extent

# A face that lies on the floor keeps this share of its openings' area (the gap of feet and carpet; an estimate).
FLOOR_SHARE = 0.1


@dataclass(frozen=True)
class Losses:
    """Parts of the loss of every branch (nb,) at the reference state: its own, and its filter's."""

    own_beta: np.ndarray
    filter_alpha: np.ndarray
    filter_beta: np.ndarray

    @property
    def alpha(self) -> np.ndarray:
        """Linear coefficient [Pa s/m3]."""
        return self.filter_alpha

    @property
    def beta(self) -> np.ndarray:
        """Quadratic coefficient [Pa s2/m6]."""
        return self.own_beta + self.filter_beta


@dataclass(frozen=True)
class Network:
    """Zones and branches of one enclosure as it stands; index ``nz`` is the outside.

    ``opening`` (nb,) says which of ``openings`` a branch belongs to, ``share`` (nb,) which part of its area it is.
    """

    zones: tuple[str, ...]
    openings: tuple[Opening, ...]
    frm: np.ndarray
    to: np.ndarray
    kind: np.ndarray
    opening: np.ndarray
    share: np.ndarray
    z_zone: np.ndarray
    z_branch: np.ndarray
    wall_w_k: np.ndarray
    wall_u_rel: float

    def branches_of(self, code: str) -> tuple[int, ...]:
        """Branch indices of an opening's code."""
        return tuple(b for b, k in enumerate(self.opening) if self.openings[k].code == code)

    def zone(self, code: str) -> int:
        """Index of a zone, ``nz`` for the outside."""
        return len(self.zones) if code == OUTSIDE else self.zones.index(code)


def cage_beta(groups: tuple[tuple[BayGroup, int, float, float], ...]) -> tuple[float, float]:
    """Return a cage's quadratic loss [Pa s2/m6] and the share of its flow that passes filled bays.

    Parameters
    ----------
    groups
        Per bay group: the group, drives in it, gap area of one drive [m2], loss in velocity heads on the gaps.

    Notes
    -----
    Filled gaps and empty bays are parallel paths: conductances ``A*sqrt(2/(rho*K))`` add.
    """
    filled = empty = 0.0
    for group, drives, gap_area, loss in groups:
        filled += drives * gap_area * (2 / (REFERENCE_DENSITY * loss)) ** 0.5
        free_bays = max(group.count - drives, 0)
        empty += free_bays * group.empty_area_m2 * (2 / (REFERENCE_DENSITY * group.loss_empty)) ** 0.5
    total = filled + empty
    if total <= 0:
        raise InputError("a drive cage needs a gap area or an empty-bay area above zero")
    return total**-2, filled / total


def _halves(opening: Opening, orientation: str, z: float) -> list[tuple[float, float]]:
    """Heights and area shares of the branches that stand for an opening."""
    if opening.kind in ("fan_mount", "supply", "blower", "cage"):
        return [(z, 1.0)]
    if opening.face == INNER:
        extent = opening.height_m if orientation in ("upright", "inverted") else 0.0
    else:
        extent = vertical_extent(opening.height_m, opening.face, orientation)
    if extent <= TWO_WAY_HEIGHT_M:
        return [(z, 1.0)]
    return [(z - extent / 4, 0.5), (z + extent / 4, 0.5)]


def build_network(enclosure: Enclosure, orientation: str = "upright") -> Network:
    """Lay out zones and branches of an enclosure as it stands (see ``orientation``)."""
    zones = tuple(zone.code for zone in enclosure.zones)
    places = [zone.position for zone in enclosure.zones] + [o.position for o in enclosure.openings]
    z = heights(np.array(places), orientation)
    z -= z.min()
    rows = []
    for k, opening in enumerate(enclosure.openings):
        ends = [len(zones) if code == OUTSIDE else zones.index(code) for code in (opening.from_zone, opening.to_zone)]
        kind = FAN if opening.kind in ("fan_mount", "supply", "blower") else PASSIVE
        rows += [(*ends, kind, k, share, height) for height, share in _halves(opening, orientation, z[len(zones) + k])]
    frm, to, kinds, of, shares, z_branch = (np.array(column) for column in zip(*rows, strict=True))
    return Network(
        zones, enclosure.openings, frm, to, kinds, of, shares.astype(float),
        np.append(z[: len(zones)], 0.0), z_branch.astype(float),
        np.array([zone.wall_w_k for zone in enclosure.zones]), max(zone.wall_u_rel for zone in enclosure.zones),
    )  # fmt: skip


def _filter_law(screen: Filter | None, clogged: bool) -> tuple[float, float]:
    if screen is None:
        return 0.0, 0.0
    area = screen.area_m2 * (1 - HALF_CLOGGED_BLOCKED_SHARE if clogged else 1)
    return screen.linear_pa_s_m / area, screen.quadratic_pa_s2_m2 / area**2


def free_area(opening: Opening, orientation: str, card_length_m: float) -> float:
    """Free area [m2] of an opening once a long card narrows it and the floor covers it."""
    area = opening.area_m2
    if opening.narrowed_share and card_length_m > opening.narrowed_beyond_m:
        area *= 1 - opening.narrowed_share
    on_floor = opening.face != INNER and turned_face(opening.face, orientation) == "bottom"
    if on_floor and orientation != "upright":
        area *= FLOOR_SHARE
    return area


def branch_losses(
    network: Network,
    orientation: str,
    card_length_m: float,
    cages: Mapping[str, float],
    clogged: bool,
) -> Losses:
    """Return the losses of every branch, fans' own pressure apart.

    ``cages`` maps a cage opening's code to its quadratic loss from ``cage_beta``. A supply's or blower's own
    path is added where its curve is known (``with_path``).
    """
    nb = len(network.frm)
    own, alpha, beta = np.zeros(nb), np.zeros(nb), np.zeros(nb)
    for b in range(nb):
        opening, share = network.openings[network.opening[b]], network.share[b]
        if opening.kind == "cage":
            own[b] = cages[opening.code]
        else:
            area = free_area(opening, orientation, card_length_m) * share
            own[b] = opening.loss_coefficient * REFERENCE_DENSITY / 2 / area**2
        linear, quadratic = _filter_law(opening.filter, clogged)
        alpha[b], beta[b] = linear / share, quadratic / share**2
    return Losses(own, alpha, beta)
