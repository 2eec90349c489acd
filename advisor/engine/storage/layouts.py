"""Layouts of drives: how much they hold, how many drives they need, how many failures they survive."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.engine.errors import InputError
from advisor.engine.inputs import Brief, Drive

# More drives than this in one machine is refused as absurd.
MOST_DRIVES = 200
# A usable capacity missed by less than this share is rounding of the figures, not a missing drive.
CAPACITY_TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class Layout:
    """A way to spread data over drives, hot spares apart.

    ``parity`` drives' worth of space goes to redundancy; ``copies`` of everything are kept (0: one on every drive).
    """

    code: str
    min_drives: int
    parity: int = 0
    copies: int = 1
    multiple: int = 1

    @property
    def redundant(self) -> bool:
        """Whether any failure is survived."""
        return self.parity > 0 or self.copies != 1


LAYOUTS = {
    layout.code: layout
    for layout in (
        Layout("none", min_drives=0),
        Layout("stripe", min_drives=2),
        Layout("mirror", min_drives=2, copies=0),
        Layout("stripe_of_mirrors", min_drives=4, copies=2, multiple=2),
        Layout("single_parity", min_drives=3, parity=1),
        Layout("double_parity", min_drives=4, parity=2),
        Layout("triple_parity", min_drives=5, parity=3),
    )
}


def layout(code: str) -> Layout:
    """Return what is known about a layout.

    >>> layout("double_parity").min_drives
    4
    """
    try:
        return LAYOUTS[code]
    except KeyError:
        raise InputError(f"layout '{code}' is not known; use one of {', '.join(LAYOUTS)}") from None


def why_not(code: str, drives: int, hot_spares: int = 0) -> str:
    """Say in a sentence why so many drives cannot form a layout, or return an empty string where they can.

    >>> why_not("double_parity", 10, 1)
    ''
    >>> why_not("stripe_of_mirrors", 6, 1)
    'stripe_of_mirrors needs a multiple of 2 drives besides the hot spares, at least 4; 6 with 1 hot spares leave 5'
    """
    known, members = layout(code), drives - hot_spares
    if hot_spares and not known.redundant:
        return f"a hot spare has nothing to rebuild in the layout {code}; set hot_spares to 0 or choose another layout"
    if members >= known.min_drives and members % known.multiple == 0:
        return ""
    step = (
        f"a multiple of {known.multiple} drives besides the hot spares, at least" if known.multiple > 1 else "at least"
    )
    spares = f" with {hot_spares} hot spares leave {members}" if hot_spares else " are given"
    return f"{code} needs {step} {known.min_drives}; {drives}{spares}"


def _members(known: Layout, drives: int, hot_spares: int) -> int:
    problem = why_not(known.code, drives, hot_spares)
    if problem:
        raise InputError(problem)
    return drives - hot_spares


def usable_capacity_tb(code: str, drives: int, capacity_tb: float, hot_spares: int = 0) -> float:
    """Return the usable capacity [TB, 1e12 bytes] of equal drives, before any file system.

    Parameters
    ----------
    code : str
        One of ``LAYOUTS``.
    drives : int
        All drives, hot spares included.
    capacity_tb : float
        Of one drive [TB].
    hot_spares : int
        Drives that wait.

    Examples
    --------
    >>> usable_capacity_tb("double_parity", 10, 8.0), usable_capacity_tb("mirror", 2, 8.0)
    (64.0, 8.0)
    """
    known = layout(code)
    members = _members(known, drives, hot_spares)
    data = (members - known.parity) / (known.copies or members or 1)
    return data * capacity_tb


def drives_needed(code: str, usable_tb: float, capacity_tb: float, hot_spares: int = 0) -> int | None:
    """Return the fewest drives, hot spares included, that hold a usable capacity; None where none do.

    A mirror holds one drive's worth however many drives it has. More than ``MOST_DRIVES`` drives counts as none.

    Parameters
    ----------
    code : str
        One of ``LAYOUTS``.
    usable_tb, capacity_tb : float
        Wanted, and of one drive [TB], both above 0.
    hot_spares : int

    Examples
    --------
    >>> drives_needed("double_parity", 64.0, 8.0, hot_spares=1)
    11
    >>> drives_needed("mirror", 12.0, 8.0) is None
    True
    """
    known = layout(code)
    if usable_tb <= 0.0 or capacity_tb <= 0.0:
        raise InputError(f"capacities of {usable_tb:g} and {capacity_tb:g} TB cannot be met; both must be above 0")
    worth = usable_tb / capacity_tb * (1.0 - CAPACITY_TOLERANCE)
    if known.copies == 0 and worth > 1.0 or worth > MOST_DRIVES:
        return None
    members = known.min_drives if known.copies == 0 else math.ceil(worth) * known.copies + known.parity
    total = max(members, known.min_drives) + hot_spares
    return total if total <= MOST_DRIVES else None


def drives_for(brief: Brief, drive: Drive) -> int | None:
    """Return how many drives of a model a brief asks for; None where its usable capacity cannot be met with them.

    >>> brief = Brief(processor_watts=65.0, board_form="atx", noise_target_dba=30.0, drive_count=4)
    >>> drive = Drive("D", "", "3.5", 8.0, 5.0, 8.0, 2.0, 10.0, 26.0, 29.0, 60.0, 0.01, 1e-15, 8, 200.0, 0.04)
    >>> drives_for(brief, drive)
    4
    """
    if brief.drive_count is not None:
        return brief.drive_count
    if brief.usable_capacity_tb is None:
        raise InputError("the brief names neither drive_count nor usable_capacity_tb; give one of them")
    return drives_needed(brief.layout, brief.usable_capacity_tb, drive.capacity_tb, brief.hot_spares)


def efficiency(code: str, drives: int, hot_spares: int = 0) -> float:
    """Return the usable share of the raw capacity of all drives, hot spares included; 0 without drives.

    >>> efficiency("double_parity", 10)
    0.8
    """
    return usable_capacity_tb(code, drives, 1.0, hot_spares) / drives if drives else 0.0


def failures_tolerated(code: str, drives: int, hot_spares: int = 0) -> int:
    """Return how many drives may fail at once, whichever they are, without loss of data.

    A stripe of mirrors may survive more, but two failures can already meet in one pair.

    >>> failures_tolerated("triple_parity", 11), failures_tolerated("stripe_of_mirrors", 8)
    (3, 1)
    """
    known = layout(code)
    members = _members(known, drives, hot_spares)
    return known.parity or (members if known.copies == 0 else known.copies) - 1
