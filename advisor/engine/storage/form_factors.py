"""Sizes of drives and bays, and how many drives geometry lets into a stack of bays."""

from __future__ import annotations

import math

from advisor.engine.errors import InputError
from advisor.engine.inputs import Adapter

# Width, height, length [m]: SFF-8301 table 3-1 (3.5-inch, 26.1 mm high), SFF-8201 (2.5-inch, 7 mm high).
DRIVE_SIZE_M = {"3.5": (0.10160, 0.02610, 0.14700), "2.5": (0.06985, 0.00700, 0.10045)}
# Width and height of one bay [m]; 5.25-inch half height: SFF-8551, stacked 1 5/8 inch apart.
BAY_SIZE_M = {"5.25": (0.14605, 0.04128), "3.5": (0.10160, 0.02610), "2.5": (0.06985, 0.00700)}
BAY_FORMS = tuple(BAY_SIZE_M)

_ROUNDING_M = 1e-9


def most_drives(drive_form: str, bay_form: str, bays: int) -> int:
    """Return how many drives fit side by side into bays stacked one on the other, lying flat or all on edge.

    Parameters
    ----------
    drive_form, bay_form : str
        Keys of ``DRIVE_SIZE_M`` and ``BAY_SIZE_M``.
    bays : int
        Bays stacked, without walls between them.

    References
    ----------
    SFF-8301, SFF-8201, SFF-8551.

    Examples
    --------
    >>> most_drives("3.5", "5.25", 3), most_drives("3.5", "5.25", 2)
    (5, 3)
    """
    width, height, _ = DRIVE_SIZE_M[drive_form]
    bay_width, bay_height = BAY_SIZE_M[bay_form]
    flat = _times(bay_width, width) * _times(bays * bay_height, height)
    on_edge = _times(bay_width, height) * _times(bays * bay_height, width)
    return max(flat, on_edge)


def _times(room_m: float, size_m: float) -> int:
    return math.floor((room_m + _ROUNDING_M) / size_m)


def check_adapter(adapter: Adapter) -> None:
    """Refuse an adapter that claims more drives than geometry lets into its bays."""
    most = most_drives(adapter.to_form, adapter.from_form, adapter.bays)
    if not 1 <= adapter.drives <= most:
        raise InputError(
            f"adapter '{adapter.code}' claims {adapter.drives} drives of {adapter.to_form} inch in {adapter.bays} bays "
            f"of {adapter.from_form} inch; 1 to {most} fit: correct its bays or drives"
        )
