"""Heat from a surface to the air that passes it: plates, drives, and parts that want moving air.

Plain numbers in, plain numbers out, compiled, so that Python and other compiled kernels call the same functions.
Arguments aren't checked here: the catalogue's constraints keep every part inside the ranges of METHODS.md,
'Convection'. A velocity is a magnitude; its sign doesn't matter.
"""

from __future__ import annotations

from numba import njit

from advisor.engine.constants import GRAVITY_M_S2, STEFAN_BOLTZMANN, ZERO_CELSIUS_K

# Average Nusselt number of a flat plate (Incropera; Cengel): laminar, and with the boundary layer tripping at Re 5e5.
_TRANSITION_REYNOLDS = 5e5
_LAMINAR = 0.664
_TURBULENT = 0.037
_LAMINAR_PART = 871.0

# Still air cools an air-cooled part like this share of the air speed that it asks for (documented estimate).
STILL_AIR_SHARE = 0.3
_STEPS = 100
_TOLERANCE = 1e-13


@njit(cache=True, nogil=True)
def forced_film(
    velocity_m_s: float, length_m: float, density: float, viscosity: float, conductivity: float, prandtl: float
) -> float:
    """Return the average film coefficient [W/(m2 K)] of air along a flat plate.

    Parameters
    ----------
    velocity_m_s : air speed [m/s]
    length_m : length of the plate along the air [m], above 0
    density, viscosity, conductivity, prandtl : of the air [kg/m3], [Pa s], [W/(m K)], [-]

    Notes
    -----
    ``Nu = 0.664 Re^0.5 Pr^(1/3)`` up to Re 5e5, ``(0.037 Re^0.8 - 871) Pr^(1/3)`` beyond, to Re 1e8; Pr 0.6 to 60.
    Source: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, chapter 7.

    >>> round(forced_film(1.0, 0.147, 1.2, 1.82e-5, 0.0258, 0.71), 2)
    10.24
    """
    return forced_film_and_slope(velocity_m_s, length_m, density, viscosity, conductivity, prandtl)[0]


@njit(cache=True, nogil=True)
def free_film(
    rise_k: float,
    height_m: float,
    temperature_c: float,
    density: float,
    viscosity: float,
    conductivity: float,
    prandtl: float,
) -> float:
    """Return the average film coefficient [W/(m2 K)] of a vertical plate in still air.

    Parameters
    ----------
    rise_k : surface over air [K]; its sign doesn't matter
    height_m : [m], above 0
    temperature_c : of the air [°C], for its expansion (ideal gas)
    density, viscosity, conductivity, prandtl : of the air [kg/m3], [Pa s], [W/(m K)], [-]

    Notes
    -----
    Churchill & Chu 1975, all Rayleigh numbers up to 1e12. At no rise it leaves conduction alone, Nu = 0.68.

    >>> round(free_film(20.0, 0.1, 25.0, 1.18, 1.85e-5, 0.026, 0.71), 2)
    5.12
    """
    growth, scale = free_growth(height_m, temperature_c, density, viscosity, conductivity, prandtl)
    return _free(rise_k, growth, scale)[0]


@njit(cache=True, nogil=True)
def radiation_film(temperature_c: float, emissivity: float, view: float) -> float:
    """Return the linearised radiation film coefficient [W/(m2 K)] at a mean temperature [°C].

    ``4 eps F sigma T^3`` with emissivity [-] and the share ``view`` [-] of surroundings that are at air temperature.
    Error of the linear form below 1 % for rises up to 60 K. Source: Incropera & DeWitt, chapter 1.

    >>> round(radiation_film(35.0, 0.5, 0.2), 2)
    0.66
    """
    return 4.0 * emissivity * view * STEFAN_BOLTZMANN * (temperature_c + ZERO_CELSIUS_K) ** 3


@njit(cache=True, nogil=True)
def combined_film(h_forced: float, h_free: float, h_radiation: float) -> float:
    """Return the film coefficient [W/(m2 K)] of forced and free convection together, with radiation.

    ``(h_forced^3 + h_free^3)^(1/3) + h_radiation``: Churchill 1977, assisting flow, exponent 3.

    >>> round(combined_film(3.0, 4.0, 1.0), 4)
    5.4979
    """
    return (h_forced**3 + h_free**3) ** (1.0 / 3.0) + h_radiation


