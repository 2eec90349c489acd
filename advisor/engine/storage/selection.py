"""The exact choice of parts that fill a need: fewest parts, then lowest price, then codes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Item:
    """A part that may be taken any number of times: the room it takes, what it gives, its price."""

    code: str
    room: int
    gain: int
    price: float

    @property
    def price_units(self) -> int:
        """Price in whole hundred-thousandths, so that sums compare exactly in whatever order they are made."""
        return round(self.price * 100_000)


@dataclass(frozen=True, slots=True, order=True)
class Pick:
    """Parts taken; picks compare by number of parts, then price, then sorted codes."""

    parts: int = 0
    price_units: int = 0
    codes: tuple[str, ...] = ()


def best_picks(items: Iterable[Item], room: int, enough: int | None = None) -> dict[tuple[int, int], Pick]:
    """Return the best pick for every (room taken, gain) that can be reached within some room.

    Parameters
    ----------
    items : iterable of Item
        Each takes at least 1 of the room.
    room : int
        Slots or bays to fill.
    enough : int, optional
        Gains above this count as this.

    Examples
    --------
    >>> best_picks([Item("A", 3, 5, 60.0), Item("B", 2, 3, 40.0)], 5)[(5, 8)].codes
    ('A', 'B')
    """
    best = {(0, 0): Pick()}
    for item in sorted(items, key=lambda one: one.code):
        # Rising room lets one item be taken several times; codes stay sorted since items come in their order.
        for taken in range(room - item.room + 1):
            for (used, gain), pick in [entry for entry in best.items() if entry[0][0] == taken]:
                more = gain + item.gain if enough is None else min(gain + item.gain, enough)
                after = Pick(pick.parts + 1, pick.price_units + item.price_units, (*pick.codes, item.code))
                key = (used + item.room, more)
                best[key] = min(best.get(key, after), after)
    return best
