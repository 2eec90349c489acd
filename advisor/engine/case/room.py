"""The room's air around a machine in each scenario."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.air import TEMPERATURE_RANGE_C, Air, air_at
from advisor.engine.constants import REFERENCE_TEMPERATURE_C
from advisor.engine.errors import InputError
from advisor.engine.inputs import Brief
from advisor.engine.scenarios import SCENARIO_TABLE

RELATIVE_HUMIDITY = 0.5
# Heat a place lets go to the room per kelvin that its air is warmer [W/K]; estimates, common practice, no source.
PLACE_CONDUCTANCE_W_K = {"open": np.inf, "under_desk": 100.0, "cupboard": 25.0}


@dataclass(frozen=True)
class Room:
    """Air at the machine's intakes per scenario, arrays (5,), and the ``Air`` records they come from."""

    temperature_c: np.ndarray
    density: np.ndarray
    viscosity_ratio: np.ndarray
    heat_capacity: np.ndarray
    air: tuple[Air, ...]


def room_air(brief: Brief, heat_w: np.ndarray) -> Room:
    """Return the air in each scenario; a place that holds heat back is warmer by heat / conductance.

    ``heat_w`` (5,) is the machine's heat per scenario, of a nominal build, so that all candidates share the air.
    """
    reference = air_at(REFERENCE_TEMPERATURE_C)
    rise = heat_w / PLACE_CONDUCTANCE_W_K[brief.placement]
    _check_warmth(brief, rise)
    base = [brief.hot_day_c if scenario.hot_room else brief.ambient_c for scenario in SCENARIO_TABLE]
    airs = tuple(air_at(t + dt, brief.altitude_m, RELATIVE_HUMIDITY) for t, dt in zip(base, rise, strict=True))
    return Room(
        np.array([a.temperature_c for a in airs], dtype=float),
        np.array([a.density for a in airs], dtype=float),
        np.array([a.viscosity / reference.viscosity for a in airs], dtype=float),
        np.array([a.heat_capacity for a in airs], dtype=float),
        airs,
    )


def _check_warmth(brief: Brief, rise: np.ndarray) -> None:
    """Refuse a place that would warm its own air beyond what the air's equations hold for."""
    hottest = max(brief.hot_day_c, brief.ambient_c) + float(rise.max())
    if hottest > TEMPERATURE_RANGE_C[1]:
        raise InputError(
            f"placement '{brief.placement}' would warm the machine's air to {hottest:.0f} °C; up to "
            f"{TEMPERATURE_RANGE_C[1]:g} °C can be computed: choose placement 'open', a cooler room or less heat"
        )
