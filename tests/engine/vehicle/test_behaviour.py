"""A healthy car as it is known in the trade: common practice, no published source (issue 3, section 2)."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from engine.vehicle.design import Vehicle, reference, with_orifice, with_refrigerant, with_valve
from engine.vehicle.fault_effects import NONE
from engine.vehicle.labelling import labelled
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation
from engine.vehicle.time import approach

PSI = 6894.757
KINDS = ("suction", "difference", "flow")
MILD_LIGHT = Situation(297.15, 0.5, engine_speed=25.0, blower=0.1)
MILD_LOADED = Situation(297.15, 0.5, engine_speed=25.0, blower=1.0, intake="fresh", doors_open=True)


def car(kind: str = "suction") -> Vehicle:
    return labelled(with_valve(reference(), kind))


@pytest.mark.parametrize("kind", KINDS)
def test_a_mild_day_at_light_load(kind: str) -> None:
    """Duty around 40 %, high side near or under 120 psi, low side near 40 psi."""
    state = settle(car(kind), NONE, MILD_LIGHT)
    assert 0.30 <= state.duty <= 0.50
    assert state.high_side <= 125 * PSI
    assert 33 * PSI <= state.low_side <= 47 * PSI
    assert state.active_limit == "target"


@pytest.mark.parametrize("kind", KINDS)
def test_raising_the_load_raises_duty_and_high_side(kind: str) -> None:
    light, loaded = settle(car(kind), NONE, MILD_LIGHT), settle(car(kind), NONE, MILD_LOADED)
    assert loaded.duty > light.duty + 0.05
    assert loaded.high_side > light.high_side + 15 * PSI
    assert loaded.stroke > light.stroke


def test_the_low_side_falls_while_stroke_is_in_reserve_and_rises_at_the_ceiling() -> None:
    """The same blower; only the air into it grows warmer and wetter."""
    days = [
        settle(car(), NONE, replace(MILD_LOADED, ambient_k=kelvin, intake="fresh"))
        for kelvin in (289.15, 292.15, 295.15, 304.15, 309.15, 314.15)
    ]
    reserve = [day for day in days if day.stroke < 0.99]
    ceiling = [day for day in days if day.stroke >= 0.99]
    assert len(reserve) >= 3
    assert len(ceiling) >= 2
    assert all(later.low_side < earlier.low_side for earlier, later in pairwise(reserve))
    assert all(later.low_side > earlier.low_side for earlier, later in pairwise(ceiling))


def test_the_vent_stays_at_target_when_the_load_is_lowered() -> None:
    """Within 1 to 3 minutes the command has fallen most of its way."""
    loaded = settle(car(), NONE, replace(MILD_LOADED, ambient_k=303.15))
    lowered = settle(car(), NONE, Situation(303.15, 0.5, engine_speed=25.0, blower=0.1))
    assert lowered.coil_air_temperature == pytest.approx(276.65, abs=0.1)
    early, later = approach(loaded, lowered, 10.0), approach(loaded, lowered, 180.0)
    assert early.duty > 0.5 * (loaded.duty + lowered.duty)
    assert later.duty < lowered.duty + 0.05 * (loaded.duty - lowered.duty)


def test_speed_hardly_moves_the_low_side_at_part_stroke_but_does_at_full() -> None:
    def low(weather: Situation, per_minute: float) -> float:
        return settle(car(), NONE, replace(weather, engine_speed=per_minute / 60.0)).low_side

    part = low(MILD_LOADED, 1500.0) - low(MILD_LOADED, 2500.0)
    hot = replace(MILD_LOADED, ambient_k=308.15)
    full = low(hot, 1000.0) - low(hot, 2000.0)
    assert abs(part) < 1 * PSI
    assert full > 3 * PSI


def test_full_command_pulls_the_sides_apart() -> None:
    base = settle(car(), NONE, Situation(303.15, 0.5, blower=0.5))
    full = settle(car(), NONE, Situation(303.15, 0.5, blower=1.0, intake="fresh", command="maximum"))
    assert full.high_side > base.high_side + 40 * PSI
    assert full.current == pytest.approx(reference().valve.current_max_a)


def test_without_command_a_clutchless_car_keeps_only_a_small_difference() -> None:
    for weather in (replace(MILD_LIGHT, ac_on=False), replace(MILD_LIGHT, command="minimum")):
        state = settle(car(), NONE, weather)
        assert state.stroke == pytest.approx(reference().compressor.smallest_stroke, rel=1e-2)
        assert state.high_side - state.low_side < 60 * PSI
        assert state.compressor_speed > 0.0


def test_driving_wind_lowers_the_high_side() -> None:
    """Rule RR 4b: condensing 19-22 K over ambient on the road, more when standing."""
    hot = replace(MILD_LOADED, ambient_k=305.15)
    standing, driving = settle(car(), NONE, hot), settle(car(), NONE, replace(hot, front_air_m_s=13.9))
    assert 12.0 <= driving.condensing_k - 305.15 <= 27.0
    assert standing.condensing_k > driving.condensing_k + 3.0


def test_wet_air_loads_more_than_dry() -> None:
    dry, wet = (
        settle(car(), NONE, replace(MILD_LOADED, ambient_k=303.15, relative_humidity=h)) for h in (0.2, 0.8)
    )
    assert wet.high_side > dry.high_side
    assert wet.latent_w > dry.latent_w == pytest.approx(0.0, abs=wet.latent_w)
    assert wet.vent_temperature > dry.vent_temperature


def test_thin_air_raises_the_gauge_of_the_low_side() -> None:
    """RR 8: at 2000 m a gauge reads 21.8 kPa more for the same absolute pressure."""
    low = settle(car(), NONE, MILD_LIGHT)
    high = settle(car(), NONE, replace(MILD_LIGHT, atmosphere_pa=79495.0))
    assert high.low_side - low.low_side == pytest.approx(21.8e3, abs=6e3)


def test_an_orifice_tube_car_runs_with_its_evaporator_full() -> None:
    """Evaporator inlet against outlet: near equal when the charge is right."""
    state = settle(labelled(with_orifice(reference())), NONE, replace(MILD_LOADED, ambient_k=305.15))
    assert abs(state.evaporator_outlet_temperature - state.evaporator_inlet_temperature) < 3.0
    assert 0.0 < state.reserve_fill < 1.0


@pytest.mark.parametrize("kind", KINDS)
def test_the_other_refrigerant_behaves_alike(kind: str) -> None:
    other = labelled(with_refrigerant(with_valve(reference(), kind), "R-1234yf"))
    light, loaded = settle(other, NONE, MILD_LIGHT), settle(other, NONE, MILD_LOADED)
    assert 0.25 <= light.duty <= 0.50
    assert light.high_side <= 125 * PSI
    assert loaded.duty > light.duty
    assert loaded.high_side > light.high_side + 15 * PSI


def test_an_internal_heat_exchanger_warms_the_suction_and_cools_the_liquid() -> None:
    plain = car()
    fitted = replace(plain, lines=replace(plain.lines, exchanger_effectiveness=0.4))
    without, with_it = settle(plain, NONE, MILD_LOADED), settle(fitted, NONE, MILD_LOADED)
    assert with_it.superheat > without.superheat + 5.0
    assert with_it.liquid_line_temperature < without.liquid_line_temperature - 5.0
    assert with_it.evaporator_superheat == pytest.approx(without.evaporator_superheat, abs=0.5)
