"""Engine off: saturation with liquid, the gas law without, air by its partial pressure.

Saturation gauge pressures at sea level, kPa: shared/references.md 4c (403 at 16 degC, 544 at 24, 737 at 33
for
R-134a; 425, 562, 748 for R-1234yf).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from engine.vehicle.charge import Contents
from engine.vehicle.design import reference, with_refrigerant
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation
from engine.vehicle.state import State

SATURATION_KPA = {"R-134a": {16: 403, 24: 544, 33: 737}, "R-1234yf": {16: 425, 24: 562, 33: 748}}
AIR_GAS = 287.04


def soaked(
    celsius: float, effects: Effects = NONE, refrigerant: str = "R-134a", minutes: float = 600.0
) -> State:
    car = with_refrigerant(reference(), refrigerant)
    return settle(
        car, effects, Situation(celsius + 273.15, engine_speed=0.0, ac_on=False, soaked_minutes=minutes)
    )


@pytest.mark.parametrize("refrigerant", SATURATION_KPA)
@pytest.mark.parametrize("celsius", [16, 24, 33])
@pytest.mark.parametrize("charge", [0.4, 1.0, 1.4])
def test_with_liquid_the_charge_does_not_show(refrigerant: str, celsius: int, charge: float) -> None:
    """A third full, a full and an overfull one read alike (procedure.md)."""
    state = soaked(celsius, Effects(charge_factor=charge), refrigerant)
    assert state.liquid_present
    assert state.low_side == state.high_side
    assert state.high_side / 1e3 == pytest.approx(SATURATION_KPA[refrigerant][celsius], abs=1.0)


def test_little_vapour_follows_the_gas_law() -> None:
    """R-134a, 102.03 g/mol: at a twentieth of the charge within a few percent of an ideal gas."""
    state = soaked(25.0, Effects(charge_factor=0.05))
    volume = Contents(reference(), NONE).total_m3
    ideal = state.charge_kg / volume * 8.314 / 0.10203 * 298.15
    assert not state.liquid_present
    assert state.high_side + 101325.0 == pytest.approx(ideal, rel=0.08)
    assert state.high_side + 101325.0 < ideal


def test_an_empty_system_stands_at_the_air_around_it() -> None:
    assert soaked(25.0, Effects(charge_factor=0.0)).high_side == 0.0


def test_air_adds_its_partial_pressure() -> None:
    clean, airy = soaked(25.0), soaked(25.0, Effects(air_kg=0.004))
    whole = Contents(reference(), NONE).total_m3
    most = 0.004 * AIR_GAS * 298.15 / (0.7 * whole)
    least = 0.004 * AIR_GAS * 298.15 / whole
    assert least < airy.high_side - clean.high_side < most


def test_a_mixture_reads_above_both() -> None:
    assert soaked(25.0, Effects(saturation_factor=1.15)).high_side > 1.1 * soaked(25.0).high_side


def test_not_soaked_reads_higher_and_sinks() -> None:
    just, later, soon = (soaked(25.0, minutes=m).high_side for m in (1.0, 600.0, 30.0))
    assert just > soon > later


def test_the_sensor_tells_what_the_gauge_tells_or_its_error() -> None:
    state = soaked(25.0, Effects(pressure_sensor_pa=-2e5, evaporator_sensor_k=7.0))
    assert state.pressure_sensor == pytest.approx(state.high_side - 2e5)
    assert state.evaporator_sensor == pytest.approx(305.15)
    assert state.ambient_sensor == pytest.approx(298.15)


def test_a_low_static_pressure_keeps_the_compressor_off() -> None:
    empty = settle(reference(), Effects(charge_factor=0.02), Situation(298.15))
    assert not empty.running
    assert empty.reason == "pressure-low"
    clutch = replace(reference(), compressor=replace(reference().compressor, clutch=True))
    assert not settle(clutch, Effects(charge_factor=0.02), Situation(298.15)).running
