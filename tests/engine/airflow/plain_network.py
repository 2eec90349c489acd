"""The airflow network written out plainly: one network, loops over branches, zone pressures as the only unknowns.

It shares no code with the compiled kernel but the curves it is given. Each branch's law is inverted for its flow at a
pressure, and the mass balance of the zones is solved for their pressures; the kernel works on flows and pressures.
Rises of zones are found by scipy's root finder on what the flows make of them; the kernel lets them follow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq, root

from advisor.engine.curves import FallingCurve

GRAVITY = 9.80665
KELVIN = 273.15
REFERENCE_DENSITY = 1.2
LINEAR_PA = 1e-3
BLEND_KG_S = 1e-4


@dataclass(frozen=True)
class Branch:
    """A way from zone ``frm`` to ``to`` (-1 is outside) at height ``z``; a fan runs at ``speed`` times its curve's."""

    frm: int
    to: int
    z: float = 0.0
    alpha: float = 0.0
    beta: float = 0.0
    curve: FallingCurve | None = None
    speed: float = 0.0
    scale: float = 1.0
    heat_w: float = 0.0


@dataclass(frozen=True)
class PlainNetwork:
    """Branches between zones at heights ``z_zone`` [m] with ``wall`` [W/K] and ``heat`` [W], in a room."""

    branches: tuple[Branch, ...]
    z_zone: tuple[float, ...]
    wall: tuple[float, ...]
    heat: tuple[float, ...]
    ambient_c: float = 20.0
    density: float = 1.2
    viscosity_ratio: float = 1.0
    heat_capacity: float = 1006.0
    rises: tuple[float, ...] = ()

    def rise(self, zone: int) -> float:
        """Rise of a zone over ambient [K]."""
        return 0.0 if zone < 0 or not self.rises else self.rises[zone]

    def zone_density(self, zone: int) -> float:
        """Density [kg/m3] of a zone's air, by the ideal gas law at the room's pressure."""
        ambient = self.ambient_c + KELVIN
        return self.density * ambient / (ambient + self.rise(zone))


def stack_pressure(net: PlainNetwork, branch: Branch) -> float:
    """Pressure [Pa] with which the columns of the two zones drive air through a branch from -> to."""
    total = 0.0
    for zone, sign in ((branch.frm, 1.0), (branch.to, -1.0)):
        if zone >= 0:
            total += sign * GRAVITY * (net.density - net.zone_density(zone)) * (branch.z - net.z_zone[zone])
    return total


def loss_law(net: PlainNetwork, branch: Branch, density: float) -> tuple[float, float]:
    """Linear and quadratic coefficient of mass flow at a density; a fan at rest is part of it."""
    beta = branch.beta / REFERENCE_DENSITY
    if branch.curve is not None and branch.speed <= 0:
        beta += branch.curve.tail / (branch.curve.density_kg_m3 * branch.scale**2)
    return branch.alpha * net.viscosity_ratio / density, beta / density


def drop(net: PlainNetwork, branch: Branch, m: float) -> float:
    """Pressure lost along a branch [Pa] at a mass flow [kg/s]: its losses less its fan's rise."""
    density = net.zone_density(branch.frm if m >= 0 else branch.to)
    a, b = loss_law(net, branch, density)
    a0, b0 = loss_law(net, branch, net.density)
    size = abs(m)
    least = _linear_flow(a0, b0)
    loss = (a + b * max(size, least)) * m
    if branch.curve is not None and branch.speed > 0:
        drawn = net.zone_density(branch.frm)
        own = m / (drawn * branch.speed * branch.scale)
        loss -= branch.speed**2 * drawn / branch.curve.density_kg_m3 * branch.curve.pressure(own)
    return loss


def _linear_flow(a: float, b: float) -> float:
    """Mass flow [kg/s] at which a loss is 1e-3 Pa; below it the law is straight."""
    if b <= 0:
        return 0.0
    return (-a + math.sqrt(a * a + 4 * b * LINEAR_PA)) / (2 * b)


