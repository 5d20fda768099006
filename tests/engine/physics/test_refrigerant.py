"""Saturation as a program uses it: properties that hold everywhere, and errors that help."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.physics.quantity import parse_any
from engine.physics.refrigerant import (
    REFRIGERANTS,
    RefrigerantError,
    bubble_pressure,
    bubble_temperature,
    critical_point,
    dew_pressure,
    dew_temperature,
    saturation_gauge_pressure,
    subcooling,
    superheat,
    table_for,
)

names = st.sampled_from(REFRIGERANTS)
shares = st.floats(0.0, 1.0)


def inside(name: str, share: float) -> float:
    table = table_for(name)
    return table.low_temperature_k + share * (table.high_temperature_k - table.low_temperature_k)


@given(names, shares)
def test_there_and_back(name: str, share: float) -> None:
    temperature = inside(name, share)
    assert dew_temperature(name, dew_pressure(name, temperature)) == pytest.approx(temperature, abs=1e-6)


@given(names, shares, shares)
def test_warmer_is_higher(name: str, one: float, other: float) -> None:
    cold, warm = sorted((inside(name, one), inside(name, other)))
    if warm - cold > 1e-6:
        assert dew_pressure(name, cold) < dew_pressure(name, warm)


@given(names, shares)
def test_dew_is_never_above_bubble(name: str, share: float) -> None:
    """For a pure substance they are equal; for any blend the bubble pressure is the higher one."""
    temperature = inside(name, share)
    assert bubble_pressure(name, temperature) >= dew_pressure(name, temperature)
    pressure = dew_pressure(name, temperature)
    assert dew_temperature(name, pressure) >= bubble_temperature(name, pressure)


@given(st.sampled_from(["R-134a", "R-1234yf", "R-152a"]), st.floats(0.05, 0.95), st.floats(-20.0, 40.0))
def test_superheat_and_subcooling_are_counted_from_saturation(name: str, share: float, kelvin: float) -> None:
    saturation = inside(name, share)
    pressure = dew_pressure(name, saturation)
    assert superheat(name, pressure, saturation + kelvin) == pytest.approx(kelvin, abs=1e-6)
    assert subcooling(name, pressure, saturation - kelvin) == pytest.approx(kelvin, abs=1e-6)


def test_the_ends_of_the_table_belong_to_it() -> None:
    for name in REFRIGERANTS:
        table = table_for(name)
        for end in (table.low_temperature_k, table.high_temperature_k):
            assert dew_temperature(name, dew_pressure(name, end)) == pytest.approx(end, abs=1e-6)
        assert table.high_temperature_k < critical_point(name)[0]


@pytest.mark.parametrize("text", ["-60 degC", "-76 degF", "213.15 K"])
def test_the_lower_end_may_be_typed_in_any_unit(text: str) -> None:
    """-60 + 273.15 is 213.14999999999998 as a double."""
    pressure = dew_pressure("R-134a", parse_any(text).si)
    assert dew_temperature("R-134a", pressure) == pytest.approx(213.15, abs=1e-6)


def test_a_gauge_reads_more_on_a_mountain() -> None:
    """references.md section 8: at 2000 m a gauge reads 21.8 kPa more for the same absolute pressure."""
    sea = saturation_gauge_pressure("R-134a", 298.15, 101325.0)
    high = saturation_gauge_pressure("R-134a", 298.15, 79495.2)
    assert high - sea == pytest.approx(21.8e3, abs=50.0)


def test_pressure_errors_speak_the_readers_unit() -> None:
    with pytest.raises(RefrigerantError) as gauge:
        dew_temperature("R-134a", 650 * 6894.757, pressure_unit="psi", temperature_unit="degF")
    sentence = str(gauge.value)
    assert "635.3 psi is above the table of R-134a" in sentence  # 650 psia less 14.7
    assert "-12.4 psi (-76 degF)" in sentence
    assert "critical point" in sentence
    assert sentence.endswith("Check gauge, number and unit.")
    with pytest.raises(RefrigerantError, match="45 bara is above"):
        dew_temperature("R-134a", 45e5, pressure_unit="bara")
    with pytest.raises(RefrigerantError, match=r"20.51 kPa|-81 kPa is below|is below the table"):
        dew_temperature("R-1234yf", 10e3, pressure_unit="kPa")


def test_the_gauge_in_an_error_is_read_in_the_air_around() -> None:
    with pytest.raises(RefrigerantError, match="4500 kPa is above"):
        dew_temperature("R-134a", 4500e3 + 80e3, pressure_unit="kPa", atmosphere_pa=80e3)


def test_temperature_errors_name_both_ends() -> None:
    with pytest.raises(RefrigerantError, match=r"-70 degC is outside .* -60 degC to 100.6 degC"):
        dew_pressure("R-134a", 203.15)
    with pytest.raises(RefrigerantError, match=r"no saturation at 266 degF"):
        dew_pressure("R-134a", 403.15, temperature_unit="degF")


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, -1.0, 0.0])
def test_hopeless_numbers_are_refused(value: float) -> None:
    with pytest.raises(RefrigerantError):
        dew_temperature("R-134a", value)
    with pytest.raises(RefrigerantError):
        dew_pressure("R-134a", value)


def test_unknown_refrigerant_lists_the_known_ones() -> None:
    with pytest.raises(RefrigerantError, match=r"'other'; there are for R-134a, R-1234yf, R-152a, R-744"):
        dew_pressure("other", 300.0)


def test_r744_has_saturation_only() -> None:
    assert dew_pressure("R-744", 273.15) > 3e6
    for attempt in (superheat, subcooling):
        with pytest.raises(RefrigerantError, match="critical point"):
            attempt("R-744", 4e6, 300.0)
