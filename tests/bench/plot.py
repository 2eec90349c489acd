"""The results as a picture: networks against peers, candidates against time, the sample brief."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from tests.bench.listing import MEASUREMENTS

OWN, PEER, TARGET = "#2a6f97", "#b0b7bd", "#b5442e"

Details = Mapping[str, Mapping[str, Any]]


def plot(entries: Iterable[Mapping[str, Any]], file: Path) -> None:
    """Draw what the results have of each panel."""
    found = {entry["name"]: entry["detail"] for entry in entries}
    figure = Figure(figsize=(11, 8), layout="constrained")
    FigureCanvasAgg(figure)
    panels: list[tuple[str, Callable[[Axes, Details], None]]] = [
        ("networks_vs_epanet_toolkit", _networks),
        ("million_candidates", _million),
        ("candidates_growth", _growth),
        ("sample_brief", _sample),
    ]
    for axes, (name, draw) in zip(figure.subplots(2, 2).flat, panels, strict=True):
        if name in found:
            draw(axes, found)
        else:
            axes.set_axis_off()
            axes.text(0.5, 0.5, f"{name}: not measured", ha="center", va="center")
    figure.savefig(file, dpi=110)


def _networks(axes: Axes, found: Details) -> None:
    bars = []
    for points in ("501_points", "51_points"):
        pair = found["networks_vs_epanet_toolkit"][points]
        bars += [
            (f"EPANET, {points[:-7]} points", pair["peer_us"], PEER),
            (f"ours, {points[:-7]} points", pair["own_us"], OWN),
        ]
    for method in ("hybr", "lm"):
        if method in found.get("networks_vs_scipy_root", {}):
            bars.append((f"scipy root, {method}", found["networks_vs_scipy_root"][method]["peer_us"], PEER))
    if "networks_vs_scipy_root" in found:
        bars.append(("ours, smooth law", found["networks_vs_scipy_root"]["lm"]["own_us"], OWN))
    if "networks_per_second_per_core" in found:
        coupled = 1e6 / found["networks_per_second_per_core"]["coupled_per_second"]
        bars.append(("ours, coupled with heat", coupled, OWN))
    _bars(axes, bars, "One six-node network [µs], one core")
    axes.set_xscale("log")


def _million(axes: Axes, found: Details) -> None:
    detail = found["million_candidates"]
    every, pruned = detail["every_one_judged"], detail["with_pruning"]
    bars = [("every one judged", every["seconds"], OWN), ("with pruning", pruned["seconds"], OWN)]
    _bars(axes, bars, f"{every['judged']:,} candidates [s], two cores")
    _target(axes.axvline, "million_candidates")


def _growth(axes: Axes, found: Details) -> None:
    detail = found["candidates_growth"]
    axes.loglog(detail["judged"], detail["seconds"], "o-", color=OWN, label="every one judged")
    axes.loglog(detail["judged"], detail["with_pruning"]["seconds"], "s--", color=OWN, alpha=0.5, label="with pruning")
    axes.set(title="Time against number of candidates [s]", xlabel="candidates")
    axes.legend(frameon=False)


def _sample(axes: Axes, found: Details) -> None:
    detail = found["sample_brief"]
    runs = sorted(detail["runs_s"])
    bars = [("whole process", runs[len(runs) // 2], OWN), ("after imports", detail["after_imports_s"], OWN)]
    _bars(axes, bars, "Sample brief, fresh process [s]")
    _target(axes.axvline, "sample_brief")


def _target(line: Callable[..., object], name: str) -> None:
    target = MEASUREMENTS[name].target
    if target is not None:
        line(target.bound, color=TARGET, linestyle=":")


def _bars(axes: Axes, bars: list[tuple[str, float, str]], title: str) -> None:
    names, values, colours = zip(*reversed(bars), strict=True)
    axes.barh(names, values, color=colours)
    for k, value in enumerate(values):
        axes.text(value, k, f" {value:.3g}", va="center")
    axes.set_title(title)
    axes.margins(x=0.15)
