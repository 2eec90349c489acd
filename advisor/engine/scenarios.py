"""The five scenarios in which every candidate is judged."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Scenario:
    """Loads as shares of full heat; ``seeking`` is the share of time the drives seek (0 idle, 1 always)."""

    code: str
    processor_share: float
    graphics_share: float
    seeking: float
    hot_room: bool
    half_clogged: bool


SCENARIO_TABLE = (
    Scenario("idle", 0.10, 0.08, 0.0, hot_room=False, half_clogged=False),
    Scenario("working", 0.60, 0.50, 0.5, hot_room=False, half_clogged=False),
    Scenario("full_load", 1.00, 1.00, 1.0, hot_room=False, half_clogged=False),
    Scenario("hot_day", 1.00, 1.00, 1.0, hot_room=True, half_clogged=True),
    Scenario("rebuild", 0.20, 0.08, 1.0, hot_room=False, half_clogged=True),
)
