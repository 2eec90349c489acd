"""How much power each part of a build draws in each scenario; nearly all of it ends as heat where the part sits.

Every figure may be a number or an array over candidates, as in ``loads``.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.errors import InputError
from advisor.engine.power.loads import Loads, Value
from advisor.engine.scenarios import SCENARIO_TABLE, Scenario

PEAK_SCENARIO = "full_load"


@dataclass(frozen=True, slots=True)
class Draw:
    """Power [W] that each kind of part takes from the supply in a scenario; ``drives_w`` includes ``drives_12v_w``."""

    processor_w: Value
    graphics_w: Value
    board_w: Value
    memory_w: Value
    ssd_w: Value
    card_w: Value
    controller_w: Value
    drives_w: Value
    drives_12v_w: Value
    fans_w: Value

    @property
    def dc_w(self) -> Value:
        """Everything the supply delivers [W]."""
        return self._on_12v_alone + self.ssd_w + self.drives_w

    @property
    def twelve_volt_w(self) -> Value:
        """What the supply delivers at 12 V [W]: all but solid-state drives and the 5 V share of drives."""
        return self._on_12v_alone + self.drives_12v_w

    @property
    def _on_12v_alone(self) -> Value:
        steady = self.board_w + self.memory_w + self.card_w + self.controller_w
        return self.processor_w + self.graphics_w + steady + self.fans_w


def drive_watts(idle_w: Value, seek_w: Value, seeking: float) -> Value:
    """Return the mean power [W] of a drive that seeks for a share of the time.

    Parameters
    ----------
    idle_w, seek_w : float or ndarray
        Power spinning without and with seeking [W].
    seeking : float
        Share of the time, 0 to 1.

    Examples
    --------
    >>> drive_watts(5.0, 8.0, 0.5)
    6.5
    """
    return idle_w + seeking * (seek_w - idle_w)


def fan_watts(power_w: Value, speed_rpm: Value, max_rpm: Value) -> Value:
    """Return the power [W] of a fan below full speed, by the cube law; 0 for a cooler without a fan.

    Parameters
    ----------
    power_w : float or ndarray
        At full speed [W].
    speed_rpm, max_rpm : float or ndarray
        Speed and full speed [rpm]; speed from 0 to full.

    References
    ----------
    Fan laws, P ~ N^3 at equal density and system, as in AMCA 201 and the ASHRAE Handbook.

    Examples
    --------
    >>> round(float(fan_watts(6.0, 1500.0, 2000.0)), 5)
    2.53125
    """
    speed, full = np.asarray(speed_rpm, dtype=float), np.asarray(max_rpm, dtype=float)
    share = np.divide(speed, full, out=np.zeros(np.broadcast(speed, full).shape), where=full > 0)
    # A millionth above full is rounding of the grid of speeds, not an overspeed.
    if np.any(share > 1.0 + 1e-6) or np.any(share < 0.0):
        raise InputError(
            f"fan speed {np.max(speed):g} rpm is outside 0 to {np.max(full):g} rpm; choose a speed the fan can run at"
        )
    return power_w * share**3


def draw(loads: Loads, scenario: Scenario, fans_w: Value = 0.0) -> Draw:
    """Return what each part draws in a scenario.

    Parameters
    ----------
    loads : Loads
        From ``build_loads``.
    scenario : Scenario
        Shares of full load; board, memory, solid-state drives, cards and controllers draw the same in all.
    fans_w : float or ndarray
        All case fans and the cooler's fan at their speeds [W], see ``fan_watts``.

    Examples
    --------
    >>> loads = Loads(100.0, 200.0, 1, 20.0, 10.0, 5.0, 0.0, 0.0, 5.0, 8.0, 4, 0.6)
    >>> idle = draw(loads, SCENARIO_TABLE[0], fans_w=3.0)
    >>> round(idle.dc_w, 3), round(idle.twelve_volt_w, 3)
    (84.0, 71.0)
    """
    drives_w = loads.drive_count * drive_watts(loads.drive_idle_w, loads.drive_seek_w, scenario.seeking)
    return Draw(
        processor_w=loads.processor_w * scenario.processor_share,
        graphics_w=loads.graphics_w * loads.graphics_count * scenario.graphics_share,
        board_w=loads.board_w,
        memory_w=loads.memory_w,
        ssd_w=loads.ssd_w,
        card_w=loads.card_w,
        controller_w=loads.controller_w,
        drives_w=drives_w,
        drives_12v_w=drives_w * loads.drive_12v_share,
        fans_w=fans_w,
    )


def peak_draw(loads: Loads, fans_full_w: Value) -> Draw:
    """Return what each part draws in full load with every fan at full speed: what the supply has to carry.

    >>> loads = Loads(100.0, 0.0, 0, 20.0, 10.0, 5.0, 0.0, 0.0, 5.0, 8.0, 4, 0.6)
    >>> peak_draw(loads, fans_full_w=6.0).dc_w
    173.0
    """
    full_load = next(scenario for scenario in SCENARIO_TABLE if scenario.code == PEAK_SCENARIO)
    return draw(loads, full_load, fans_full_w)
