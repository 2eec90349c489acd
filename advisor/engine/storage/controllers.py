"""Which storage controllers a number of drives needs beside the board's own ports."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.engine.inputs import AirCooledPart
from advisor.engine.storage.selection import Item, best_picks


def choose_controllers(
    ports_needed: int, board_ports: int, controllers: Sequence[AirCooledPart], slots_free: int
) -> tuple[AirCooledPart, ...] | None:
    """Return the fewest controllers (then the cheapest, then the first by code) that give the missing ports.

    Parameters
    ----------
    ports_needed, board_ports : int
        Ports for all drives, and those on the board.
    controllers : sequence of AirCooledPart
        Any of them may be taken several times; each takes ``slots`` card slots, at least 1.
    slots_free : int
        Card slots that nothing else takes.

    Returns
    -------
    tuple of AirCooledPart or None
        Empty where the board's ports are enough; None where the free slots cannot hold enough controllers.

    Examples
    --------
    >>> eight = AirCooledPart("K-8", "", 10.0, 1.0, 20.0, 95.0, price=80.0, ports=8)
    >>> [part.code for part in choose_controllers(14, 4, [eight], 2)]
    ['K-8', 'K-8']
    >>> choose_controllers(14, 4, [eight], 1) is None
    True
    """
    missing = max(ports_needed - board_ports, 0)
    by_code = {part.code: part for part in controllers}
    picks = best_picks(_items(controllers), max(slots_free, 0), enough=missing)
    enough = [pick for (_, gain), pick in picks.items() if gain >= missing]
    return tuple(by_code[code] for code in min(enough).codes) if enough else None


def most_ports(controllers: Sequence[AirCooledPart], slots_free: int) -> int:
    """Return the most ports that any controllers in the free slots give."""
    return max(gain for _, gain in best_picks(_items(controllers), max(slots_free, 0)))


def _items(controllers: Sequence[AirCooledPart]) -> list[Item]:
    return [Item(part.code, max(part.slots, 1), part.ports, part.price) for part in controllers if part.ports > 0]
