"""The solenoid's circuit by Ohm's law, and what its faults leave of the command.

Copper: 0.00393 per kelvin at 20 degC (IEC 60028; shared/references.md 5). Hand reckoning throughout.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from engine.vehicle.design import reference
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation
from engine.vehicle.state import State

HOT_LOADED = Situation(308.15, 0.5, blower=1.0, intake="fresh", doors_open=True)


def run(effects: Effects = NONE, situation: Situation = HOT_LOADED) -> State:
    return settle(reference(), effects, situation)


def test_at_the_ceiling_the_duty_makes_the_largest_current_in_warm_copper() -> None:
    state, part = run(), reference().electrics
    assert state.current == pytest.approx(reference().valve.current_max_a)
    ohm = part.coil_ohm_20 * (1 + 0.00393 * (state.coil_temperature - 293.15))
    assert state.coil_resistance == pytest.approx(ohm)
    assert state.duty == pytest.approx(state.current * (ohm + part.wiring_ohm) / part.supply_v)
    assert 0.75 <= state.duty <= 1.0  # full cold, references.md 5
    assert state.mean_volts == pytest.approx(state.current * ohm)


def test_a_duty_driven_unit_keeps_its_duty_and_its_current_follows_the_heat() -> None:
    car = reference()
    car = replace(car, electrics=replace(car.electrics, regulation="duty"))
    cool, hot = (settle(car, NONE, replace(HOT_LOADED, ambient_k=k)) for k in (303.15, 309.15))
    assert hot.duty == pytest.approx(cool.duty)
    assert hot.current < cool.current


@pytest.mark.parametrize(
    "effects", [Effects(coil_open=True), Effects(supply_lost=True), Effects(coil_shorted=True)]
)
def test_without_current_the_stroke_is_at_its_smallest(effects: Effects) -> None:
    state = run(effects)
    assert state.current == 0.0
    assert state.stroke == pytest.approx(reference().compressor.smallest_stroke, rel=1e-2)
    assert state.low_side > run().low_side


def test_what_a_meter_finds() -> None:
    assert run(Effects(coil_open=True)).coil_resistance == float("inf")
    assert run(Effects(coil_shorted=True)).coil_resistance < 0.3
    assert run(Effects(supply_lost=True)).supply_volts == 0.0
    assert run(Effects(coil_open=True)).duty > 0.5  # the control goes on asking


@pytest.mark.parametrize("two_wire", [True, False])
def test_a_coil_that_touches_its_case_reads_short_only_where_it_returns_through_it(two_wire: bool) -> None:
    """The one way in leads to the case at once; of two pins each still sees the whole winding."""
    car = reference()
    car = replace(car, electrics=replace(car.electrics, two_wire=two_wire))
    ohm = settle(car, Effects(coil_to_case=True), HOT_LOADED).coil_resistance
    assert (ohm > 0.9 * car.electrics.coil_ohm_20) is two_wire
    assert (ohm < 0.3) is not two_wire


def test_unplugged_the_stroke_collapses_unless_stuck() -> None:
    unplugged = replace(HOT_LOADED, unplugged=True)
    assert run(situation=unplugged).stroke < 0.1
    assert run(Effects(stroke_low=0.9), unplugged).stroke == pytest.approx(0.9, rel=1e-2)
    assert run(Effects(driver_stuck_on=True), unplugged).stroke < 0.1


def test_a_driver_that_holds_on_drives_with_the_ac_off() -> None:
    state = run(Effects(driver_stuck_on=True), replace(HOT_LOADED, ac_on=False))
    assert state.current > 0.8
    assert state.stroke > 0.5


def test_resistance_in_the_wiring_is_made_up_for_until_it_cannot() -> None:
    little, much = run(Effects(circuit_ohm=2.0)), run(Effects(circuit_ohm=25.0))
    assert little.current == pytest.approx(run().current)
    assert little.duty > run().duty
    assert much.current < 0.5
    assert much.duty == pytest.approx(reference().electrics.duty_max)


@pytest.mark.parametrize("reason", ["request", "ambient", "coolant"])
def test_a_withheld_command_says_why(reason: str) -> None:
    state = run(Effects(command_withheld=reason))
    assert state.reason == reason
    assert state.duty == state.command_share == 0.0
    assert state.running  # clutchless: the shaft turns at its smallest stroke


def test_a_scan_tool_passes_over_the_reason_but_not_over_pressure() -> None:
    held = replace(HOT_LOADED, command="maximum")
    assert run(Effects(command_withheld="request"), held).stroke > 0.9
    assert run(Effects(pressure_sensor_pa=-3e6), held).reason == "pressure-low"
