"""Properties of moist air at an altitude and a temperature; never a fixed 1.2 kg/m3.

Every function takes a number or an array and returns the like. Sources, ranges and limits: METHODS.md, 'Air'.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from advisor.engine.constants import ZERO_CELSIUS_K
from advisor.engine.errors import InputError

Numbers = float | NDArray[np.float64]

# Ranges over which the equations below were compared with reference libraries.
TEMPERATURE_RANGE_C = (-20.0, 80.0)
ALTITUDE_RANGE_M = (0.0, 5000.0)

# ASHRAE Handbook Fundamentals 2017 chapter 1: standard atmosphere (eq. 3), gas constants (eq. 1, 2),
# specific heats of dry air and of water vapour (in eq. 30).
_ATMOSPHERE_RANGE_M = (-500.0, 11_000.0)
_SEA_LEVEL_PA = 101_325.0
_LAPSE_PER_M = 2.25577e-5
_LAPSE_EXPONENT = 5.2559
_GAS_CONSTANT_DRY = 287.042  # J/(kg K)
_GAS_CONSTANT_VAPOUR = 461.524  # J/(kg K)
_HEAT_CAPACITY_DRY = 1006.0  # J/(kg K)
_HEAT_CAPACITY_VAPOUR = 1860.0  # J/(kg K)

# Hyland & Wexler 1983 in the form of ASHRAE 2017 chapter 1, eq. 5 (ice) and 6 (water): powers -1 to 4 of T, then ln T.
_SATURATION_RANGE_C = (-100.0, 200.0)
_OVER_ICE = (-5.6745359e3, 6.3925247, -9.6778430e-3, 6.2215701e-7, 2.0747825e-9, -9.4840240e-13, 4.1635019)
_OVER_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)
_TRIPLE_POINT_C = 0.01

# Lemmon & Jacobsen, Int. J. Thermophysics 25 (2004) 21-69: dilute-gas terms for air.
_MOLAR_MASS_G = 28.9586
_LENNARD_JONES_K = 103.3
_LENNARD_JONES_NM = 0.360
_COLLISION = (0.431, -0.4623, 0.08406, 0.005341, -0.00331)
_CRITICAL_K = 132.6312


@dataclass(frozen=True, slots=True)
class Air:
    """Air of one state.

    Attributes
    ----------
    temperature_c, pressure_pa : state [°C], [Pa]
    density : moist air [kg/m3]
    viscosity : dynamic [Pa s]
    conductivity : thermal [W/(m K)]
    heat_capacity : of moist air at constant pressure [J/(kg K)]
    prandtl : Prandtl number [-]
    """

    temperature_c: Numbers
    pressure_pa: Numbers
    density: Numbers
    viscosity: Numbers
    conductivity: Numbers
    heat_capacity: Numbers
    prandtl: Numbers


def pressure_at_altitude(altitude_m: Numbers) -> Numbers:
    """Return the pressure [Pa] of the standard atmosphere at a geopotential altitude [m], -500 to 11000 m.

    Source: ASHRAE Handbook Fundamentals 2017, chapter 1, eq. 3.

    >>> round(float(pressure_at_altitude(1500.0)), 2)
    84555.93
    """
    altitude = _within("altitude", altitude_m, _ATMOSPHERE_RANGE_M, "m")
    return _SEA_LEVEL_PA * (1.0 - _LAPSE_PER_M * altitude) ** _LAPSE_EXPONENT


def saturation_pressure(temperature_c: Numbers) -> Numbers:
    """Return the pressure [Pa] of saturated water vapour, over ice below 0.01 °C, for -100 to 200 °C.

    Source: Hyland & Wexler 1983, as in ASHRAE Handbook Fundamentals 2017, chapter 1, eq. 5 and 6.

    >>> round(float(saturation_pressure(25.0)))
    3169
    """
    celsius = _within("temperature", temperature_c, _SATURATION_RANGE_C, "°C")
    kelvin = celsius + ZERO_CELSIUS_K
    over_water = np.exp(_saturation_exponent(kelvin, _OVER_WATER))
    return np.where(celsius > _TRIPLE_POINT_C, over_water, np.exp(_saturation_exponent(kelvin, _OVER_ICE)))[()]


def moist_density(temperature_c: Numbers, pressure_pa: Numbers, relative_humidity: Numbers) -> Numbers:
    """Return the density [kg/m3] of moist air as a mixture of two ideal gases.

    Parameters
    ----------
    temperature_c : [°C], -20 to 80
    pressure_pa : total pressure [Pa]
    relative_humidity : share of saturation [-], 0 to 1

    Notes
    -----
    Real-gas and enhancement terms (together below 5e-4) are left out. Source: ASHRAE Fundamentals 2017, ch. 1.

    >>> round(float(moist_density(25.0, 101325.0, 0.5)), 4)
    1.177
    """
    vapour_pa = _vapour_pressure(temperature_c, relative_humidity)
    kelvin = temperature_c + ZERO_CELSIUS_K
    return ((pressure_pa - vapour_pa) / _GAS_CONSTANT_DRY + vapour_pa / _GAS_CONSTANT_VAPOUR) / kelvin


def dry_viscosity(temperature_c: Numbers) -> Numbers:
    """Return the dynamic viscosity [Pa s] of dry air at low pressure, -20 to 80 °C.

    Source: Lemmon & Jacobsen 2004, dilute-gas term; 0.1 % below the full equation at 1 atm.

    >>> f"{float(dry_viscosity(20.0)):.4e}"
    '1.8191e-05'
    """
    kelvin = _within("temperature", temperature_c, TEMPERATURE_RANGE_C, "°C") + ZERO_CELSIUS_K
    collision = np.exp(np.polynomial.polynomial.polyval(np.log(kelvin / _LENNARD_JONES_K), _COLLISION))
    return 0.0266958e-6 * np.sqrt(_MOLAR_MASS_G * kelvin) / (_LENNARD_JONES_NM**2 * collision)


def dry_conductivity(temperature_c: Numbers) -> Numbers:
    """Return the thermal conductivity [W/(m K)] of dry air at low pressure, -20 to 80 °C.

    Source: Lemmon & Jacobsen 2004, dilute-gas term; 0.2 % below the full equation at 1 atm.

    >>> round(float(dry_conductivity(20.0)), 5)
    0.02584
    """
    viscosity_upas = 1e6 * dry_viscosity(temperature_c)
    tau = _CRITICAL_K / (temperature_c + ZERO_CELSIUS_K)
    return 1e-3 * (1.308 * viscosity_upas + 1.405 * tau**-1.1 - 1.036 * tau**-0.3)


def moist_heat_capacity(temperature_c: Numbers, pressure_pa: Numbers, relative_humidity: Numbers) -> Numbers:
    """Return the heat capacity [J/(kg K)] of moist air per kilogram of moist air.

    Source: ASHRAE Fundamentals 2017, chapter 1: 1006 for dry air, 1860 for vapour, mixed by mass.

    >>> round(float(moist_heat_capacity(25.0, 101325.0, 0.5)), 1)
    1014.4
    """
    vapour_pa = _vapour_pressure(temperature_c, relative_humidity)
    ratio = _GAS_CONSTANT_DRY / _GAS_CONSTANT_VAPOUR * vapour_pa / (pressure_pa - vapour_pa)
    return (_HEAT_CAPACITY_DRY + ratio * _HEAT_CAPACITY_VAPOUR) / (1.0 + ratio)


def air_at(temperature_c: Numbers, altitude_m: Numbers = 0.0, relative_humidity: Numbers = 0.5) -> Air:
    """Return air of a temperature [°C], altitude [m] and relative humidity [-].

    Parameters
    ----------
    temperature_c : [°C], -20 to 80
    altitude_m : geopotential altitude [m], 0 to 5000
    relative_humidity : share of saturation at ``temperature_c`` [-], 0 to 1

    Notes
    -----
    Moisture counts in density and heat capacity, not in viscosity and conductivity (1 % at 35 °C and 50 %).

    >>> round(float(air_at(20.0, altitude_m=1500.0).density), 3)
    1.0
    """
    pressure = pressure_at_altitude(_within("altitude", altitude_m, ALTITUDE_RANGE_M, "m"))
    viscosity = dry_viscosity(temperature_c)
    conductivity = dry_conductivity(temperature_c)
    heat_capacity = moist_heat_capacity(temperature_c, pressure, relative_humidity)
    return Air(
        temperature_c=temperature_c,
        pressure_pa=pressure,
        density=moist_density(temperature_c, pressure, relative_humidity),
        viscosity=viscosity,
        conductivity=conductivity,
        heat_capacity=heat_capacity,
        prandtl=viscosity * heat_capacity / conductivity,
    )


def _vapour_pressure(temperature_c: Numbers, relative_humidity: Numbers) -> Numbers:
    celsius = _within("temperature", temperature_c, TEMPERATURE_RANGE_C, "°C")
    return _within("relative humidity", relative_humidity, (0.0, 1.0), "(share)") * saturation_pressure(celsius)


def _saturation_exponent(kelvin: Numbers, coefficients: tuple[float, ...]) -> Numbers:
    *powers, logarithmic = coefficients
    return np.polynomial.polynomial.polyval(kelvin, powers) / kelvin + logarithmic * np.log(kelvin)


def _within(name: str, value: Numbers, accepted: tuple[float, float], unit: str) -> Numbers:
    numbers = np.asarray(value, dtype=float)
    outside = ~((numbers >= accepted[0]) & (numbers <= accepted[1]))  # also catches not-a-number
    if outside.any():
        worst = numbers[outside].flat[0]
        raise InputError(
            f"{name} {worst:g} {unit} is outside the range of the air equations "
            f"({accepted[0]:g} to {accepted[1]:g} {unit}); give a value in this range"
        )
    return numbers[()]  # a plain number again where a plain number came in