def flow_at(net: PlainNetwork, branch: Branch, pressure: float) -> float:
    """Mass flow [kg/s] that a pressure difference p_from - p_to [Pa], the stack included, drives through a branch."""

    def left_over(m: float) -> float:
        return drop(net, branch, m) - pressure

    reach = 1e-3
    while left_over(reach) < 0 or left_over(-reach) > 0:
        reach *= 4
    return brentq(left_over, -reach, reach, xtol=1e-18, rtol=1e-15, maxiter=500)


def flows_at(net: PlainNetwork, pressures: np.ndarray) -> np.ndarray:
    """Flows of all branches at given zone pressures."""
    p = np.append(pressures, 0.0)
    return np.array([flow_at(net, b, p[b.frm] - p[b.to] + stack_pressure(net, b)) for b in net.branches])


def imbalance(net: PlainNetwork, flows: np.ndarray) -> np.ndarray:
    """Mass that arrives in every zone less what leaves it [kg/s]."""
    left = np.zeros(len(net.z_zone))
    for branch, m in zip(net.branches, flows, strict=True):
        if branch.to >= 0:
            left[branch.to] += m
        if branch.frm >= 0:
            left[branch.frm] -= m
    return left


def solve_flows(net: PlainNetwork) -> tuple[np.ndarray, np.ndarray]:
    """Flows [kg/s] and zone pressures [Pa] at the network's rises, by damped Newton on the pressures."""
    p = np.zeros(len(net.z_zone))
    flows = flows_at(net, p)
    for _ in range(200):
        left = imbalance(net, flows)
        if np.abs(left).max() <= 1e-16 * np.abs(flows).max():
            return flows, p
        step = np.linalg.solve(_conductance(net, flows), left)
        share = 1.0
        size = np.linalg.norm(left)
        while np.linalg.norm(imbalance(net, flows_at(net, p + share * step))) > (1 - 0.3 * share) * size:
            share /= 2
            if share < 1e-4:  # rounding is all that is left
                return flows, p
        p = p + share * step
        flows = flows_at(net, p)
    raise AssertionError(f"the plain network is off balance by {np.abs(imbalance(net, flows)).max():.1e} kg/s")


def _conductance(net: PlainNetwork, flows: np.ndarray) -> np.ndarray:
    size = len(net.z_zone)
    matrix = np.zeros((size + 1, size + 1))
    for branch, m in zip(net.branches, flows, strict=True):
        h = 1e-6 * max(abs(m), 1e-6)
        slope = 2 * h / (drop(net, branch, m + h) - drop(net, branch, m - h))
        i, j = branch.frm, branch.to
        matrix[i, i] += slope
        matrix[j, j] += slope
        matrix[i, j] -= slope
        matrix[j, i] -= slope
    return matrix[:size, :size]


def heat_rises(net: PlainNetwork, flows: np.ndarray) -> np.ndarray:
    """Rises [K] at which every zone gives off what it gets: upwind advection, walls, heat released in passing."""
    size = len(net.z_zone)
    matrix, right = np.diag(net.wall).astype(float), np.array(net.heat, dtype=float)
    for branch, m in zip(net.branches, flows, strict=True):
        up, down = (branch.frm, branch.to) if m >= 0 else (branch.to, branch.frm)
        if down >= 0:
            matrix[down, down] += abs(m) * net.heat_capacity
            if up >= 0:
                matrix[down, up] -= abs(m) * net.heat_capacity
        forward = 0.5 * (1 + m / math.hypot(m, BLEND_KG_S))
        if branch.to >= 0:
            right[branch.to] += forward * branch.heat_w
        if branch.frm >= 0:
            right[branch.frm] += (1 - forward) * branch.heat_w
    return np.linalg.solve(matrix, right) if size else right


def rise_error(net: PlainNetwork, rises: np.ndarray) -> np.ndarray:
    """Rises that the flows at given rises make, less those rises [K]."""
    warm = replace(net, rises=tuple(rises))
    return heat_rises(net, solve_flows(warm)[0]) - rises


def solve_coupled(net: PlainNetwork, start: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Flows, pressures and the rises that they make, found from ``start`` [K] by a root finder on the rises."""
    found = root(lambda rises: rise_error(net, rises), start, method="hybr", options={"xtol": 1e-12})
    warm = replace(net, rises=tuple(found.x))
    return *solve_flows(warm), found.x
