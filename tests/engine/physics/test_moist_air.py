"""Moist air against psychrolib, an independent implementation of the same handbook chapter."""

from __future__ import annotations

import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.physics import moist_air

psychrolib.SetUnitSystem(psychrolib.SI)

degrees = st.floats(-30.0, 60.0)
humidities = st.floats(0.02, 1.0)
pressures = st.floats(60e3, 108e3)


@given(st.floats(-60.0, 90.0))
def test_saturation_pressure(celsius: float) -> None:
    expected = psychrolib.GetSatVapPres(celsius)
    # psychrolib goes from ice to water at the triple point, 0.01 degC, the handbook at 0: 0.02 % apart.
    relative = 3e-4 if -0.001 < celsius < 0.011 else 1e-9
    assert moist_air.saturation_pressure_water(celsius + 273.15) == pytest.approx(expected, rel=relative)


@given(degrees, humidities, pressures)
def test_humidity_ratio_enthalpy_and_volume(celsius: float, humidity: float, pressure: float) -> None:
    ratio = moist_air.humidity_ratio(celsius + 273.15, humidity, pressure)
    assert ratio == pytest.approx(
        psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure), rel=3e-4, abs=1e-7
    )
    expected = psychrolib.GetMoistAirEnthalpy(celsius, ratio)
    assert moist_air.enthalpy(celsius + 273.15, ratio) == pytest.approx(expected, abs=1.0)
    expected = psychrolib.GetMoistAirVolume(celsius, ratio, pressure)
    assert moist_air.volume(celsius + 273.15, ratio, pressure) == pytest.approx(expected, rel=1e-5)
    assert moist_air.relative_humidity(celsius + 273.15, ratio, pressure) == pytest.approx(humidity, rel=1e-9)


@given(st.floats(-20.0, 60.0), humidities)
def test_dew_point(celsius: float, humidity: float) -> None:
    expected = psychrolib.GetTDewPointFromRelHum(celsius, humidity)
    assert moist_air.dew_point(celsius + 273.15, humidity) - 273.15 == pytest.approx(expected, abs=0.02)


@settings(deadline=None)
@given(st.floats(2.0, 60.0), humidities, pressures)
def test_wet_bulb(celsius: float, humidity: float, pressure: float) -> None:
    expected = psychrolib.GetTWetBulbFromRelHum(celsius, humidity, pressure)
    found = moist_air.wet_bulb(celsius + 273.15, humidity, pressure) - 273.15
    if (found >= 0.0) == (expected >= 0.0):
        assert found == pytest.approx(expected, abs=0.01)
    else:  # near 0 degC wet wick and icy wick both solve the handbook's equations; ours is a solution too
        ratio = psychrolib.GetHumRatioFromTWetBulb(celsius, found, pressure)
        assert ratio == pytest.approx(psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure), abs=5e-6)


@given(degrees, humidities, pressures)
def test_order_of_the_temperatures(celsius: float, humidity: float, pressure: float) -> None:
    dry = celsius + 273.15
    wet = moist_air.wet_bulb(dry, humidity, pressure)
    assert wet <= dry + 1e-6
    if wet > 273.65:
        assert moist_air.dew_point(dry, humidity) <= wet + 0.01


def test_saturated_air_has_one_temperature() -> None:
    for celsius in (5.0, 25.0, 45.0):
        assert moist_air.dew_point(celsius + 273.15, 1.0) == pytest.approx(celsius + 273.15, abs=1e-5)
        assert moist_air.wet_bulb(celsius + 273.15, 1.0, 101325.0) == pytest.approx(
            celsius + 273.15, abs=1e-5
        )


def test_what_air_cannot_be_is_refused() -> None:
    with pytest.raises(moist_air.MoistAirError, match="between 0 and 100 percent"):
        moist_air.humidity_ratio(298.15, 60.0, 101325.0)
    with pytest.raises(moist_air.MoistAirError, match="outside -60 to 90 degC"):
        moist_air.dew_point(25.0, 0.5)
    with pytest.raises(moist_air.MoistAirError, match="no dew point"):
        moist_air.dew_point(298.15, 0.0)
    with pytest.raises(moist_air.MoistAirError, match="Check the barometer"):
        moist_air.humidity_ratio(353.15, 1.0, 1013.0)
