"""Air: directions of change, ranges, arrays."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.air import Air, air_at, pressure_at_altitude, saturation_pressure
from advisor.engine.errors import InputError

temperatures = st.floats(-20.0, 79.0)
altitudes = st.floats(0.0, 4900.0)
humidities = st.floats(0.0, 0.95)


@given(temperatures, altitudes, humidities)
def test_density_falls_with_temperature(temperature, altitude, humidity):
    assert air_at(temperature + 1.0, altitude, humidity).density < air_at(temperature, altitude, humidity).density


@given(temperatures, altitudes, humidities)
def test_density_falls_with_altitude(temperature, altitude, humidity):
    assert air_at(temperature, altitude + 100.0, humidity).density < air_at(temperature, altitude, humidity).density


@given(temperatures, altitudes, humidities)
def test_density_falls_with_humidity(temperature, altitude, humidity):
    assert air_at(temperature, altitude, humidity + 0.05).density < air_at(temperature, altitude, humidity).density


@given(st.floats(-99.0, 199.0))
def test_saturation_pressure_rises_with_temperature(temperature):
    assert saturation_pressure(temperature + 1.0) > saturation_pressure(temperature)


def test_saturation_pressure_is_continuous_at_the_triple_point():
    over_ice, over_water = saturation_pressure(np.array([0.01, 0.0100001]))
    assert over_ice == pytest.approx(over_water, rel=2e-4)


def test_arrays_give_the_same_as_numbers_one_by_one():
    celsius = np.array([-20.0, 5.0, 22.0, 80.0])
    together = air_at(celsius, 1000.0)
    for index, value in enumerate(celsius):
        alone = air_at(float(value), 1000.0)
        for name in Air.__slots__:
            got = np.broadcast_to(getattr(together, name), celsius.shape)[index]
            assert got == pytest.approx(getattr(alone, name), rel=1e-14), name


def test_prandtl_number_is_made_of_the_other_properties():
    air = air_at(30.0, 500.0, 0.3)
    assert air.prandtl == pytest.approx(air.viscosity * air.heat_capacity / air.conductivity)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((80.1, 0.0, 0.5), r"temperature 80.1 °C .*-20 to 80 °C"),
        ((-20.5, 0.0, 0.5), r"temperature -20.5 °C .*-20 to 80 °C"),
        ((20.0, 5001.0, 0.5), r"altitude 5001 m .*0 to 5000 m"),
        ((20.0, -1.0, 0.5), r"altitude -1 m .*0 to 5000 m"),
        ((20.0, 0.0, 1.5), r"relative humidity 1.5 .*0 to 1"),
        ((float("nan"), 0.0, 0.5), r"temperature nan"),
        ((np.array([20.0, 99.0]), 0.0, 0.5), r"temperature 99 °C"),
    ],
)
def test_values_outside_the_range_are_refused(arguments, words):
    with pytest.raises(InputError, match=words):
        air_at(*arguments)


def test_altitude_beyond_the_standard_atmosphere_is_refused():
    with pytest.raises(InputError, match="altitude 12000 m"):
        pressure_at_altitude(12_000.0)
