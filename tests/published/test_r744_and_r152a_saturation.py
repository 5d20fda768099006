"""R-744 and R-152a saturation against printed tables (references.md 1d, 1e)."""

from __future__ import annotations

import pytest

from engine.physics.refrigerant import RefrigerantError, critical_point, dew_pressure

# Table for teaching, its origin stated as NIST WebBook, March 2007: degC -> MPa absolute
# (people.ohio.edu/trembly, CO2_TempSat1.html).
R744 = {
    -20: 1.9696, -18: 2.0938, -16: 2.2237, -14: 2.3593, -12: 2.5010, -10: 2.6487, -8: 2.8027, -6: 2.9632,
    -4: 3.1303, -2: 3.3042, 0: 3.4851, 1: 3.5783, 2: 3.6733,
}  # fmt: skip

# Coarser table towards the critical point, three figures (open repository VapourCompressionPython, R744.csv).
R744_COARSE = {5: 3.97, 10: 4.50, 15: 5.09, 20: 5.73, 25: 6.43, 28: 6.89, 30: 7.21}

# ASHRAE 1997 (publisher's companion file K10576): degF -> psia. Section 9 sets no tolerance; 1e prints
# deviations up to 0.06 %.
R152A = {-60: 3.729, -50: 5.096, -45: 5.918, -40: 6.845}

PSI = 6894.757293168


@pytest.mark.parametrize(("celsius", "mpa"), R744.items())
def test_8_r744(celsius: int, mpa: float) -> None:
    assert dew_pressure("R-744", celsius + 273.15) / 1e6 == pytest.approx(mpa, rel=0.0001)


@pytest.mark.parametrize(("celsius", "mpa"), R744_COARSE.items())
def test_r744_towards_the_critical_point(celsius: int, mpa: float) -> None:
    assert dew_pressure("R-744", celsius + 273.15) / 1e6 == pytest.approx(
        mpa, abs=0.006
    )  # half its last figure


@pytest.mark.parametrize("celsius", [31.0, 31.5, 40.0, 60.0])
def test_8_no_saturation_in_a_hot_bay(celsius: float) -> None:
    """Critical point 30.978 degC, 7.377 MPa (ohio.edu property tables)."""
    with pytest.raises(RefrigerantError, match="no saturation"):
        dew_pressure("R-744", celsius + 273.15)


def test_8_boundary() -> None:
    temperature, pressure = critical_point("R-744")
    assert temperature - 273.15 == pytest.approx(30.978, abs=0.001)
    assert pressure / 1e6 == pytest.approx(7.377, abs=0.001)
    assert dew_pressure("R-744", 30.4 + 273.15) < pressure
    with pytest.raises(RefrigerantError, match="outside the table"):
        dew_pressure("R-744", 30.8 + 273.15)  # below the critical point, but too near for the table


@pytest.mark.parametrize(("fahrenheit", "psia"), R152A.items())
def test_r152a(fahrenheit: int, psia: float) -> None:
    kelvin = (fahrenheit + 459.67) / 1.8
    assert dew_pressure("R-152a", kelvin) / PSI == pytest.approx(psia, rel=0.001)
