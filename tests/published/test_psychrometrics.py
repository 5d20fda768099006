"""Moist air against the handbook's example and tables and a course's example (references.md section 6)."""

from __future__ import annotations

import pytest

from engine.physics import moist_air

SEA = 101325.0
C40, C20 = 313.15, 293.15


def test_12_ashrae_example_1() -> None:
    """ASHRAE Fundamentals 2017 ch. 1 example 1: 40 degC dry, 20 degC wet bulb, 101.325 kPa; off a chart."""
    ratio = moist_air.humidity_ratio_from_wet_bulb(C40, C20, SEA)
    humidity = moist_air.relative_humidity(C40, ratio, SEA)
    assert ratio == pytest.approx(0.0065, abs=0.0002)
    assert moist_air.dew_point(C40, humidity) - 273.15 == pytest.approx(7.0, abs=0.6)
    assert humidity == pytest.approx(0.14, abs=0.01)
    assert moist_air.enthalpy(C40, ratio) / 1e3 == pytest.approx(56.7, abs=0.3)
    assert moist_air.volume(C40, ratio, SEA) == pytest.approx(0.896, abs=0.003)


def test_13_the_example_backwards() -> None:
    assert moist_air.wet_bulb(C40, 0.14, SEA) == pytest.approx(C20, abs=0.3)


def test_14_pressure_is_really_used() -> None:
    """Course example (personal.psu.edu/dhj1): 25 degC, 75 %, 100 kPa: pv 2.38 kPa, W 0.0152."""
    assert moist_air.vapour_pressure(298.15, 0.75) / 1e3 == pytest.approx(2.38, abs=0.01)
    assert moist_air.humidity_ratio(298.15, 0.75, 100e3) == pytest.approx(0.0152, abs=0.0002)


# ASHRAE 2017 ch. 1 table 3, Pa (the table named by psychrolib's tests).
@pytest.mark.parametrize(
    ("celsius", "pascal"), [(-20, 103.24), (-5, 401.74), (5, 872.6), (25, 3169.7), (50, 12351.3)]
)
def test_15_saturation_pressure_of_water(celsius: int, pascal: float) -> None:
    assert moist_air.saturation_pressure_water(celsius + 273.15) == pytest.approx(pascal, rel=0.0005)


# ASHRAE 2017 ch. 1 table 2: saturated air at 101.325 kPa. Real gas: references.md says 0.5-1 %.
@pytest.mark.parametrize(
    ("celsius", "ratio", "joules"), [(5, 0.005425, 18639), (25, 0.020173, 76504), (50, 0.086863, 275353)]
)
def test_saturated_air(celsius: int, ratio: float, joules: float) -> None:
    found = moist_air.humidity_ratio(celsius + 273.15, 1.0, SEA)
    assert found == pytest.approx(ratio, rel=0.01)
    assert moist_air.enthalpy(celsius + 273.15, found) == pytest.approx(joules, rel=0.01)