@njit(cache=True, nogil=True)
def drive_rise_and_slopes(
    power_w: float,
    surface_m2: float,
    velocity_m_s: float,
    length_m: float,
    height_m: float,
    temperature_c: float,
    density: float,
    viscosity: float,
    conductivity: float,
    prandtl: float,
    h_radiation: float,
) -> tuple[float, float, float]:
    """Return a drive's rise over its air [K] with its derivatives by velocity [K/(m/s)] and by power [K/W].

    Parameters
    ----------
    power_w : heat shed [W], 0 or more
    surface_m2 : surface that sheds it [m2], above 0
    velocity_m_s : air speed in the gaps [m/s]; 0 leaves free convection and radiation
    length_m, height_m : of the surface along the air, and upright [m]
    temperature_c, density, viscosity, conductivity, prandtl : of the air at the drive
    h_radiation : from ``radiation_film`` [W/(m2 K)]

    Notes
    -----
    Solves ``rise * h(rise) * A = P``. The left side grows and is convex in the rise, so Newton's method from
    above goes straight down to the only root. Derivatives come from the same equation (implicit function).

    >>> rise, by_velocity, by_power = drive_rise_and_slopes(
    ...     7.5, 0.043, 1.0, 0.147, 0.1, 25.0, 1.18, 1.85e-5, 0.026, 0.71, 0.66)
    >>> round(rise, 2), round(by_velocity, 2), round(by_power, 2)
    (15.64, -6.5, 2.04)
    """
    forced, forced_slope = forced_film_and_slope(velocity_m_s, length_m, density, viscosity, conductivity, prandtl)
    growth, scale = free_growth(height_m, temperature_c, density, viscosity, conductivity, prandtl)
    return settled_rise(power_w, surface_m2, forced, forced_slope, growth, scale, h_radiation)


@njit(cache=True, nogil=True)
def settled_rise(
    power_w: float,
    surface_m2: float,
    forced: float,
    forced_slope: float,
    growth: float,
    scale: float,
    h_radiation: float,
) -> tuple[float, float, float]:
    """Return what ``drive_rise_and_slopes`` does, from films: what many drives in the same air have in common.

    Parameters
    ----------
    power_w, surface_m2, h_radiation : as there
    forced, forced_slope : from ``forced_film_and_slope`` [W/(m2 K)], [W/(m2 K) per m/s]
    growth, scale : from ``free_growth`` [K^(-1/6)], [W/(m2 K)]

    >>> rise, _, _ = settled_rise(7.5, 0.043, 0.0, 0.0, *free_growth(0.1, 25.0, 1.18, 1.85e-5, 0.026, 0.71), 0.66)
    >>> round(rise, 2)
    27.86
    """
    flux = power_w / surface_m2
    at_rest, _ = _free(0.0, growth, scale)
    rise = flux / combined_film(forced, at_rest, h_radiation)  # never below the root: the film only grows with rise
    convective = slope = 0.0
    for _step in range(_STEPS):
        free, free_swing = _free(rise, growth, scale)
        convective = combined_film(forced, free, 0.0)
        slope = convective + h_radiation + free**2 * free_swing / convective**2
        step = (rise * (convective + h_radiation) - flux) / slope
        rise -= step
        if abs(step) <= _TOLERANCE * rise:
            break
    by_velocity = -rise * forced**2 * forced_slope / (convective**2 * slope)
    return rise, by_velocity, 1.0 / (surface_m2 * slope)


@njit(cache=True, nogil=True)
def drive_rise(
    power_w: float,
    surface_m2: float,
    velocity_m_s: float,
    length_m: float,
    height_m: float,
    temperature_c: float,
    density: float,
    viscosity: float,
    conductivity: float,
    prandtl: float,
    h_radiation: float,
) -> float:
    """Return a drive's rise over the air that passes it [K]; arguments as in ``drive_rise_and_slopes``.

    >>> round(drive_rise(7.5, 0.043, 1.0, 0.147, 0.1, 25.0, 1.18, 1.85e-5, 0.026, 0.71, 0.66), 2)
    15.64
    """
    return drive_rise_and_slopes(
        power_w,
        surface_m2,
        velocity_m_s,
        length_m,
        height_m,
        temperature_c,
        density,
        viscosity,
        conductivity,
        prandtl,
        h_radiation,
    )[0]


