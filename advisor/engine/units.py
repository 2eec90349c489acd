"""Units people read on data sheets, turned into the SI units of the engine and back: the only converter.

A unit is named as a person writes it (``"mm"``, ``"m3/h"``, ``"bel"``). Values may be numbers or arrays. What is
divided going in is multiplied going out, since 120 mm / 1000 is the closest number to 0.12 and 120 * 0.001 need not be.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from advisor.engine.constants import ZERO_CELSIUS_K
from advisor.engine.errors import InputError

Number = TypeVar("Number", float, np.ndarray)


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit for people: ``value = SI value * per_si + offset``; ``si`` names the engine's unit."""

    si: str
    per_si: float
    offset: float = 0.0


UNITS = {
    "mm": Unit("m", 1000.0),
    "cm2": Unit("m2", 10_000.0),
    "m3/h": Unit("m3/s", 3600.0),
    "l/s": Unit("m3/s", 1000.0),
    "cfm": Unit("m3/s", 60.0 / 0.3048**3),  # cubic feet a minute; the foot is 0.3048 m exactly
    "bel": Unit("dB", 0.1),
    "min": Unit("s", 1.0 / 60.0),
    "h": Unit("s", 1.0 / 3600.0),
    "kWh": Unit("J", 1.0 / 3.6e6),
    "degC": Unit("K", 1.0, -ZERO_CELSIUS_K),
    "%": Unit("1", 100.0),
}


def unit(name: str) -> Unit:
    """Return what is known about a unit.

    >>> unit("cm2").si
    'm2'
    """
    try:
        return UNITS[name]
    except KeyError:
        raise InputError(f"unit '{name}' is not known; use one of {', '.join(UNITS)}") from None


def to_si(value: Number, name: str) -> Number:
    """Turn a value as people write it into the engine's unit.

    Parameters
    ----------
    value : float or ndarray
        In the unit ``name``.
    name : str
        One of ``UNITS``.

    Returns
    -------
    float or ndarray
        In ``UNITS[name].si``.

    References
    ----------
    BIPM, The International System of Units, 9th edition (2019); foot: NIST Special Publication 811, app. B.

    Examples
    --------
    >>> to_si(120.0, "mm"), to_si(90.0, "m3/h"), to_si(2.6, "bel"), to_si(21.0, "degC")
    (0.12, 0.025, 26.0, 294.15)
    """
    known = unit(name)
    return (value - known.offset) / known.per_si


def from_si(value: Number, name: str) -> Number:
    """Turn a value in the engine's unit into the one people read; the inverse of ``to_si``.

    Parameters
    ----------
    value : float or ndarray
        In ``UNITS[name].si``.
    name : str
        One of ``UNITS``.

    Returns
    -------
    float or ndarray
        In the unit ``name``.

    Examples
    --------
    >>> from_si(0.12, "mm"), from_si(0.025, "m3/h"), from_si(294.15, "degC")
    (120.0, 90.0, 21.0)
    """
    known = unit(name)
    return value * known.per_si + known.offset


def difference_to_si(value: Number, name: str) -> Number:
    """Turn a difference or a standard uncertainty into the engine's unit: as ``to_si``, without any offset.

    >>> difference_to_si(2.0, "degC"), difference_to_si(5.0, "mm")
    (2.0, 0.005)
    """
    return value / unit(name).per_si
