"""The measurements by name: which function takes each, and what is asked of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module

from tests.bench.results import Result


@dataclass(frozen=True)
class Target:
    """A bound on the value of a measurement."""

    bound: float
    at_least: bool

    def met(self, value: float) -> bool:
        """Whether a value is on the right side of the bound."""
        return value >= self.bound if self.at_least else value <= self.bound

    def __str__(self) -> str:
        return f"{'>=' if self.at_least else '<='} {self.bound:g}"


@dataclass(frozen=True)
class Measurement:
    """Where a measurement is taken, and its target if it has one."""

    module: str
    function: str
    target: Target | None = None

    def take(self) -> Result:
        """Measure, in this process."""
        measure: Callable[[], Result] = getattr(import_module(f"tests.bench.{self.module}"), self.function)
        return measure()


MEASUREMENTS = {
    "networks_vs_epanet_toolkit": Measurement("networks", "networks_vs_epanet_toolkit", Target(10, True)),
    "networks_vs_scipy_root": Measurement("networks", "networks_vs_scipy_root", Target(300, True)),
    "networks_per_second_per_core": Measurement("networks", "networks_per_second_per_core"),
    "million_candidates": Measurement("million", "million_candidates", Target(20, False)),
    "candidates_growth": Measurement("growth", "candidates_growth", Target(1.05, False)),
    "sample_brief": Measurement("sample", "sample_brief", Target(3, False)),
}
