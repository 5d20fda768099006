"""Between settled states: too early is in between, late is there."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import pytest

from engine.vehicle.design import reference, with_orifice
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation
from engine.vehicle.state import State
from engine.vehicle.time import AIR_S, CONTROL_S, PRESSURES_S, approach, decay

BASE = Situation(303.15, 0.5, blower=0.3)
LOADED = Situation(303.15, 0.5, blower=1.0, intake="fresh", doors_open=True)
PSI = 6894.757


@pytest.fixture(scope="module")
def base() -> State:
    return settle(reference(), NONE, BASE)


@pytest.fixture(scope="module")
def loaded() -> State:
    return settle(reference(), NONE, LOADED)


def test_at_once_readings_are_still_the_old_and_late_the_new(base: State, loaded: State) -> None:
    assert approach(base, loaded, 0.0).high_side == pytest.approx(base.high_side)
    late = approach(base, loaded, 3600.0)
    for field in fields(State):
        if isinstance(getattr(late, field.name), float) and field.name != "coil_resistance":
            assert getattr(late, field.name) == pytest.approx(getattr(loaded, field.name), rel=1e-3, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "constant"), [("high_side", PRESSURES_S), ("duty", CONTROL_S), ("vent_left", AIR_S)]
)
def test_after_one_time_constant_63_percent_is_done(
    base: State, loaded: State, name: str, constant: float
) -> None:
    first, last = getattr(base, name), getattr(loaded, name)
    done = (getattr(approach(base, loaded, constant), name) - first) / (last - first)
    assert done == pytest.approx(1.0 - math.exp(-1.0))


def test_pressures_lead_and_temperatures_follow() -> None:
    assert PRESSURES_S < CONTROL_S <= AIR_S


def test_a_negative_time_is_refused(base: State, loaded: State) -> None:
    with pytest.raises(ValueError, match="before"):
        approach(base, loaded, -1.0)


def stopped(effects: Effects, seconds: float, orifice: bool = False) -> State:
    car = with_orifice(reference()) if orifice else reference()
    if orifice:
        car = replace(car, charge=replace(car.charge, label_kg=0.84))
    running, off = (settle(car, effects, replace(LOADED, ac_on=on)) for on in (True, False))
    return decay(car, running, off, seconds)


def test_the_command_is_gone_at_once_and_the_high_side_clearly_falls_in_five_seconds(loaded: State) -> None:
    state = stopped(NONE, 5.0)
    assert state.duty == state.current == 0.0
    assert loaded.high_side - state.high_side > 10 * PSI


def test_a_valve_comes_together_in_minutes_and_an_orifice_sooner() -> None:
    valve, orifice = ([stopped(NONE, t, o) for t in (0, 60, 120, 300)] for o in (False, True))
    for states in (valve, orifice):
        gaps = [s.high_side - s.low_side for s in states]
        assert gaps == sorted(gaps, reverse=True)
    assert valve[2].high_side - valve[2].low_side > 60 * PSI
    assert orifice[2].high_side - orifice[2].low_side < 60 * PSI
    assert valve[3].high_side - valve[3].low_side < 60 * PSI


def test_stuck_at_full_stroke_the_sides_stay_apart_undriven() -> None:
    state = stopped(Effects(stroke_low=0.9), 300.0)
    assert state.duty == 0.0
    assert state.high_side - state.low_side > 60 * PSI
