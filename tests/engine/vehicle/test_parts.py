"""The parts on their own, against sums done another way."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from engine.physics.moist_air import enthalpy, humidity_ratio, relative_humidity
from engine.vehicle.charge import holdup
from engine.vehicle.condenser import Face
from engine.vehicle.design import reference
from engine.vehicle.evaporator import Coil
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.loop import settle
from engine.vehicle.roots import rising_root
from engine.vehicle.situation import Situation

WET = Situation(305.15, 0.7, blower=1.0, intake="fresh", doors_open=True)


@pytest.mark.parametrize(("first", "last"), [(1.0, 0.0), (0.2, 1.0), (0.35, 0.9), (0.5, 0.5)])
@pytest.mark.parametrize("ratio", [0.01, 0.05, 0.2])
def test_the_hold_up_is_the_integral_it_stands_for(ratio: float, first: float, last: float) -> None:
    r = ratio ** (2 / 3)
    places = [first + (last - first) * (i + 0.5) / 4000 for i in range(4000)]
    mean = sum((1 - x) * r / (x + (1 - x) * r) for x in places) / 4000
    assert holdup(ratio, first, last) == pytest.approx(mean, rel=1e-3)


def test_the_air_loses_what_the_refrigerant_takes_up() -> None:
    """Enthalpy of moist air (ASHRAE eq. 30) in and out, and the water that runs off."""
    state = settle(reference(), NONE, WET)
    ratio_in = humidity_ratio(305.15, 0.7, 101325.0)
    ratio_out = ratio_in - state.latent_w / 2.501e6 / state.evaporator_air_kg_s
    lost = enthalpy(state.intake_temperature, ratio_in) - enthalpy(state.coil_air_temperature, ratio_out)
    assert state.evaporator_air_kg_s * lost == pytest.approx(state.cooling_w, rel=0.02)
    assert relative_humidity(state.coil_air_temperature, ratio_out, 101325.0) <= 1.02


def test_a_dry_coil_takes_no_water() -> None:
    state = settle(reference(), NONE, replace(WET, relative_humidity=0.1))
    assert state.latent_w == 0.0


def test_a_coil_without_bypass_cools_air_to_its_surface() -> None:
    part = replace(reference().evaporator, air_conductance_w_k=1e5)
    coil = Coil(part, 0.1, 0.0, 101325.0, 1.0)
    coil.breathe(300.0, 0.002)
    coil.at(280.0)
    air_k, ratio, latent = coil.air_off(coil.boil_w, 1.0)
    assert air_k == pytest.approx(280.0, abs=0.01)
    assert ratio == pytest.approx(0.002)
    assert latent == 0.0


def test_the_boiling_share_and_its_superheat_undo_each_other() -> None:
    coil = Coil(reference().evaporator, 0.1, 0.0, 101325.0, 1.0)
    coil.breathe(300.0, 0.008)
    coil.at(282.0)
    share = coil.share_for(7.0, 150e3, 900.0)
    flow = share * coil.boil_w / 150e3
    assert coil.superheat_of(share, flow, 900.0) == pytest.approx(7.0)


def test_the_condensers_air_carries_its_heat() -> None:
    state = settle(reference(), NONE, WET)
    rise = state.condenser_air_out_temperature - state.condenser_air_temperature
    carried = state.condenser_air_kg_s * 1006.0 * rise
    still = reference().condenser.still_air_w_k * 40.0  # what leaves without the air stream
    assert state.condenser_w - still <= carried <= state.condenser_w + 1.0


def test_hot_air_that_comes_round_costs_conductance() -> None:
    def conductance(share: float) -> float:
        face = Face(
            reference().condenser, 300.0, 1.0,
            fan=1.0, airflow=1.0, front_air_m_s=0.0, hot_share=share, area=1.0, wetted=False,
        )  # fmt: skip
        return face.conductance(1.0)

    assert conductance(0.2) < conductance(0.0)


def test_a_lumped_cabin_ends_where_gain_and_vents_balance() -> None:
    """Steady: gain (ambient - cabin) + sun = m cp (cabin - air off the coil)."""
    state = settle(reference(), NONE, Situation(308.15, 0.4, blower=0.5, settled_s=7200.0))
    part = reference().cabin
    cabin_k = state.cabin_sensor
    gained = part.gain_w_k * (308.15 - cabin_k) + part.sun_w
    taken = state.evaporator_air_kg_s * 1006.0 * (cabin_k - state.coil_air_temperature)
    assert gained == pytest.approx(taken, rel=0.02)


def test_a_cabin_that_is_not_cooled_stays_as_warm_as_the_day() -> None:
    state = settle(reference(), Effects(drive_broken=True), Situation(308.15, 0.4, blower=0.5))
    assert state.intake_temperature == pytest.approx(308.15, abs=1.0)


@pytest.mark.parametrize("power", [1, 3, 5])
@pytest.mark.parametrize("guess", [-40.0, 0.3, 60.0])
def test_a_root_is_found_from_anywhere(power: int, guess: float) -> None:
    found = rising_root(lambda x: (x - 2.0) ** power, guess, -50.0, 50.0, 1.0, 1e-12, 1e-10)
    assert found == pytest.approx(2.0, abs=5e-3)


def test_a_root_beyond_the_end_gives_the_end_and_a_jump_its_place() -> None:
    assert rising_root(lambda x: x + 100.0, 0.0, -50.0, 50.0, 1.0, 1e-9, 1e-9) == -50.0
    assert rising_root(lambda x: x - 100.0, 0.0, -50.0, 50.0, 1.0, 1e-9, 1e-9) == 50.0
    jump = rising_root(lambda x: math.copysign(1.0, x - 7.0), 0.0, -50.0, 50.0, 0.1, 1e-9, 1e-9)
    assert jump == pytest.approx(7.0, abs=1e-6)
