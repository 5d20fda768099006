"""What each degradation does to a car under load, by physics and by the rivals' table of procedure.md."""

from __future__ import annotations

from dataclasses import replace

import pytest

from engine.vehicle.design import reference
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.labelling import labelled
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation
from engine.vehicle.state import State

PSI = 6894.757
LOADED = Situation(305.15, 0.5, blower=1.0, intake="fresh", doors_open=True)
LIGHT = Situation(305.15, 0.5, blower=0.1)
CAR = labelled(reference())


def run(effects: Effects = NONE, situation: Situation = LOADED) -> State:
    return settle(CAR, effects, situation)


def test_a_worn_pump_brings_the_sides_together_and_runs_hot() -> None:
    worn, sound = run(Effects(leak_area_m2=4e-6)), run()
    assert worn.low_side > sound.low_side + 5 * PSI
    assert worn.high_side < sound.high_side - 5 * PSI
    assert worn.discharge_temperature > sound.discharge_temperature + 15.0
    assert worn.evaporator_superheat > 3.0
    assert worn.duty == pytest.approx(sound.duty)


def test_a_worn_pump_is_better_with_speed_and_a_short_stroke_is_not() -> None:
    fast = replace(LOADED, engine_speed=2500.0 / 60.0)
    worn, short = Effects(leak_area_m2=6e-6), Effects(stroke_high=0.05)

    def gain(effects: Effects) -> float:
        return run(effects, fast).cooling_w / run(effects).cooling_w - 1.0

    assert gain(worn) > 0.1
    assert gain(worn) > 2.0 * gain(NONE)
    assert run(short, fast).high_side - run(short).high_side < 25 * PSI


def test_a_valve_stuck_low_reads_close_and_cool() -> None:
    stuck = run(Effects(stroke_high=0.05))
    assert stuck.high_side - stuck.low_side < 80 * PSI
    assert stuck.discharge_temperature < run().discharge_temperature - 10.0
    assert stuck.active_limit == "stuck-low"
    assert stuck.duty == pytest.approx(run().duty)


def test_a_valve_stuck_high_freezes_at_low_load_whatever_is_commanded() -> None:
    """Low side under 28 psi at low load: procedure.md."""
    stuck = run(Effects(stroke_low=0.9), LIGHT)
    assert stuck.low_side < 28 * PSI
    assert stuck.command_share == 0.0
    assert stuck.active_limit == "stuck-high"
    off = run(Effects(stroke_low=0.9), replace(LIGHT, ac_on=False))
    assert off.high_side - off.low_side > 60 * PSI


def test_a_lost_charge_starves_the_evaporator_and_parts_the_vents() -> None:
    low = run(Effects(charge_factor=0.35))
    assert low.subcooling == 0.0
    assert low.superheat > run().superheat + 10.0
    assert low.cooling_w < 0.8 * run().cooling_w
    assert low.vent_split > run().vent_split + 2.0


def test_a_small_loss_hides_in_the_receiver() -> None:
    """Receiver condensers hold subcooling flat over a wide charge range: procedure.md."""
    assert run(Effects(charge_factor=0.9)).subcooling == pytest.approx(run().subcooling, abs=0.5)
    assert run(Effects(charge_factor=0.9)).high_side == pytest.approx(run().high_side, rel=0.02)


def test_overcharge_and_air_raise_the_high_side_and_differ_in_subcooling() -> None:
    over, airy, sound = run(Effects(charge_factor=1.4)), run(Effects(air_kg=0.004)), run()
    for state in (over, airy):
        assert state.high_side > sound.high_side + 15 * PSI
    assert over.subcooling > sound.subcooling + 5.0
    assert airy.subcooling == pytest.approx(sound.subcooling, abs=2.0)
    assert airy.air_pressure > 0.0


def test_little_condenser_air_raises_its_temperature_rise() -> None:
    poor, sound = run(Effects(condenser_airflow=0.6)), run()

    def rise(state: State) -> float:
        return state.condenser_air_out_temperature - state.condenser_air_temperature

    assert poor.high_side > sound.high_side + 20 * PSI
    assert rise(poor) > rise(sound) + 3.0
    assert abs(rise(run(Effects(air_kg=0.004))) - rise(sound)) < 3.0


