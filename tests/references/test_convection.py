"""Convection against the ht library, printed textbook results and the practice of the trade."""

import ht
import pytest

from advisor.engine.air import air_at
from advisor.engine.thermal.convection import (
    drive_rise,
    drive_rise_and_slopes,
    forced_film,
    free_film,
    radiation_film,
)

PRANDTL = 0.71

# SFF-8301 rev 3.4: 147.0 mm long, 101.6 mm wide, 26.1 mm high; all six sides but the two ends shed heat.
LENGTH_M, WIDTH_M, HEIGHT_M = 0.147, 0.1016, 0.0261
SURFACE_M2 = 2 * LENGTH_M * (WIDTH_M + HEIGHT_M)
# Drives stand side by side, so little of them sees cool walls; partly bare metal, partly painted. From memory.
EMISSIVITY, VIEW = 0.5, 0.2


def nusselt_forced(reynolds):
    """The plate film as a Nusselt number: with unit length, density and conductivity, Re = v / viscosity."""
    return forced_film(reynolds, 1.0, 1.0, 1.0, 1.0, PRANDTL)


def nusselt_free(rayleigh):
    """The free film as a Nusselt number: the rise that gives this Rayleigh number at 20 C and unit properties."""
    rise = rayleigh * 293.15 / (9.80665 * PRANDTL)
    return free_film(rise, 1.0, 20.0, 1.0, 1.0, 1.0, PRANDTL)


def rise_of_drive(power_w, velocity_m_s, position=0):
    air = air_at(30.0)
    return drive_rise_and_slopes(
        power_w,
        SURFACE_M2,
        velocity_m_s,
        LENGTH_M,
        WIDTH_M,
        30.0,
        air.density,
        air.viscosity,
        air.conductivity,
        air.prandtl,
        radiation_film(35.0, EMISSIVITY, VIEW),
    )[position]


@pytest.mark.parametrize("reynolds", [1e4, 5e4, 1e5])
def test_laminar_plate_equals_the_ht_library(reynolds):
    assert nusselt_forced(reynolds) == pytest.approx(
        ht.conv_external.Nu_horizontal_plate_laminar_Baehr(reynolds, PRANDTL), rel=1e-9
    )


# ht 1.2: 0.664 Re^0.5 Pr^(1/3).
@pytest.mark.parametrize(("reynolds", "nusselt"), [(1e4, 59.236246), (5e4, 132.456273), (1e5, 187.321458)])
def test_laminar_plate_meets_its_figures(reynolds, nusselt):
    assert nusselt_forced(reynolds) == pytest.approx(nusselt, abs=1e-5)


# Churchill & Ozoe's correlation of the same flow lies within 2 % (ht library).
@pytest.mark.parametrize("reynolds", [1e4, 5e4, 1e5])
def test_laminar_plate_is_near_churchill_and_ozoe(reynolds):
    expected = ht.conv_external.Nu_horizontal_plate_laminar_Churchill_Ozoe(reynolds, PRANDTL)
    assert nusselt_forced(reynolds) == pytest.approx(expected, rel=0.02)


# Cengel, Heat and Mass Transfer, problem 7-129: 8 m/s along 6 m at 83.4 kPa; prints Re 1.884e6, Nu 2687, h 13.2.
def test_mixed_plate_meets_the_printed_problem():
    kinematic, conductivity, prandtl = 2.548e-5, 0.02953, 0.7154
    assert forced_film(1.884e6, 1.0, 1.0, 1.0, 1.0, prandtl) == pytest.approx(2687, abs=0.5)
    assert forced_film(8.0, 6.0, 1.0, kinematic, conductivity, prandtl) == pytest.approx(13.2, abs=0.05)


# Shah & London: developed laminar flow between isothermal plates, Nu 7.540701 on twice the gap. METHODS.md says that
# the plate film is on the safe side of it in narrow gaps, and by how much.
def test_plate_film_is_on_the_safe_side_in_a_narrow_gap():
    air = air_at(30.0)
    developed = 7.540701 * air.conductivity / (2 * 0.006)
    plate = forced_film(1.0, LENGTH_M, air.density, air.viscosity, air.conductivity, air.prandtl)
    assert 0.5 * developed < plate < developed


@pytest.mark.parametrize("rayleigh", [1e2, 1e4, 1e6, 1e8, 1e10])
def test_free_plate_equals_the_ht_library(rayleigh):
    expected = ht.Nu_vertical_plate_Churchill(PRANDTL, rayleigh / PRANDTL)
    assert nusselt_free(rayleigh) == pytest.approx(expected, rel=1e-9)


# Churchill & Chu 1975, closed form.
@pytest.mark.parametrize(("rayleigh", "nusselt"), [(1e4, 5.432745), (1e6, 16.558403), (1e8, 61.065172)])
def test_free_plate_meets_its_figures(rayleigh, nusselt):
    assert nusselt_free(rayleigh) == pytest.approx(nusselt, abs=1e-5)


# Common practice, no source: a 7200 rpm 3.5-inch drive (6 to 9 W) at 1 m/s runs 12 to 22 K above its air.
@pytest.mark.parametrize("power_w", [6.0, 7.5, 9.0])
def test_fast_drive_in_one_metre_a_second_rises_as_practice_says(power_w):
    assert 12.0 <= rise_of_drive(power_w, 1.0) <= 22.0


# 'Cooling Study of a High Packing Density Disk Array for Next Generation Disk Array Systems (1st Report)', abstract:
# rise ~ v^-0.8 in rows of 2.5-inch drives. A plate film alone gives -0.5, free convection and radiation less.
@pytest.mark.parametrize("velocity_m_s", [0.7, 1.0, 2.0, 3.0])
def test_rise_falls_with_a_plausible_power_of_velocity(velocity_m_s):
    exponent = rise_of_drive(7.5, velocity_m_s, position=1) * velocity_m_s / rise_of_drive(7.5, velocity_m_s)
    assert -0.8 <= exponent <= -0.3


# The same abstract: rise nearly proportional to heat.
def test_rise_is_nearly_proportional_to_heat():
    assert rise_of_drive(8.0, 2.0) / rise_of_drive(4.0, 2.0) == pytest.approx(2.0, rel=0.05)


# The same abstract: below 15 K at more than 2.3 m/s, for 2.5-inch drives (SFF-8201: 100.45 x 69.85 x 15 mm).
def test_small_drive_in_fast_air_stays_below_fifteen_kelvin():
    air = air_at(30.0)
    surface = 2 * 0.10045 * (0.06985 + 0.015)
    state = (30.0, air.density, air.viscosity, air.conductivity, air.prandtl)
    assert drive_rise(5.0, surface, 2.3, 0.10045, 0.06985, *state, 0.66) < 15.0
