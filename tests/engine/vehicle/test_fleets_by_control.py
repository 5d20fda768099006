"""Fleets of cars without a stroke solenoid, their faults and readings."""

from __future__ import annotations

from random import Random

import pytest

from engine.flow.model import VEHICLES
from engine.vehicle.fault_effects import NONE
from engine.vehicle.faults import FAULTS, faults_of, injure
from engine.vehicle.fleet import FLEET, FLEETS, fleet_named, fleets_of
from engine.vehicle.job_meters import JOB_METERS
from engine.vehicle.loop import settle
from engine.vehicle.set_readings import SET_READINGS
from engine.vehicle.trial.case import Ask, Fault
from engine.vehicle.trial.draw import FleetDrawer

OTHERS = ("internal", "fixed")
CYCLE = ("clutch_action", "clutch_on_time", "clutch_off_time", "low_side_at_close")


def test_each_control_has_a_fleet_and_its_shifted_twin() -> None:
    for control in VEHICLES:
        first, second = fleets_of(control)
        assert second.endswith("shifted")
        assert {fleet_named(name).control for name in (first, second)} == {control}
        assert FleetDrawer(control).fleets() == (first, second)
    assert fleets_of("solenoid") == tuple(FLEETS)


@pytest.mark.parametrize("control", OTHERS)
def test_a_car_has_what_it_is_drawn_for(control: str) -> None:
    for name in fleets_of(control):
        cars = [fleet_named(name).vehicle(1, i) for i in range(40)]
        assert {car.compressor.control for car in cars} == {control}
        assert {car.compressor.clutch for car in cars} == {True}
        assert {car.orifice for car in cars} == {True, False}
        switches = {(car.orifice, car.controller.cycling_by) for car in cars}
        pressure = "pressure" if control == "fixed" else "thermostat"
        assert switches == {(True, pressure), (False, "thermostat")}


def test_the_figures_before_the_switches_are_those_of_the_car_with_a_solenoid() -> None:
    for i in range(10):
        one, other = FLEET.vehicle(5, i), fleet_named("internal").vehicle(5, i)
        assert one.condenser.conductance_w_k == other.condenser.conductance_w_k
        assert one.cabin.gain_w_k == other.cabin.gain_w_k


@pytest.mark.parametrize("name", [name for control in OTHERS for name in fleets_of(control)])
def test_sound_cars_cool_on_their_day(name: str) -> None:
    for i in range(20):
        drawn = fleet_named(name).draw(4, i)
        state = settle(drawn.vehicle, NONE, drawn.weather.situation)
        assert state.running
        assert state.vent_temperature < drawn.weather.ambient_k - 5.0


def test_faults_that_make_no_sense_are_not_drawn() -> None:
    assert not {name for name in faults_of("fixed") if name.startswith(("solenoid", "stroke"))}
    assert not {name for name in faults_of("internal") if name.startswith(("solenoid", "cycling"))}
    assert "stroke-valve-stuck-low" in faults_of("internal")
    assert not {"clutch-slips", "cycling-switch-late", "cut-out-switch-open"} & set(FAULTS)
    assert "clutch-slips" in FleetDrawer("fixed").faults()


def test_ice_comes_of_what_the_car_has() -> None:
    for control, cause in (("fixed", "cycling-switch-late"), ("internal", "stroke-valve-stuck-high")):
        car = fleet_named(control).vehicle(1, 3)
        ways = {injure(car, "evaporator-icing", 0.6, Random(i)).way for i in range(30)}
        assert ways == {cause, "evaporator-airflow"}


@pytest.mark.parametrize("control", OTHERS)
def test_every_fault_can_be_drawn_and_read(control: str) -> None:
    drawer = FleetDrawer(control)
    for finding, graded in drawer.faults().items():
        fault = Fault(finding, 0.7 if graded else None)
        case = drawer.draw(Ask(drawer.fleets()[1], 2, 5, (fault,)))
        bench = case.technician(case.faults).bench  # type: ignore[attr-defined]
        assert bench.state(bench.raised).low_side >= -101325.0
        assert case.about["compressor"] == control


def test_a_stopwatch_and_two_looks_at_the_gauge_are_read_of_a_clutch_that_cycles() -> None:
    drawer = FleetDrawer("fixed")
    for i in range(12):
        bench = drawer.draw(Ask("fixed", 3, i)).technician(()).bench  # type: ignore[attr-defined]
        state = bench.state(bench.lowered)
        told = {name: SET_READINGS[name](bench, bench.lowered, state) for name in CYCLE}
        assert (told["clutch_action"] == "cycles") == state.cycling
        times = [told[name] for name in CYCLE[1:]]
        assert all(one is not None for one in times) if state.cycling else times == [None] * 3


@pytest.mark.parametrize(("way", "seen"), [("low", "low-open"), ("high", "high-open")])
def test_a_switch_open_by_itself_is_found_at_its_own_pins(way: str, seen: str) -> None:
    drawer = FleetDrawer("fixed")
    for i in range(30):
        case = drawer.draw(Ask("fixed", 4, i, (Fault("cut-out-switch-open"),)))
        bench = case.technician(case.faults).bench  # type: ignore[attr-defined]
        assert JOB_METERS["clutch_supply"](bench).true == 0.0  # type: ignore[union-attr]
        if bench.way("cut-out-switch-open") == way:
            assert JOB_METERS["cut_out_switches"](bench) == seen
            return
    pytest.fail("that way was never drawn")