def test_water_on_the_condenser_lowers_the_high_side_more_where_air_is_short() -> None:
    def fall(effects: Effects) -> float:
        return run(effects).high_side - run(effects, replace(LOADED, condenser_wetted=True)).high_side

    assert fall(NONE) > 5 * PSI
    assert fall(Effects(condenser_airflow=0.6)) > fall(NONE)


def test_a_dead_fan_meets_the_back_off_not_the_cut_out() -> None:
    state = run(Effects(condenser_fan=0.0))
    assert state.active_limit == "back-off"
    assert state.high_side < CAR.controller.cut_out_high_pa
    assert state.fan_share == 1.0
    assert state.fan_turning == 0.0
    fixed = replace(CAR, compressor=replace(CAR.compressor, control="fixed", clutch=True))
    assert settle(fixed, Effects(condenser_fan=0.0), LOADED).reason == "pressure-high"


def test_a_restricted_liquid_line_is_cold_behind_and_keeps_subcooling() -> None:
    shut, sound = run(Effects(liquid_resistance=1e9)), run()
    assert shut.low_side < sound.low_side - 5 * PSI
    assert shut.superheat > sound.superheat + 10.0
    assert shut.subcooling > 5.0
    assert shut.liquid_line_temperature < shut.condenser_outlet_temperature - 5.0
    assert sound.liquid_line_temperature > sound.condenser_outlet_temperature - 5.0


def test_a_restricted_condenser_shows_before_the_restriction() -> None:
    shut = run(Effects(condenser_area=0.7, condenser_resistance=2e8))
    assert shut.high_side > run().high_side + 20 * PSI


def test_a_restricted_suction_line_parts_evaporator_and_gauge() -> None:
    shut, sound = run(Effects(suction_resistance=1.5e8)), run()
    assert shut.low_side < sound.low_side - 3 * PSI
    assert shut.evaporating_k > sound.evaporating_k + 1.0
    assert shut.high_side < sound.high_side


def test_an_expansion_valve_stuck_open_floods_and_a_chilled_head_does_nothing() -> None:
    stuck, sound = run(Effects(opening_low=1.0)), run()
    assert stuck.evaporator_superheat == 0.0
    assert stuck.suction_line_temperature < sound.suction_line_temperature - 3.0
    assert stuck.low_side > sound.low_side
    chilled = replace(LOADED, valve_head="chilled")
    assert run(Effects(opening_low=1.0), chilled).low_side == pytest.approx(stuck.low_side, abs=0.5 * PSI)
    assert run(situation=chilled).low_side < sound.low_side - 5 * PSI


def test_warmth_opens_a_valve_that_can_open_and_only_that() -> None:
    warmed = replace(LOADED, valve_head="warmed")
    opened, sound = run(situation=warmed), run()
    assert opened.low_side > sound.low_side + 4 * PSI
    assert opened.suction_line_temperature < sound.suction_line_temperature - 5.0
    for starved in (Effects(opening_high=0.3), Effects(liquid_resistance=4e9)):
        assert run(starved, warmed).low_side == pytest.approx(run(starved).low_side, abs=0.5 * PSI)


def test_ice_in_the_valve_pulls_the_low_side_down_until_it_has_melted() -> None:
    ice = Effects(moisture_ice=0.9)
    assert run(ice).low_side < run().low_side - 8 * PSI
    assert run(ice, replace(LOADED, ice_in_valve=0.0)).low_side == pytest.approx(run().low_side)


def test_frost_and_a_dirty_filter_take_air_and_low_side() -> None:
    frosted, dirty = run(situation=replace(LIGHT, frost_m=0.6e-3)), run(Effects(evaporator_airflow=0.4))
    assert frosted.evaporator_air_kg_s < run(situation=LIGHT).evaporator_air_kg_s
    assert dirty.cooling_w < run().cooling_w
    assert dirty.stroke < run().stroke


