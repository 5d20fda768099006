"""The static gate. The published lower bound is in tests/published/test_static_gate.py."""

from __future__ import annotations

import pytest

from engine.physics.refrigerant import saturation_gauge_pressure
from engine.physics.static import GATE_MARGIN_PA, least_with_liquid, static_charge

SEA = 101325.0
PSI = 6894.757


def charge(psi: float, celsius: float, name: str = "R-134a") -> str | None:
    kelvin = celsius + 273.15
    saturation = saturation_gauge_pressure(name, kelvin, SEA)
    return static_charge(psi * PSI, saturation, least_with_liquid(name, kelvin, SEA))


def test_empty_low_liquid_above_at_25_degc() -> None:
    """R-134a rests at 81.8 psi gauge at 25 degC (666 kPa absolute, references.md 1a)."""
    assert charge(0.0, 25.0) == "empty"
    assert charge(-5.0, 25.0) == "empty"
    assert charge(40.0, 25.0) == "low"
    assert charge(79.0, 25.0) == "liquid"
    assert charge(82.0, 25.0) == "liquid"
    assert charge(90.0, 25.0) == "liquid"  # less than 10 psi above is warmth, not air
    assert charge(95.0, 25.0) == "above"


def test_the_two_common_refrigerants_cannot_be_told_apart() -> None:
    """They differ by 2.5 psi at 25 degC (procedure.md): a system of either passes as the other."""
    for psi in (81.8, 84.3):
        assert charge(psi, 25.0, "R-134a") == charge(psi, 25.0, "R-1234yf") == "liquid"


def test_in_the_cold_nothing_can_be_told() -> None:
    assert charge(5.0, -15.0) is None
    assert charge(20.0, 0.0) == "low"


@pytest.mark.parametrize("celsius", [5.0, 16.0, 25.0, 33.0, 45.0])
def test_saturation_itself_is_always_liquid(celsius: float) -> None:
    for name in ("R-134a", "R-1234yf", "R-152a"):
        saturation = saturation_gauge_pressure(name, celsius + 273.15, SEA)
        least = least_with_liquid(name, celsius + 273.15, SEA)
        assert static_charge(saturation, saturation, least) == "liquid"


@pytest.mark.parametrize("celsius", [0.0, 10.0, 16.0, 24.0, 32.9, 34.0, 37.0, 45.0])
def test_a_car_three_kelvin_colder_than_the_air_is_not_called_undercharged(celsius: float) -> None:
    """Probe 1 K and soak 2 K: its saturation is that of a place 3 K colder."""
    for name in ("R-134a", "R-1234yf", "R-152a"):
        colder = saturation_gauge_pressure(name, celsius + 273.15 - 3.0, SEA)
        assert charge(colder / PSI + 0.01, celsius, name) == "liquid"


@pytest.mark.parametrize("celsius", [0.0, 10.0, 16.0, 24.0, 33.0, 45.0])
def test_gauge_error_of_45_kpa_alone_never_calls_undercharge(celsius: float) -> None:
    saturation = saturation_gauge_pressure("R-134a", celsius + 273.15, SEA)
    assert least_with_liquid("R-134a", celsius + 273.15, SEA) <= saturation - GATE_MARGIN_PA


def test_the_gate_is_never_laxer_than_the_printed_rule_nor_falls_with_temperature() -> None:
    """690 kPa above 33 degC stands 2.1 K under saturation there: between 33 and 34 degC the rule holds."""
    gates = [least_with_liquid("R-134a", 273.15 + tenth / 10, SEA) for tenth in range(160, 480)]
    assert gates == sorted(gates)
    assert least_with_liquid("R-134a", 306.15, SEA) == 690e3
    assert all(gate >= 690e3 for gate in gates[170:])


def test_a_hot_car_with_no_liquid_is_still_low() -> None:
    """At 40 degC R-134a rests at 916 kPa gauge (1017 absolute, references.md 1a): 5 K under is 790."""
    assert charge(790e3 / PSI, 40.0) == "low"
