"""What draws power in a build: the brief's figures, the chosen parts, and documented estimates for the rest.

Every figure may be a number or an array over candidates; arrays are combined by numpy's rules.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from advisor.engine.boards import default_board
from advisor.engine.errors import InputError
from advisor.engine.inputs import AirCooledPart, Board, Brief, Drive

Value = float | NDArray[np.float64]

# Estimates where a brief says nothing (common practice, no source).
MEMORY_W = {"mini_itx": 6.0, "micro_atx": 8.0, "atx": 10.0, "eatx": 20.0}  # about 3 W a module
DEFAULT_SSD_W = 5.0
DEFAULT_CARD_W = 10.0

# The share of a drive's power that it takes from 12 V, the rest from 5 V: motor and arm of a 3.5-inch drive run on
# 12 V (0.15 to 0.52 A at rest in drive manuals), a 2.5-inch drive has no 12 V at all.
DRIVE_12V_SHARE = {"3.5": 0.6, "2.5": 0.0}


@dataclass(frozen=True, slots=True)
class Loads:
    """What draws power in a build, in W at full load.

    ``graphics_w`` is one board, ``drive_idle_w`` and ``drive_seek_w`` one drive; all others are totals.
    """

    processor_w: Value
    graphics_w: Value
    graphics_count: Value
    board_w: Value
    memory_w: Value
    ssd_w: Value
    card_w: Value
    controller_w: Value
    drive_idle_w: Value
    drive_seek_w: Value
    drive_count: Value
    drive_12v_share: Value


def build_loads(
    brief: Brief,
    drive: Drive | None,
    drive_count: int,
    *,
    board: Board | None = None,
    ssd: AirCooledPart | None = None,
    card: AirCooledPart | None = None,
    controllers: tuple[AirCooledPart, ...] = (),
) -> Loads:
    """Collect what draws power in a build, with the documented estimates where no part is named.

    Parameters
    ----------
    brief : Brief
        Heat of processor and graphics boards [W], board form, numbers of solid-state drives and cards.
    drive : Drive or None
        The drive model; None where the build has no drives.
    drive_count : int
        How many drives, hot spares included.
    board, ssd, card : optional
        Named parts; otherwise ``boards.default_board``, ``DEFAULT_SSD_W`` and ``DEFAULT_CARD_W``.
    controllers : tuple of AirCooledPart
        Each storage controller once.

    Examples
    --------
    >>> brief = Brief(processor_watts=65.0, board_form="atx", noise_target_dba=30.0, drive_count=0, ssd_count=2)
    >>> loads = build_loads(brief, None, 0)
    >>> loads.board_w, loads.memory_w, loads.ssd_w
    (20.0, 10.0, 10.0)
    """
    if drive is None and drive_count:
        raise InputError(f"{drive_count} drives are counted but no drive model is named; name one or count 0")
    known_board = board or default_board(brief.board_form)
    return Loads(
        processor_w=brief.processor_watts,
        graphics_w=brief.graphics_watts,
        graphics_count=brief.graphics_count,
        board_w=known_board.heat_w,
        memory_w=MEMORY_W[known_board.form],
        ssd_w=brief.ssd_count * (ssd.heat_w if ssd else DEFAULT_SSD_W),
        card_w=brief.card_count * (card.heat_w if card else DEFAULT_CARD_W),
        controller_w=sum((part.heat_w for part in controllers), 0.0),
        drive_idle_w=drive.idle_w if drive else 0.0,
        drive_seek_w=drive.seek_w if drive else 0.0,
        drive_count=drive_count,
        drive_12v_share=DRIVE_12V_SHARE.get(drive.form, 1.0) if drive else 0.0,
    )