def test_a_leaking_blend_door_warms_one_vent_and_no_pressure() -> None:
    leaky = run(Effects(blend_leak_left=0.2))
    assert leaky.vent_left > run().vent_left + 5.0
    assert leaky.vent_right == pytest.approx(run().vent_right)
    assert leaky.high_side == pytest.approx(run().high_side)


def test_an_evaporator_sensor_that_reads_cold_takes_the_command_back() -> None:
    cold, warm = (run(Effects(evaporator_sensor_k=k), LIGHT) for k in (-6.0, 6.0))
    assert cold.coil_air_temperature > warm.coil_air_temperature + 8.0
    assert cold.duty < run(situation=LIGHT).duty < warm.duty


def test_a_pressure_sensor_that_reads_low_keeps_the_compressor_off() -> None:
    assert run(Effects(pressure_sensor_pa=-9e5)).reason == "pressure-low"


def test_a_slipping_drive_loses_speed_under_load_only() -> None:
    slip = Effects(drive_slip=0.5)
    loaded, light = run(slip), run(slip, LIGHT)
    assert loaded.compressor_speed < 0.85 * loaded.pulley_speed
    lost, lost_light = (1.0 - s.compressor_speed / s.pulley_speed for s in (loaded, light))
    assert lost_light < 0.5 * lost
    assert loaded.cooling_w < run().cooling_w


@pytest.mark.parametrize("effects", [Effects(drive_broken=True), Effects(shaft_locked=True)])
def test_a_hub_that_stands_pumps_nothing(effects: Effects) -> None:
    state = run(effects)
    assert not state.running
    assert state.reason == "drive"
    assert state.compressor_speed == 0.0 < state.pulley_speed
    assert state.low_side == state.high_side


def test_an_open_clutch_matters_only_where_there_is_one() -> None:
    clutch = replace(CAR, compressor=replace(CAR.compressor, clutch=True))
    assert settle(clutch, Effects(clutch_open=True), LOADED).reason == "clutch"
    assert run(Effects(clutch_open=True)).running


def test_too_much_oil_costs_cooling_with_little_sign_in_the_pressures() -> None:
    oily = run(Effects(oil_factor=3.0))
    assert oily.cooling_w < 0.95 * run().cooling_w
    assert oily.high_side == pytest.approx(run().high_side, rel=0.06)


def test_too_much_oil_raises_the_low_side_a_little_and_takes_room_from_the_charge() -> None:
    """A pump that draws in less lets the low side up; what oil displaces stands in the receiver."""
    oily = run(Effects(oil_factor=2.0))
    assert 0.0 < oily.low_side - run().low_side < 40e3
    assert oily.reserve_fill > run().reserve_fill
    assert run(Effects(oil_factor=5.0)).subcooling > run().subcooling + 3.0


def test_too_little_oil_costs_friction_and_no_heat_transfer() -> None:
    dry = run(Effects(oil_factor=0.3))
    assert dry.shaft_w > run().shaft_w
    assert dry.cooling_w == pytest.approx(run().cooling_w, rel=0.02)


def test_a_fixed_system_cycles_on_a_cool_evaporator() -> None:
    fixed = replace(CAR, compressor=replace(CAR.compressor, control="fixed", clutch=True))
    state = settle(fixed, NONE, Situation(293.15, 0.4, blower=0.0, engine_speed=35.0))
    assert state.cycling
    assert 0.0 < state.on_share < 1.0
    assert state.low_side < state.average_low_side
    assert state.high_side > state.average_high_side


def test_a_run_away_says_so_and_stores_what_it_cannot_give_off() -> None:
    hot = replace(LOADED, ambient_k=320.15, engine_speed=60.0)
    state = run(Effects(stroke_low=1.0, condenser_fan=0.0, condenser_airflow=0.3), hot)
    assert state.reason == "pressure-high"
    assert state.stored_w > 0.0
    assert state.high_side > CAR.controller.cut_out_high_pa
