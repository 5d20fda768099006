"""R-134a saturation pressures and temperatures against printed tables (references.md 1a, 1b)."""

from __future__ import annotations

import pytest

from engine.physics.refrigerant import (
    critical_point,
    dew_pressure,
    dew_temperature,
    saturation_gauge_pressure,
)

# Column A: 0.1 kPa table used in undergraduate thermodynamics, kPa absolute (open repository
# PythonLibrary-proptables, R134a_TempSat.csv). Same formulation as ours: checks units and wiring.
COLUMN_A = {
    -10: 200.6, -8: 216.9, -6: 234.3, -4: 252.7, 0: 292.8, 4: 337.7, 8: 387.6, 12: 443.0, 16: 504.3,
    20: 571.7, 24: 645.8, 28: 726.9, 30: 770.2, 32: 815.4, 36: 911.9, 40: 1016.6, 44: 1130.1, 48: 1252.9,
    52: 1385.4, 56: 1528.2, 60: 1681.8, 70: 2116.8,
}  # fmt: skip

# Column B: condensing table of a component-selection repository, kPa absolute (open repository racselector).
# An older formulation, independent of ours.
COLUMN_B = {
    -10: 200.60, -5: 243.39, 0: 292.93, 5: 349.87, 10: 414.92, 15: 488.78, 20: 572.25, 25: 666.06,
    30: 771.02, 35: 887.91, 40: 1017.61, 45: 1161.01,
}  # fmt: skip

# Column C: Mechanical Engineers' Handbook vol. 4, table 14, bar absolute -> degC. Independent, older. The
# stored page lost the minus signs of the first two.
COLUMN_C = {
    2.0: -10.18, 2.5: -4.38, 3.0: 0.59, 4.0: 8.86, 5.0: 15.68, 6.0: 21.54, 8.0: 31.35, 10.0: 39.41,
    12.0: 46.36,
}  # fmt: skip

# Column F: service-manual vapour-pressure table, bar gauge with its zero at 1 bar absolute (maker withheld).
COLUMN_F = {
    -10: 1.00, -5: 1.43, 0: 1.92, 5: 2.49, 10: 3.13, 15: 3.90, 20: 4.70, 25: 5.63, 30: 6.70, 35: 7.83,
    40: 9.10, 45: 10.54, 50: 12.11, 55: 13.83, 60: 15.72, 65: 17.79, 70: 20.05,
}  # fmt: skip

# Column G: another service manual's, kPa gauge at sea level (maker withheld).
COLUMN_G = {
    -8: 113.1, -6: 130.2, 0: 188.2, 6: 257.4, 10: 309.6, 15: 383.7, 20: 467.7, 25: 567.5, 30: 667.8,
    35: 785.6, 40: 916.4, 45: 1062.2, 50: 1222.1, 55: 1398.2, 60: 1589.6, 65: 1799.0, 70: 2026.6,
}  # fmt: skip


@pytest.mark.parametrize(("celsius", "kpa"), COLUMN_B.items())
def test_1_independent_table(celsius: int, kpa: float) -> None:
    assert dew_pressure("R-134a", celsius + 273.15) / 1e3 == pytest.approx(kpa, rel=0.0015)


@pytest.mark.parametrize(("celsius", "kpa"), COLUMN_A.items())
def test_2_same_formulation(celsius: int, kpa: float) -> None:
    assert dew_pressure("R-134a", celsius + 273.15) / 1e3 == pytest.approx(kpa, rel=0.0003)


@pytest.mark.parametrize(("bar", "celsius"), COLUMN_C.items())
def test_3_temperature_from_pressure(bar: float, celsius: float) -> None:
    assert dew_temperature("R-134a", bar * 1e5) - 273.15 == pytest.approx(celsius, abs=0.15)


@pytest.mark.parametrize(("celsius", "bar"), COLUMN_F.items())
def test_7_gauge_of_a_service_manual_in_bar(celsius: int, bar: float) -> None:
    shown = saturation_gauge_pressure("R-134a", celsius + 273.15, 1e5) / 1e5
    assert shown == pytest.approx(bar, abs=0.15)


@pytest.mark.parametrize(("celsius", "kpa"), COLUMN_G.items())
def test_7_gauge_of_a_service_manual_in_kpa(celsius: int, kpa: float) -> None:
    """Section 9 names a psi column H that is not printed; G stands in, within its printed 2.2 %."""
    shown = saturation_gauge_pressure("R-134a", celsius + 273.15, 101325.0) / 1e3
    assert shown == pytest.approx(kpa, rel=0.0225)


def test_critical_point_of_a_manufacturers_sheet() -> None:
    """Property sheet E: 101.08 degC, 4060.3 kPa absolute; boiling point -26.06 degC."""
    temperature, pressure = critical_point("R-134a")
    assert temperature - 273.15 == pytest.approx(101.08, abs=0.05)
    assert pressure / 1e3 == pytest.approx(4060.3, abs=2.0)
    assert dew_temperature("R-134a", 101325.0) - 273.15 == pytest.approx(-26.06, abs=0.05)


def test_single_point_of_a_webbook() -> None:
    """NIST WebBook point D: 308.15 K, 0.88698 MPa."""
    assert dew_pressure("R-134a", 308.15) / 1e6 == pytest.approx(0.88698, abs=1e-5)