@njit(cache=True, nogil=True)
def air_cooled_rise(rise_at_need_k: float, velocity_m_s: float, needed_velocity_m_s: float) -> float:
    """Return the rise [K] of a part that asks for moving air, at another air speed.

    Parameters
    ----------
    rise_at_need_k : rise at the speed it asks for [K]
    velocity_m_s : air speed at the part [m/s]; below 0 counts as still air
    needed_velocity_m_s : the speed it asks for [m/s]; 0 says that the air's speed doesn't matter

    Notes
    -----
    A laminar film (speed^0.5) and a still-air film combined by the power 3, so that the rise is ``rise_at_need_k``
    exactly at the speed asked for and 3.4 times that in still air. The still-air share 0.3 is an estimate.

    >>> air_cooled_rise(20.0, 1.0, 1.0), round(air_cooled_rise(20.0, 0.0, 1.0), 1)
    (20.0, 67.3)
    """
    if needed_velocity_m_s <= 0.0:
        return rise_at_need_k
    share = max(velocity_m_s, 0.0) / needed_velocity_m_s
    still = STILL_AIR_SHARE**3
    return rise_at_need_k * ((1.0 + still) / (share**1.5 + still)) ** (1.0 / 3.0)


@njit(cache=True, nogil=True)
def air_cooled_slope(rise_at_need_k: float, velocity_m_s: float, needed_velocity_m_s: float) -> float:
    """Return the derivative [K/(m/s)] of ``air_cooled_rise`` by the air speed, 0 in still air.

    >>> round(air_cooled_slope(20.0, 1.0, 1.0), 2)
    -9.74
    """
    if needed_velocity_m_s <= 0.0:
        return 0.0
    share = max(velocity_m_s, 0.0) / needed_velocity_m_s
    rise = air_cooled_rise(rise_at_need_k, velocity_m_s, needed_velocity_m_s)
    return -0.5 * rise * share**0.5 / (needed_velocity_m_s * (share**1.5 + STILL_AIR_SHARE**3))


@njit(cache=True, nogil=True)
def forced_film_and_slope(
    velocity_m_s: float, length_m: float, density: float, viscosity: float, conductivity: float, prandtl: float
) -> tuple[float, float]:
    """Return ``forced_film`` and its derivative by velocity [W/(m2 K) per m/s] (0 where the air is still).

    >>> film, slope = forced_film_and_slope(1.0, 0.147, 1.2, 1.82e-5, 0.0258, 0.71)
    >>> round(film, 2), round(slope, 2)
    (10.24, 5.12)
    """
    reynolds = abs(velocity_m_s) * length_m * density / viscosity
    if reynolds == 0.0:
        return 0.0, 0.0
    scale = prandtl ** (1.0 / 3.0) * conductivity / length_m
    if reynolds <= _TRANSITION_REYNOLDS:
        film = scale * _LAMINAR * reynolds**0.5
        return film, 0.5 * film / velocity_m_s
    turbulent = scale * _TURBULENT * reynolds**0.8
    return turbulent - scale * _LAMINAR_PART, 0.8 * turbulent / velocity_m_s


@njit(cache=True, nogil=True)
def free_growth(
    height_m: float, temperature_c: float, density: float, viscosity: float, conductivity: float, prandtl: float
) -> tuple[float, float]:
    """Return what shapes free convection: the film is ``scale * (0.825 + growth * rise^(1/6))^2``.

    Arguments as in ``free_film``, growth in [K^(-1/6)] and scale in [W/(m2 K)].

    >>> growth, scale = free_growth(0.1, 25.0, 1.18, 1.85e-5, 0.026, 0.71)
    >>> round(scale * (0.825 + growth * 20.0 ** (1 / 6)) ** 2, 2)
    5.12
    """
    expansion = 1.0 / (temperature_c + ZERO_CELSIUS_K)
    rayleigh = GRAVITY_M_S2 * expansion * height_m**3 * (density / viscosity) ** 2 * prandtl  # at a rise of 1 K
    growth = 0.387 * rayleigh ** (1.0 / 6.0) / (1.0 + (0.492 / prandtl) ** (9.0 / 16.0)) ** (8.0 / 27.0)
    return growth, conductivity / height_m


@njit(cache=True, nogil=True)
def _free(rise_k: float, growth: float, scale: float) -> tuple[float, float]:
    """Return the free film coefficient and the rise times its derivative by rise, which stays finite at no rise."""
    growing = growth * abs(rise_k) ** (1.0 / 6.0)
    root = 0.825 + growing
    return scale * root**2, scale * root * growing / 3.0
