"""Fleets: the same car for the same number, all within what is stated."""

from random import Random

import pytest

from engine.physics.moist_air import dew_point
from engine.vehicle.design import parameters, reference
from engine.vehicle.fault_effects import NONE
from engine.vehicle.fleet import FLEET, FLEETS, SHIFTED
from engine.vehicle.loop import settle
from engine.vehicle.weather import draw_weather

NUMBERS = range(40)


def test_two_fleets_the_one_to_train_on_first() -> None:
    assert list(FLEETS) == ["fleet", "shifted"]


@pytest.mark.parametrize("fleet", [FLEET, SHIFTED], ids=lambda fleet: fleet.name)
def test_a_number_is_a_car_whatever_was_drawn_before(fleet: object) -> None:
    assert isinstance(fleet, type(FLEET))
    forth = [fleet.draw(3, i) for i in range(6)]
    back = [fleet.draw(3, i) for i in reversed(range(6))]
    assert forth == back[::-1]


def test_seeds_and_numbers_differ() -> None:
    cars = {FLEET.vehicle(seed, i) for seed in (1, 2) for i in range(5)}
    assert len(cars) == 10


def test_every_spread_names_a_parameter_and_keeps_to_it() -> None:
    known = {one.path for one in parameters(reference())}
    assert all(one.path in known for one in (*FLEET.spreads, *SHIFTED.spreads))
    for i in NUMBERS:
        ohm = FLEET.vehicle(1, i).electrics.coil_ohm_20
        assert 10.1 <= ohm <= 11.1  # references.md section 5


def test_kinds_come_in_about_their_stated_shares() -> None:
    cars = [FLEET.vehicle(1, i) for i in range(200)]
    share = sum(car.refrigerant == "R-1234yf" for car in cars) / 200
    assert 0.35 < share < 0.65  # of 0.5; four standard deviations are 0.14
    assert {car.valve.kind for car in cars} == {"suction", "difference", "flow"}
    assert {car.orifice for car in cars} == {car.clutchless for car in cars} == {True, False}


def test_a_fault_gets_a_car_that_can_have_it() -> None:
    for i in NUMBERS:
        assert not FLEET.vehicle(1, i, ["clutch-circuit"]).clutchless
        assert not FLEET.vehicle(1, i, ["expansion-valve-stuck-open"]).orifice


def test_refrigerant_and_ambient_can_be_asked_for() -> None:
    for i in NUMBERS:
        drawn = FLEET.draw(1, i, ambient=(300.0, 301.0), refrigerant="R-134a")
        assert drawn.vehicle.refrigerant == "R-134a"
        assert 300.0 <= drawn.weather.ambient_k <= 301.0


def test_weather_stays_within_what_is_stated() -> None:
    for i in range(300):
        weather = draw_weather(Random(i))
        assert 288.15 <= weather.ambient_k <= 315.15
        assert 0.10 <= weather.relative_humidity <= 0.95
        assert 70e3 < weather.atmosphere_pa < 104e3
        dew_k = dew_point(weather.ambient_k, weather.relative_humidity)
        assert dew_k < 300.15  # nowhere is a dew point of 27 degC usual


def test_sound_cars_cool_on_their_day_and_hold_about_their_label() -> None:
    for fleet in (FLEET, SHIFTED):
        for i in range(25):
            drawn = fleet.draw(4, i)
            state = settle(drawn.vehicle, NONE, drawn.weather.situation)
            assert state.running
            assert state.vent_temperature < drawn.weather.ambient_k - 5.0
            assert 0.95 <= drawn.vehicle.charge.filled <= 1.04
