"""Heat through an enclosure's outer panels: from what they are made of and how they stand to a conductance."""

from __future__ import annotations

from advisor.engine.air import Air
from advisor.engine.constants import GRAVITY_M_S2, ZERO_CELSIUS_K
from advisor.engine.errors import InputError
from advisor.engine.thermal.convection import free_film, radiation_film

# McAdams 1954: average Nusselt numbers of a level plate that is warmer than the air around it.
_UPWARD_LAMINAR, _UPWARD_TURBULENT, _DOWNWARD = 0.54, 0.15, 0.27
_HIGHEST_RAYLEIGH = 1e10

_FACING = ("sideways", "upward", "downward")


def plate_film(rise_k: float, length_m: float, facing: str, temperature_c: float, air: Air) -> float:
    """Return the film coefficient [W/(m2 K)] of free convection on a plate that is warmer than the air.

    Parameters
    ----------
    rise_k : plate over air [K], 0 or more
    length_m : height of an upright plate; area over perimeter of a level one [m]
    facing : ``sideways``, ``upward`` or ``downward``
    temperature_c, air : of the air [degC] and its properties

    Notes
    -----
    Sideways Churchill & Chu 1975 (``free_film``). Facing up the larger of ``Nu = 0.54 Ra^(1/4)`` and
    ``0.15 Ra^(1/3)``, facing down ``0.27 Ra^(1/4)``, Ra to 1e10 (McAdams 1954, in Incropera & DeWitt, chapter 9).

    >>> from advisor.engine.air import air_at
    >>> [round(plate_film(5.0, 0.1, facing, 25.0, air_at(25.0)), 2) for facing in ("sideways", "upward", "downward")]
    [3.58, 3.72, 1.86]
    """
    if facing == "sideways":
        properties = (air.density, air.viscosity, air.conductivity, air.prandtl)
        return float(free_film(rise_k, length_m, temperature_c, *properties))
    if facing not in _FACING:
        raise InputError(f"a plate faces {facing!r}; use one of {', '.join(_FACING)}")
    kinematic = air.viscosity / air.density
    expansion = 1.0 / (temperature_c + ZERO_CELSIUS_K)
    rayleigh = GRAVITY_M_S2 * expansion * rise_k * length_m**3 * air.prandtl / kinematic**2
    if rayleigh > _HIGHEST_RAYLEIGH:
        raise InputError(f"a plate {length_m:g} m long has Rayleigh number {rayleigh:.2g}; at most 1e10")
    laminar, turbulent = rayleigh**0.25, rayleigh ** (1.0 / 3.0)
    upward = max(_UPWARD_LAMINAR * laminar, _UPWARD_TURBULENT * turbulent)
    return float((upward if facing == "upward" else _DOWNWARD * laminar) * air.conductivity / length_m)


def wall_transmittance(inner_film: float, layers_m2k_w: tuple[float, ...], outer_film: float) -> float:
    """Return the conductance [W/(m2 K)] of a panel from the air inside to the room.

    Parameters
    ----------
    inner_film, outer_film : film coefficients on both sides [W/(m2 K)], above 0
    layers_m2k_w : thickness over conductivity of each layer [m2 K/W]

    Notes
    -----
    ``U = 1/(1/h_i + sum t/k + 1/h_o)``: resistances in series (Incropera & DeWitt, chapter 3).

    >>> round(wall_transmittance(4.0, (0.0008 / 50,), 8.0), 3)
    2.667
    """
    return 1.0 / (1.0 / inner_film + sum(layers_m2k_w) + 1.0 / outer_film)


def outer_film(rise_k: float, length_m: float, facing: str, temperature_c: float, air: Air, emissivity: float) -> float:
    """Return the film coefficient [W/(m2 K)] outside: free convection and radiation to the room.

    Arguments as in ``plate_film``; ``emissivity`` [-] of the outer face. The room's walls are at air temperature.

    >>> from advisor.engine.air import air_at
    >>> round(outer_film(5.0, 0.4, "sideways", 25.0, air_at(25.0), 0.9), 2)
    8.37
    """
    return plate_film(rise_k, length_m, facing, temperature_c, air) + radiation_film(
        temperature_c + rise_k / 2.0, emissivity, 1.0
    )
