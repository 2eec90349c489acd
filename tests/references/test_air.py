"""Air properties against ASHRAE's tables, CoolProp and PsychroLib."""

import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI

from advisor.engine.air import (
    air_at,
    dry_conductivity,
    dry_viscosity,
    moist_density,
    moist_heat_capacity,
    pressure_at_altitude,
    saturation_pressure,
)

SEA_LEVEL_PA = 101_325.0


@pytest.fixture(autouse=True)
def si_units():
    psychrolib.SetUnitSystem(psychrolib.SI)


# ASHRAE Handbook Fundamentals 2017, chapter 1, table 1.
@pytest.mark.parametrize(
    ("altitude_m", "pressure_pa"),
    [(-500, 107478), (0, 101325), (500, 95461), (1000, 89875), (4000, 61640), (10000, 26436)],
)
def test_pressure_meets_the_printed_standard_atmosphere(altitude_m, pressure_pa):
    assert pressure_at_altitude(altitude_m) == pytest.approx(pressure_pa, abs=1.0)


@pytest.mark.parametrize("altitude_m", [1500.0, 2000.0, 3000.0, 5000.0])
def test_pressure_equals_psychrolib(altitude_m):
    assert pressure_at_altitude(altitude_m) == pytest.approx(psychrolib.GetStandardAtmPressure(altitude_m), abs=0.01)


# ASHRAE Handbook Fundamentals 2017, chapter 1, table 3.
@pytest.mark.parametrize(("celsius", "pascal"), [(5, 872.6), (25, 3169.7), (50, 12351.3), (100, 101418.0)])
def test_saturation_meets_the_printed_table(celsius, pascal):
    assert saturation_pressure(celsius) == pytest.approx(pascal, rel=3e-4)


@pytest.mark.parametrize("celsius", [-60.0, -20.0, -0.5, 0.005, 0.5, 35.0, 80.0, 150.0])
def test_saturation_equals_psychrolib(celsius):
    assert saturation_pressure(celsius) == pytest.approx(psychrolib.GetSatVapPres(celsius), rel=1e-12)


# The ideal gas leaves out a compressibility of 1 - 4e-4 at 20 C and 1 atm (CoolProp, Lemmon et al. 2000).
@pytest.mark.parametrize("celsius", [-20.0, 0.0, 20.0, 25.0, 35.0, 60.0, 80.0])
def test_dry_density_is_near_the_real_gas(celsius):
    expected = PropsSI("D", "T", celsius + 273.15, "P", SEA_LEVEL_PA, "Air")
    assert moist_density(celsius, SEA_LEVEL_PA, 0.0) == pytest.approx(expected, rel=1e-3)


# ASHRAE Handbook Fundamentals 2017, chapter 1, table 2: 0.8443 m3/kg at 25 C.
def test_dry_specific_volume_meets_the_printed_table():
    assert 1.0 / moist_density(25.0, SEA_LEVEL_PA, 0.0) == pytest.approx(0.8443, rel=1e-3)


@pytest.mark.parametrize(("celsius", "humidity"), [(20, 0.5), (25, 0.5), (35, 0.5), (40, 0.3)])
def test_moist_density_agrees_with_two_libraries(celsius, humidity):
    ours = moist_density(celsius, SEA_LEVEL_PA, humidity)
    real_gas = 1.0 / HAPropsSI("Vha", "T", celsius + 273.15, "P", SEA_LEVEL_PA, "R", humidity)
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, SEA_LEVEL_PA)
    assert ours == pytest.approx(real_gas, rel=1e-3)
    assert ours == pytest.approx(psychrolib.GetMoistAirDensity(celsius, ratio, SEA_LEVEL_PA), rel=1e-3)


# Lemmon & Jacobsen 2004 in full, by CoolProp; at 1 atm the terms left out are 0.1 % and 0.2 %.
@pytest.mark.parametrize("pressure_pa", [54_020.0, SEA_LEVEL_PA])
@pytest.mark.parametrize("celsius", [-20.0, 0.0, 20.0, 26.85, 35.0, 60.0, 80.0])
def test_transport_properties_are_near_the_full_equation(celsius, pressure_pa):
    state = ("T", celsius + 273.15, "P", pressure_pa, "Air")
    assert dry_viscosity(celsius) == pytest.approx(PropsSI("V", *state), rel=1e-3)
    assert dry_conductivity(celsius) == pytest.approx(PropsSI("L", *state), rel=2e-3)


# US Standard Atmosphere 1976 uses other correlations; 288.15 K: 1.78938e-5 Pa s, 0.0253259 W/(m K).
def test_transport_properties_agree_with_the_standard_atmosphere():
    assert dry_viscosity(15.0) == pytest.approx(1.78938e-5, rel=5e-3)
    assert dry_conductivity(15.0) == pytest.approx(0.0253259, rel=1e-2)


@pytest.mark.parametrize(("celsius", "humidity"), [(-20, 0.0), (20, 0.0), (80, 0.0), (25, 0.5), (35, 0.5), (40, 1.0)])
def test_heat_capacity_is_near_the_real_gas(celsius, humidity):
    expected = HAPropsSI("Cha", "T", celsius + 273.15, "P", SEA_LEVEL_PA, "R", humidity)
    assert moist_heat_capacity(celsius, SEA_LEVEL_PA, humidity) == pytest.approx(expected, rel=4e-3)


# CoolProp's moist-air viscosity and conductivity: what leaving the moisture out costs in a warm room.
@pytest.mark.parametrize(("celsius", "humidity"), [(22, 0.5), (30, 0.5), (35, 0.5), (45, 0.3)])
def test_neglected_moisture_costs_a_percent_at_most(celsius, humidity):
    state = ("T", celsius + 273.15, "P", SEA_LEVEL_PA, "R", humidity)
    air = air_at(celsius, 0.0, humidity)
    assert air.viscosity == pytest.approx(HAPropsSI("mu", *state), rel=0.01)
    assert air.conductivity == pytest.approx(HAPropsSI("k", *state), rel=0.01)


# CoolProp 8 at 1 atm, dry.
@pytest.mark.parametrize(("celsius", "prandtl"), [(20.0, 0.707956), (25.0, 0.707300), (35.0, 0.706062)])
def test_prandtl_number_of_dry_air(celsius, prandtl):
    assert air_at(celsius, 0.0, 0.0).prandtl == pytest.approx(prandtl, rel=2e-3)


# Trade rule 1.76 CFM for each W/K at 1.2 kg/m3; by identity 1/(rho cp 4.719474e-4) = 1.7491 at 20 C.
def test_heat_to_flow_rule_at_room_temperature():
    air = air_at(20.0, 0.0, 0.0)
    cfm_per_w_k = 1.0 / (air.density * air.heat_capacity * 4.719474e-4)
    assert cfm_per_w_k == pytest.approx(1.7491, rel=1e-3)
