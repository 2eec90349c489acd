"""The grid of fan speeds: steps of a speed group."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.engine.inputs import Cooler, Fan

STEPS = 9  # from slowest stable to full, of a group on temperature control


@dataclass(frozen=True)
class Steps:
    """Speeds (steps, fans) [rpm] of one group, slowest first; ``manual`` groups keep one step in all scenarios."""

    rpm: np.ndarray
    manual: bool

    def __len__(self) -> int:
        return len(self.rpm)


def group_steps(fans: tuple[Fan | Cooler, ...]) -> Steps:
    """Return the steps of fans that run as one group.

    On temperature control: 9 steps from slowest stable to full, and off where every fan may stop. Where any fan has a
    switch, the group has that fan's steps; its companions on temperature control take as many evenly spaced speeds.
    """
    fans = tuple(fan for fan in fans if fan.max_rpm > 0)
    if not fans:
        return Steps(np.zeros((1, 0)), manual=False)
    switches = [len(fan.steps_rpm) for fan in fans if fan.control == "switch"]
    count = max(switches) if switches else STEPS
    rpm = np.stack([_speeds(fan, count) for fan in fans], axis=1)
    if all(getattr(fan, "may_stop", False) for fan in fans):
        rpm = np.vstack([np.zeros((1, len(fans))), rpm])
    return Steps(rpm, manual=bool(switches))


def _speeds(fan: Fan | Cooler, count: int) -> np.ndarray:
    if fan.control == "switch":
        own = np.array(fan.steps_rpm, dtype=float)
        return own[np.round(np.linspace(0, len(own) - 1, count)).astype(int)]
    return np.linspace(fan.min_rpm, fan.max_rpm, count)
