"""The static gate. The published lower bound is in tests/published/test_static_gate.py."""

from __future__ import annotations

import pytest

from engine.physics.refrigerant import saturation_gauge_pressure
from engine.physics.static import static_charge

SEA = 101325.0
PSI = 6894.757


def charge(psi: float, celsius: float, name: str = "R-134a") -> str | None:
    return static_charge(psi * PSI, saturation_gauge_pressure(name, celsius + 273.15, SEA))


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
        assert static_charge(saturation, saturation) == "liquid"
