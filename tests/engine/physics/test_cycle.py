"""Superheated vapour and the ideal cycle, against the equation of state and against thermodynamics itself."""

from __future__ import annotations

import pytest
from CoolProp import CoolProp as CP

from engine.physics.cycle import CYCLE_REFRIGERANTS, cycle_points, dome
from engine.physics.refrigerant import RefrigerantError, critical_point, dew_pressure, dew_temperature
from engine.physics.vapour import isentropic_enthalpy, saturated, vapour_enthalpy, vapour_entropy

FLUIDS = {"R-134a": "R134a", "R-1234yf": "R1234yf"}
SATURATIONS_C = [-37.3, -20.9, -6.1, 3.7, 11.9, 38.3, 52.1, 66.7, 79.9]
SUPERHEATS_K = [0.1, 1.7, 5.3, 12.1, 23.9, 44.0]

both = pytest.mark.parametrize("name", CYCLE_REFRIGERANTS)


@both
def test_vapour_between_the_nodes(name: str) -> None:
    for saturation_c in SATURATIONS_C:
        pressure = dew_pressure(name, saturation_c + 273.15)
        for superheat in SUPERHEATS_K:
            temperature = saturation_c + 273.15 + superheat
            enthalpy = CP.PropsSI("H", "T", temperature, "P", pressure, FLUIDS[name])
            entropy = CP.PropsSI("S", "T", temperature, "P", pressure, FLUIDS[name])
            assert vapour_enthalpy(name, pressure, temperature) == pytest.approx(enthalpy, abs=10.0)
            assert vapour_entropy(name, pressure, temperature) == pytest.approx(entropy, abs=0.02)


@both
@pytest.mark.parametrize(
    ("low_c", "high_c", "superheat"), [(-5, 50, 8), (2, 60, 5), (10, 75, 12), (-20, 40, 0.5)]
)
def test_ideal_compression(name: str, low_c: float, high_c: float, superheat: float) -> None:
    low, high = dew_pressure(name, low_c + 273.15), dew_pressure(name, high_c + 273.15)
    entropy = CP.PropsSI("S", "T", low_c + 273.15 + superheat, "P", low, FLUIDS[name])
    expected = CP.PropsSI("H", "P", high, "S", entropy, FLUIDS[name])
    assert isentropic_enthalpy(name, high, entropy) == pytest.approx(expected, abs=20.0)


def test_r1234yf_compressed_from_dry_vapour_ends_wet() -> None:
    """Its saturated vapour line leans over: the equation of state says the same."""
    high = dew_pressure("R-1234yf", 343.15)
    entropy = CP.PropsSI("S", "T", 268.15, "Q", 1, "R1234yf")
    assert CP.PropsSI("Q", "P", high, "S", entropy, "R1234yf") < 1.0
    expected = CP.PropsSI("H", "P", high, "S", entropy, "R1234yf")
    assert isentropic_enthalpy("R-1234yf", high, entropy) == pytest.approx(expected, abs=20.0)


@both
def test_corners_of_the_cycle(name: str) -> None:
    low, high = 3e5, 15e5
    points = {point.name: point for point in cycle_points(name, low, high, 6.0, 8.0, 353.15)}
    assert list(points) == [
        "suction",
        "ideal discharge",
        "measured discharge",
        "condenser outlet",
        "evaporator inlet",
    ]
    assert [point.pressure for point in points.values()] == [low, high, high, high, low]
    assert points["evaporator inlet"].enthalpy == points["condenser outlet"].enthalpy
    assert (
        points["ideal discharge"].enthalpy > points["suction"].enthalpy > points["evaporator inlet"].enthalpy
    )
    suction_k = dew_temperature(name, low) + 6.0
    liquid_k = dew_temperature(name, high) - 8.0
    fluid = FLUIDS[name]
    expected = CP.PropsSI("H", "T", suction_k, "P", low, fluid)
    assert points["suction"].enthalpy == pytest.approx(expected, abs=10)
    expected = CP.PropsSI("H", "T", 353.15, "P", high, fluid)
    assert points["measured discharge"].enthalpy == pytest.approx(expected, abs=10)
    expected = CP.PropsSI("H", "T", liquid_k, "P", high, fluid)  # true subcooled liquid
    assert points["condenser outlet"].enthalpy == pytest.approx(expected, abs=250)


@both
def test_wet_suction_and_flash_gas_are_drawn_on_the_dome(name: str) -> None:
    at_zero = cycle_points(name, 3e5, 15e5, 0.0, 0.0)
    assert cycle_points(name, 3e5, 15e5, -4.0, -2.0) == at_zero
    liquid, vapour, place = saturated(name, dew_temperature(name, 3e5))
    assert at_zero[0].enthalpy == pytest.approx(vapour.enthalpy.at(place), abs=5)
    assert liquid.enthalpy.at(place) < at_zero[-1].enthalpy < at_zero[0].enthalpy


@both
def test_dome_rises_to_the_critical_point_and_falls_again(name: str) -> None:
    points = dome(name, 40)
    pressures = [pressure for _, pressure in points]
    enthalpies = [enthalpy for enthalpy, _ in points]
    assert len(points) == 80
    assert pressures[:40] == sorted(pressures[:40])
    assert pressures[40:] == sorted(pressures[40:], reverse=True)
    assert enthalpies[:40] == sorted(enthalpies[:40])
    assert max(pressures) == pytest.approx(critical_point(name)[1], rel=0.015)
    assert points[0][0] < points[-1][0]
    assert points[0][1] == points[-1][1]


def test_errors_say_what_to_check() -> None:
    with pytest.raises(RefrigerantError, match="high side is not above the low side"):
        cycle_points("R-134a", 5e5, 5e5, 5.0, 5.0)
    with pytest.raises(RefrigerantError, match="no vapour at 20 degC"):
        cycle_points("R-134a", 3e5, 15e5, 5.0, 5.0, 293.15)
    with pytest.raises(RefrigerantError, match="R-152a: the tables hold its saturation only"):
        cycle_points("R-152a", 3e5, 15e5, 5.0, 5.0)
    with pytest.raises(RefrigerantError, match="no enthalpy for R-744"):
        dome("R-744")
    with pytest.raises(RefrigerantError, match="Check the high-side gauge"):
        isentropic_enthalpy("R-134a", dew_pressure("R-134a", 372.0), 1700.0)
    with pytest.raises(RefrigerantError, match="more than 100 K above dew"):
        isentropic_enthalpy("R-134a", 15e5, 2500.0)
    with pytest.raises(RefrigerantError, match=r"ends at 136\.9 degC"):  # equation of state valid to 410 K
        vapour_enthalpy("R-1234yf", 20e5, 415.0)
