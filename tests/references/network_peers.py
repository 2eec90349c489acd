"""Random isothermal networks, and two solvers from outside for them: EPANET 2.2 and scipy's root finder.

EPANET is told 1 m of head for 1 Pa and a flow in litres a second. Losses are general-purpose valves with a tabulated
head loss, fans are pumps with a curve of more than three points, which it reads as straight lines; a pump's setting is
its relative speed. A pump can't run backwards, so that networks with a fan that is pushed back are for scipy alone.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.optimize import root

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # wntr's own, on packages it may use
    from wntr.epanet.toolkit import ENepanet

TABLE_END_M3S = 0.06
_LITRES = 1e3
_OPTIONS = """[OPTIONS]
UNITS LPS
HEADLOSS H-W
ACCURACY 1e-8
HEADERROR 1e-9
FLOWCHANGE 1e-12
TRIALS 200
[TIMES]
DURATION 0
[REPORT]
STATUS NO
SUMMARY NO
[END]
"""


@dataclass(frozen=True)
class Peer:
    """A network of level, isothermal zones; zone ``zones`` is outside.

    ``ends`` (nb, 2); losses ``alpha``, ``beta`` (nb,) of passive branches; ``fans`` are the points (flow, pressure) of
    the last branches, which run at ``speeds`` times their curves'.
    """

    zones: int
    ends: np.ndarray
    alpha: np.ndarray
    beta: np.ndarray
    fans: tuple[tuple[np.ndarray, np.ndarray], ...]
    speeds: np.ndarray

    @property
    def passive(self) -> int:
        """How many branches have no fan."""
        return len(self.ends) - len(self.fans)

    def table(self, b: int, points: int) -> tuple[np.ndarray, np.ndarray]:
        """Flows and losses of a passive branch in a table."""
        flow = np.linspace(0.0, TABLE_END_M3S, points)
        return flow, self.alpha[b] * flow + self.beta[b] * flow**2


def random_peer(rng: np.random.Generator) -> Peer:
    """Draw a network: 3 to 7 zones, a tree of ways that reaches all, 3 to 8 more, filters, 1 to 3 fans."""
    zones = int(rng.integers(3, 8))
    order = rng.permutation(zones + 1)
    ends = [(order[k], order[rng.integers(0, k)]) for k in range(1, zones + 1)]
    ends += [tuple(rng.choice(zones + 1, 2, replace=False)) for _ in range(rng.integers(3, 9))]
    rng.shuffle(ends)
    count, nb = int(rng.integers(1, 4)), len(ends)
    filters = 10 ** rng.uniform(1.0, 2.5, nb) * (rng.random(nb) < 0.4)
    share = np.linspace(0.0, 1.0, 8)
    fans = tuple(
        (rng.uniform(0.01, 0.05) * share, rng.uniform(8.0, 40.0) * (1.0 - share ** rng.uniform(0.8, 2.0)))
        for _ in range(count)
    )
    return Peer(zones, np.array(ends), filters, 10 ** rng.uniform(3.0, 5.5, nb), fans, rng.uniform(0.4, 1.2, count))


def epanet_flows(peer: Peer, points: int, folder: Path) -> np.ndarray | None:
    """Flow of every branch [m3/s] from EPANET in double precision, or None where it warns that it has not converged."""
    files = [folder / f"network.{ending}" for ending in ("inp", "rpt", "bin")]
    files[0].write_text("\n".join(_input_lines(peer, points)) + "\n" + _OPTIONS)
    epanet = ENepanet(version=2.2)
    epanet.ENopen(*map(str, files))
    epanet.ENopenH()
    epanet.ENinitH(10)
    epanet.ENrunH()
    links = [epanet.ENgetlinkindex(f"link{b}") for b in range(len(peer.ends))]
    flows = np.array([epanet.ENgetlinkvalue(link, 8) for link in links]) / _LITRES
    epanet.ENcloseH()
    epanet.ENclose()
    return None if epanet.Warnflag else flows


def _input_lines(peer: Peer, points: int) -> Iterator[str]:
    yield "[JUNCTIONS]"
    yield from (f"zone{z} 0 0" for z in range(peer.zones))
    yield f"[RESERVOIRS]\nzone{peer.zones} 0\n[VALVES]"
    ways = [f"link{b} zone{i} zone{j}" for b, (i, j) in enumerate(peer.ends)]
    yield from (f"{way} 100 GPV curve{b} 0" for b, way in enumerate(ways[: peer.passive]))
    yield "[PUMPS]"
    fans = enumerate(zip(ways[peer.passive :], peer.speeds, strict=True), start=peer.passive)
    yield from (f"{way} HEAD curve{b} SPEED {float(speed)!r}" for b, (way, speed) in fans)
    yield "[CURVES]"
    curves = [peer.table(b, points) for b in range(peer.passive)] + list(peer.fans)
    for b, (flow, pressure) in enumerate(curves):
        yield from (f"curve{b} {float(q * _LITRES)!r} {float(p)!r}" for q, p in zip(flow, pressure, strict=True))


def scipy_flows(peer: Peer) -> np.ndarray:
    """Flow of every branch [m3/s] from scipy's Levenberg-Marquardt root, flows and pressures together, smooth laws."""
    nb, passive = len(peer.ends), peer.passive
    incidence = np.zeros((peer.zones + 1, nb))
    incidence[peer.ends[:, 0], np.arange(nb)] -= 1.0
    incidence[peer.ends[:, 1], np.arange(nb)] += 1.0
    incidence = incidence[: peer.zones]
    curves = [_extended(*points) for points in peer.fans]

    def left_over(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        q, p = x[:nb] / _LITRES, x[nb:]
        gain, slope = -(peer.alpha + peer.beta * np.abs(q)) * q, -(peer.alpha + 2 * peer.beta * np.abs(q))
        for b, (curve, w) in enumerate(zip(curves, peer.speeds, strict=True), start=passive):
            rise, fall = curve(q[b] / w)
            gain[b], slope[b] = w**2 * rise, w * fall
        jacobian = np.block([[np.diag(slope) / _LITRES, -incidence.T], [incidence, np.zeros((peer.zones,) * 2)]])
        return np.concatenate([gain - incidence.T @ p, incidence @ x[:nb]]), jacobian

    start = np.concatenate([np.full(nb, 3.0), np.zeros(peer.zones)])
    for method in ("lm", "hybr"):
        found = root(left_over, start, jac=True, method=method, tol=1e-14)
        # scipy may report failure at the last digit: the residual decides
        if np.abs(found.fun).max() < 1e-9:
            return found.x[:nb] / _LITRES
    raise AssertionError(f"scipy leaves {np.abs(found.fun).max():.1e} Pa or l/s")


def _extended(flow: np.ndarray, pressure: np.ndarray) -> Callable[[float], tuple[float, float]]:
    """A fan's pressure and slope: scipy's monotone cubic, which goes on quadratically with its end slopes."""
    spline = PchipInterpolator(flow, pressure)
    fall = spline.derivative()
    loss = max(-fall(flow[-1]) / (2 * flow[-1]), 1e-6 * pressure[0] / flow[-1] ** 2)

    def curve(q: float) -> tuple[float, float]:
        inside = min(max(q, 0.0), flow[-1])
        beyond = q - inside
        slope = float(fall(inside))
        return float(spline(inside)) + slope * beyond - loss * beyond * abs(beyond), slope - 2 * loss * abs(beyond)

    return curve
