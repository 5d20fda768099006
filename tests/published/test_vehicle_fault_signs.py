"""The simulated vehicle against published fault signs (shared/references.md 2a and 2b; tests 19 and 20).

2a: rule table of the statistical rule-based method, as printed in the thesis *Fault Detection and
Diagnostics for
Rooftop Air Conditioners*, table 1-1, p. 22: signs of measured minus expected for a fixed orifice and a
fixed-speed, fixed-displacement compressor. 2b: installation manual of a unit with an expansion valve:
subcooling
and superheat of an overcharged, an undercharged one and one with a plugged valve.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from engine.vehicle.design import fixed_orifice, reference
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.labelling import LOADED_REFERENCE, labelled
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation
from engine.vehicle.state import State

DEAD_BAND_K = 0.5  # what a clamp thermometer cannot tell from nothing

# Evaporating, superheat, condensing, subcooling, hot gas, air rise over condenser, air fall over evaporator.
COLUMNS = ("Tevap", "Tsh", "Tcond", "Tsc", "Thg", "dTca", "dTea")
TABLE = {
    "refrigerant leakage": "-+--+--",
    "compressor valve leak": "+------",
    "liquid restriction": "-+-++--",
    "condenser fouling": "+-+-++-",
    "evaporator fouling": "------+",
}
FAULTS = {
    "refrigerant leakage": Effects(charge_factor=0.85),
    "compressor valve leak": Effects(leak_area_m2=1.0e-6),
    "liquid restriction": Effects(liquid_resistance=2.5e8),
    "condenser fouling": Effects(condenser_airflow=0.7),
    "evaporator fouling": Effects(evaporator_airflow=0.7),
}
WARM_DAY = Situation(303.15, 0.5, engine_speed=25.0, blower=1.0, intake="fresh")


def columns(state: State) -> tuple[float, ...]:
    return (
        state.evaporating_k,
        state.superheat,
        state.condensing_k,
        state.subcooling,
        state.discharge_temperature,
        state.condenser_air_out_temperature - state.condenser_air_temperature,
        state.intake_temperature - state.coil_air_temperature,
    )


@cache
def residuals(fault: str) -> tuple[float, ...]:
    car = labelled(fixed_orifice())
    healthy, faulty = (columns(settle(car, e, WARM_DAY)) for e in (NONE, FAULTS[fault]))
    return tuple(now - expected for now, expected in zip(faulty, healthy, strict=True))


@pytest.mark.parametrize("fault", TABLE)
@pytest.mark.parametrize("column", range(7), ids=COLUMNS)
def test_the_sign_is_the_published_one(fault: str, column: int) -> None:
    moved = residuals(fault)[column]
    against = -moved if TABLE[fault][column] == "+" else moved
    assert against < DEAD_BAND_K


@pytest.mark.parametrize("fault", TABLE)
def test_most_signs_are_clear(fault: str) -> None:
    """The dead band excuses a sign or two of a fault, not a model in which nothing moves."""
    assert sum(abs(moved) > DEAD_BAND_K for moved in residuals(fault)) >= 5


@cache
def of_valve_car(effects: Effects, receiver: bool) -> tuple[float, float]:
    """Change of (subcooling, superheat at the evaporator outlet) of a car with an expansion valve.

    The unit of the manual has no receiver; a receiver takes up what a plugged valve keeps back, and
    subcooling
    stays flat (procedure.md), so that sign is asked of a condenser without one.
    """
    car = reference()
    if not receiver:
        car = replace(car, condenser=replace(car.condenser, receiver_m3=0.0))
    car = labelled(car)
    healthy, faulty = (settle(car, e, LOADED_REFERENCE) for e in (NONE, effects))
    return (
        faulty.subcooling - healthy.subcooling,
        faulty.evaporator_superheat - healthy.evaporator_superheat,
    )


@pytest.mark.parametrize("receiver", [False, True])
def test_overcharged_valve_car(receiver: bool) -> None:
    subcooling, superheat = of_valve_car(Effects(charge_factor=1.4), receiver)
    assert subcooling > DEAD_BAND_K
    assert abs(superheat) < DEAD_BAND_K


@pytest.mark.parametrize("receiver", [False, True])
def test_undercharged_valve_car(receiver: bool) -> None:
    subcooling, superheat = of_valve_car(Effects(charge_factor=0.4), receiver)
    assert subcooling < -DEAD_BAND_K
    assert superheat > DEAD_BAND_K


def test_plugged_valve_car() -> None:
    subcooling, superheat = of_valve_car(Effects(opening_high=0.3), receiver=False)
    assert subcooling > DEAD_BAND_K
    assert superheat > DEAD_BAND_K


def test_a_receiver_holds_subcooling_flat_behind_a_plugged_valve() -> None:
    subcooling, superheat = of_valve_car(Effects(opening_high=0.3), receiver=True)
    assert abs(subcooling) < 2.0
    assert superheat > DEAD_BAND_K
