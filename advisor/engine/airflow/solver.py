"""Solving a batch of airflow networks of one shape: the way into the compiled kernel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.airflow.elements import Network
from advisor.engine.airflow.kernel import ACCEPTED_RESIDUAL, solve_batch
from advisor.engine.airflow.laws import FAN, PASSIVE, Curves
from advisor.engine.curves import FallingCurve
from advisor.engine.errors import SolverError


@dataclass(frozen=True)
class CurveTable:
    """Curves laid end to end as the kernel reads them; ``of`` (nb,) is each branch's curve or -1."""

    of: np.ndarray
    kind: np.ndarray
    arrays: Curves
    curves: tuple[FallingCurve, ...]


@dataclass(frozen=True)
class Ambient:
    """The room's air for each network of a batch, every array of shape (n,).

    Temperature [degC], density [kg/m3], viscosity over that of the reference state, heat capacity [J/(kg K)].
    """

    temperature_c: np.ndarray
    density: np.ndarray
    viscosity_ratio: np.ndarray
    heat_capacity: np.ndarray


@dataclass(frozen=True)
class Flows:
    """Mass flows (n, nb) [kg/s, positive from -> to], zone pressures (n, nz) [Pa] and reference rises (n, nz) [K].

    ``steps`` counts the Newton steps of the whole batch.
    """

    mass_flow: np.ndarray
    pressure: np.ndarray
    rise: np.ndarray
    steps: int


def pack_curves(network: Network, by_branch: dict[int, FallingCurve]) -> CurveTable:
    """Give fan branches their curves; a fan branch without one is a plain opening."""
    of = np.full(len(network.frm), -1, dtype=np.int64)
    kind = np.where(network.kind == FAN, PASSIVE, network.kind).astype(np.int64)
    curves: list[FallingCurve] = []
    for b, curve in by_branch.items():
        index = next((k for k, known in enumerate(curves) if known is curve), None)
        if index is None:
            index = len(curves)
            curves.append(curve)
        of[b], kind[b] = index, FAN
    return CurveTable(of, kind, curve_arrays(curves), tuple(curves))


def curve_arrays(curves: list[FallingCurve]) -> Curves:
    """Lay curves end to end."""
    counts = np.array([len(c.starts) for c in curves], dtype=np.int64)
    last = np.cumsum(counts, dtype=np.int64)
    if not curves:
        return Curves(counts, last, np.zeros(0), np.zeros((0, 4)), np.zeros(0), np.zeros(0), np.zeros(0))
    return Curves(
        last - counts,
        last,
        np.concatenate([c.starts for c in curves]),
        np.concatenate([c.pieces for c in curves]),
        np.array([c.end for c in curves]),
        np.array([c.tail for c in curves]),
        np.array([c.density_kg_m3 for c in curves]),
    )


def solve(
    network: Network,
    curves: CurveTable,
    alpha: np.ndarray,
    beta: np.ndarray,
    speed: np.ndarray,
    scale: np.ndarray,
    ambient: Ambient,
    wall: np.ndarray,
    heat_zone: np.ndarray,
    heat_branch: np.ndarray,
    coupled: bool = True,
) -> Flows:
    """Solve ``n`` networks that share their shape.

    Parameters
    ----------
    alpha, beta
        Loss coefficients (n, nb) [Pa s/m3, Pa s2/m6] at the reference state.
    speed, scale
        Fan speed over the curve's own, and number of fans times flow multiplier, (n, nb).
    wall, heat_zone, heat_branch
        Wall conductance (n, nz) [W/K] and heat (n, nz), (n, nb) [W] that make the zone temperatures which
        feed back through density and buoyancy; not used unless ``coupled``.

    Raises
    ------
    SolverError
        If a network's flows do not settle within 1e-9 of its largest flow, or its rises within 1e-8 K.

    Notes
    -----
    Newton on flows and pressures, after Todini & Pilati (1988), 'A gradient algorithm for the analysis of pipe
    networks'.
    """
    # arrays of any other layout would make numba compile the kernel anew
    given = [np.ascontiguousarray(a) for a in (alpha, beta, speed, scale, wall, heat_zone, heat_branch)]
    room = (ambient.temperature_c, ambient.density, ambient.viscosity_ratio, ambient.heat_capacity)
    n, nb = alpha.shape
    nz = len(network.zones)
    flow, pressure, rise = np.zeros((n, nb)), np.zeros((n, nz)), np.zeros((n, nz))
    residual = np.zeros(n)
    steps = solve_batch(
        network.frm, network.to, curves.kind, curves.of, network.z_zone, network.z_branch, curves.arrays,
        *given, *(np.ascontiguousarray(a) for a in room), coupled, flow, pressure, rise, residual,
    )  # fmt: skip
    _check(pressure, residual)
    return Flows(flow, pressure, rise, int(steps))


def _check(pressure: np.ndarray, residual: np.ndarray) -> None:
    """Refuse networks that have not settled."""
    failed = np.flatnonzero(~(np.isfinite(pressure).all(axis=1) & (residual <= ACCEPTED_RESIDUAL)))
    if len(failed):
        k = failed[0]
        raise SolverError(
            f"the airflow network did not settle: network {k} of {len(residual)} has a flow correction of "
            f"{residual[k]:.1e} of its largest flow, {ACCEPTED_RESIDUAL:.0e} is accepted; check that every zone has a "
            "way out and every area is above zero"
        )
