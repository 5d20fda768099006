"""R-1234yf saturation pressures against independent tables and equations (references.md 1c)."""

from __future__ import annotations

import math

import pytest

from engine.physics.refrigerant import critical_point, dew_pressure

# Column J: engineering repository, kPa absolute; neither our nor the formula of column L (open repository
# VapourCompressionPython, R1234yf.csv). The 17 of its 41 points that references.md prints.
COLUMN_J = {
    -10: 222.08, -6: 256.66, -2: 295.22, 0: 316.09, 4: 361.17, 10: 437.74, 16: 525.98, 20: 591.84, 30: 783.53,
    36: 918.86, 40: 1018.3, 46: 1182.3, 50: 1302.1, 56: 1498.6, 60: 1641.5, 66: 1874.8, 70: 2044.0,
}  # fmt: skip

# Column K: equation of state of 2011 (Int. J. Thermophys. 32:1125), evaluated for references.md, kPa.
COLUMN_K = {
    -10: 221.77, -5: 265.66, 0: 315.90, 5: 373.04, 10: 437.68, 20: 591.95, 25: 682.85, 30: 783.83,
    40: 1018.84, 50: 1302.93, 60: 1642.65, 70: 2045.44,
}  # fmt: skip


def column_l(kelvin: float) -> float:
    """Column L: vapour-pressure equation of J. Chem. Eng. Data 56:3254 (2011), Pa."""
    theta = 1 - kelvin / 367.85
    terms = -7.4697 * theta + 2.7915 * theta**1.5 - 2.1312 * theta**1.8 - 2.9531 * theta**3.8
    return 3382.2e3 * math.exp(367.85 / kelvin * terms)


@pytest.mark.parametrize(("celsius", "kpa"), COLUMN_J.items())
def test_4_independent_table(celsius: int, kpa: float) -> None:
    assert dew_pressure("R-1234yf", celsius + 273.15) / 1e3 == pytest.approx(kpa, rel=0.0020)


@pytest.mark.parametrize(("celsius", "kpa"), COLUMN_K.items())
def test_5_independent_equation_of_state(celsius: int, kpa: float) -> None:
    assert dew_pressure("R-1234yf", celsius + 273.15) / 1e3 == pytest.approx(kpa, rel=0.0008)


@pytest.mark.parametrize("celsius", range(-10, 72, 2))
def test_vapour_pressure_equation(celsius: int) -> None:
    """Not numbered in section 9; held to the tolerance of test 5."""
    kelvin = celsius + 273.15
    assert dew_pressure("R-1234yf", kelvin) == pytest.approx(column_l(kelvin), rel=0.0008)


def test_6_critical_point_inside_the_measured_band() -> None:
    """Thermodynamic properties of HFO-1234yf (Int. J. Refrig. 33, 2010), by meniscus: 367.85 +- 0.01 K,
    3382 +- 3 kPa absolute.
    """
    temperature, pressure = critical_point("R-1234yf")
    assert temperature == pytest.approx(367.85, abs=0.02)
    assert pressure / 1e3 == pytest.approx(3382.0, abs=3.0)


def test_9_which_of_the_two_is_higher() -> None:
    """R-1234yf lies above R-134a in the cold and below it in the heat, crossing near 41.3 degC."""

    def difference(celsius: float) -> float:
        return dew_pressure("R-1234yf", celsius + 273.15) - dew_pressure("R-134a", celsius + 273.15)

    assert difference(0.0) > 0
    assert difference(60.0) < 0
    assert difference(40.0) > 0 > difference(43.0)
    # references.md 1c: about +7.9 % at 0 degC.
    assert difference(0.0) / dew_pressure("R-134a", 273.15) == pytest.approx(0.079, abs=0.001)
