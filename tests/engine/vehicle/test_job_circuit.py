"""The solenoid's circuit pin by pin, as the technician finds it. Ohm's law by hand beside each value."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from engine.vehicle.bench import Bench, Measured
from engine.vehicle.design import Vehicle, reference
from engine.vehicle.faults import Injury, injure
from engine.vehicle.job_circuit import JOB_CIRCUIT
from engine.vehicle.set_readings import SET_READINGS
from engine.vehicle.shop import Shop
from engine.vehicle.weather import Weather

SHOP = Shop(True, True, True, True, True, True, True, True, "wire-to-ground", "positive", 0.2, 0.0, 1.0)
HOT = Weather(306.15, 0.45, 0.0, 101325.0, 600.0)
GROUND = reference()
SUPPLY = replace(GROUND, electrics=replace(GROUND.electrics, switched_side="supply"))


def bench(way: str = "", car: Vehicle = GROUND, shop: Shop = SHOP) -> Bench:
    injuries: tuple[Injury, ...] = ()
    if way:
        drawn = (injure(car, "solenoid-circuit", None, Random(seed)) for seed in range(100))
        injuries = (next(one for one in drawn if one.way == way),)
    return Bench("test", car, injuries, HOT, shop)


def true(name: str, one: Bench) -> float | None:
    told = JOB_CIRCUIT[name](one)
    assert told is None or isinstance(told, Measured)
    return None if told is None else told.true


def test_a_sound_open_plug_carries_its_feed_and_nothing_across() -> None:
    assert true("plug_feed_volts", bench()) == pytest.approx(GROUND.electrics.battery_v)
    assert true("plug_volts_ac_off", bench()) == 0.0


def test_a_lost_feed_lights_no_lamp() -> None:
    assert true("plug_feed_volts", bench("supply")) == 0.0


def test_a_resistance_shares_the_volts_with_the_lamp() -> None:
    """5 W at 12 V are 28.8 ohm; with the 30 ohm that are drawn at least, half of 12.5 V is left."""
    one = bench("resistance")
    left = true("plug_feed_volts", one)
    assert left == pytest.approx(12.5 * 28.8 / (28.8 + one.effects.circuit_ohm))
    assert left is not None
    assert left < 6.2


def test_a_driver_that_holds_on_shows_battery_volts_with_the_ac_off() -> None:
    assert true("plug_volts_ac_off", bench("stuck-on")) == pytest.approx(GROUND.electrics.battery_v)


def test_each_pin_is_measured_on_the_side_that_has_it() -> None:
    assert true("plug_feed_volts", bench(car=SUPPLY)) is None
    assert true("feed_drop", bench(car=SUPPLY)) is None
    assert true("return_drop", bench()) is None


def test_volts_lost_are_current_times_resistance() -> None:
    one = bench("resistance")
    state = one.state(one.raised)
    ohm = one.effects.circuit_ohm + GROUND.electrics.wiring_ohm
    assert true("feed_drop", one) == pytest.approx(state.current * ohm)
    sound = true("return_drop", bench(car=SUPPLY))
    assert sound is not None
    assert sound < 0.1  # under 0.15 ohm at under an ampere


def test_pins_are_known_with_the_makers_data() -> None:
    assert JOB_CIRCUIT["pins_identified"](bench()) == "yes"
    modest = replace(SHOP, service_data=False)
    told = {JOB_CIRCUIT["pins_identified"](Bench(f"k{i}", GROUND, (), HOT, modest)) for i in range(20)}
    assert told == {"yes", "no"}


@pytest.mark.parametrize(("car", "pulsed"), [(GROUND, False), (SUPPLY, True)])
def test_volts_in_a_set_are_those_of_that_set(car: Vehicle, pulsed: bool) -> None:
    one = bench(car=car)
    state = one.state(one.raised)
    told = SET_READINGS["solenoid_supply"](one, one.raised, state)
    assert isinstance(told, Measured)
    assert told.true == pytest.approx(state.supply_volts * (state.duty if pulsed else 1.0))
    off = SET_READINGS["mean_volts"](one, one.switched_off, one.state(one.switched_off))
    assert isinstance(off, Measured)
    assert off.true == 0.0
