"""EPANET 2.2 through wntr's toolkit: opened once a network, then initialised and run at every fan setting.

1 m of head stands for 1 Pa. Losses are general-purpose valves with a tabulated head loss. Fans are pumps with
a curve of more than three points, which EPANET reads as straight lines; a pump's setting is its relative speed.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from tests.bench.six_nodes import ENDS, FANS, LOSSES, OUTSIDE, ZONES, SixNodes

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # wntr's own, on packages it may use
    from wntr.epanet.toolkit import ENepanet

_NODES = (*ZONES, "outside")
_PIPES = tuple(f"loss{k}" for k in range(len(LOSSES)))
_PUMPS = tuple(f"fan{k}" for k in range(len(FANS)))
# Codes of the toolkit: a link's flow, its initial setting; initialise flows and do not save results.
_FLOW, _INITIAL_SETTING, _RESTART = 8, 5, 10
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


def input_text(network: SixNodes, points: int) -> str:
    """Return EPANET's input file of a network whose losses are tabulated at some points."""
    lines = ["[JUNCTIONS]", *(f"{zone} 0 0" for zone in ZONES), "[RESERVOIRS]", f"{_NODES[OUTSIDE]} 0", "[VALVES]"]
    ends = [f"{_NODES[i]} {_NODES[j]}" for i, j in ENDS]
    lines += [f"{name} {two} 100 GPV {name} 0" for name, two in zip(_PIPES, ends, strict=False)]
    lines += ["[PUMPS]"]
    lines += [f"{name} {two} HEAD {name} SPEED 1" for name, two in zip(_PUMPS, ends[len(_PIPES) :], strict=True)]
    lines += ["[CURVES]"]
    flow, loss = network.tables(points)
    for name, table in zip(_PIPES, loss, strict=True):
        lines += _curve(name, flow, table)
    for name, x, y in zip(_PUMPS, network.fan_flow, network.fan_pressure, strict=True):
        lines += _curve(name, x, y)
    return "\n".join(lines) + "\n" + _OPTIONS


def _curve(name: str, flow: np.ndarray, pressure: np.ndarray) -> Iterator[str]:
    return (f"{name} {q * 1e3:.17g} {p:.17g}" for q, p in zip(flow, pressure, strict=True))


class Toolkit:
    """One network, open in EPANET."""

    def __init__(self, network: SixNodes, points: int, folder: Path) -> None:
        files = [folder / f"network.{ending}" for ending in ("inp", "rpt", "bin")]
        files[0].write_text(input_text(network, points))
        self._epanet = ENepanet(version=2.2)
        self._epanet.ENopen(*map(str, files))
        self._epanet.ENopenH()
        self._pumps = [self._epanet.ENgetlinkindex(name) for name in _PUMPS]
        self._links = [self._epanet.ENgetlinkindex(name) for name in (*_PIPES, *_PUMPS)]

    def set_speeds(self, speeds: np.ndarray) -> None:
        """Set both fans' relative speeds."""
        for pump, speed in zip(self._pumps, speeds, strict=True):
            self._epanet.ENsetlinkvalue(pump, _INITIAL_SETTING, float(speed))

    def solve(self) -> None:
        """Solve from EPANET's own start."""
        self._epanet.ENinitH(_RESTART)
        self._epanet.ENrunH()

    def flows(self) -> np.ndarray:
        """Flow of every branch [m3/s]."""
        return np.array([self._epanet.ENgetlinkvalue(link, _FLOW) for link in self._links]) / 1e3

    def close(self) -> None:
        """Close the network."""
        self._epanet.ENcloseH()
        self._epanet.ENclose()


@contextmanager
def opened(network: SixNodes, points: int) -> Iterator[Toolkit]:
    """Open a network in EPANET and close it after use."""
    with TemporaryDirectory() as folder:
        toolkit = Toolkit(network, points, Path(folder))
        try:
            yield toolkit
        finally:
            toolkit.close()
