"""A clutch that a switch cycles: what is common practice about it, and that the balances close.

Common practice, no published source: a pressure switch opens near 22 psi and closes near 44 psi (R-134a); a
hot load keeps the clutch in; less load, less time on; the swing of the needle is that of the switch.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from engine.vehicle.design import Vehicle, reference, with_control, with_orifice
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.labelling import labelled
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation

PSI = 6894.757
MILD = Situation(298.15, 0.5)
HOT = Situation(311.15, 0.5, blower=1.0, intake="fresh", doors_open=True)


@pytest.fixture(scope="module")
def orifice() -> Vehicle:
    return labelled(with_control(with_orifice(reference()), "fixed"))


@pytest.fixture(scope="module")
def valve() -> Vehicle:
    return labelled(with_control(reference(), "fixed"))


def test_a_pressure_switch_swings_the_low_side_between_its_two_pressures(orifice: Vehicle) -> None:
    state = settle(orifice, NONE, MILD)
    assert state.cycling
    assert state.low_side == pytest.approx(22.0 * PSI, abs=0.5 * PSI)
    assert state.low_side_at_close == pytest.approx(44.0 * PSI, abs=0.5 * PSI)
    assert state.low_side < state.average_low_side < state.low_side_at_close
    assert state.high_side > state.average_high_side


def test_times_and_share_belong_together(orifice: Vehicle, valve: Vehicle) -> None:
    for car in (orifice, valve):
        state = settle(car, NONE, MILD)
        whole = state.on_seconds + state.off_seconds
        assert state.on_seconds / whole == pytest.approx(state.on_share)
        assert 5.0 < whole < 90.0


def test_heat_keeps_the_clutch_in(orifice: Vehicle, valve: Vehicle) -> None:
    for car in (orifice, valve):
        assert not settle(car, NONE, HOT).cycling
        shares = [settle(car, NONE, replace(MILD, ambient_k=k)).on_share for k in (291.15, 298.15, 305.15)]
        assert shares == sorted(shares)


def test_the_average_state_balances(orifice: Vehicle, valve: Vehicle) -> None:
    for car in (orifice, valve):
        state = settle(car, NONE, MILD)
        assert state.energy_error < 1e-3
        assert state.mass_error < 1e-3
        assert state.inventory_kg == pytest.approx(state.charge_kg, rel=1e-3)


def test_a_switch_set_colder_cools_deeper_and_one_set_warmer_less(orifice: Vehicle, valve: Vehicle) -> None:
    for car in (orifice, valve):
        late, sound, early = (
            settle(car, Effects(cycling_switch_k=shift), MILD) for shift in (-6.0, 0.0, 6.0)
        )
        assert late.low_side < sound.low_side < early.low_side
        assert late.vent_temperature < sound.vent_temperature < early.vent_temperature


def test_a_pump_that_leaks_much_never_gets_there(orifice: Vehicle) -> None:
    state = settle(orifice, Effects(leak_area_m2=8e-6), MILD)
    assert state.running
    assert not state.cycling
    assert state.on_seconds == 0.0


def test_an_internal_control_holds_its_suction_and_needs_no_switch() -> None:
    car = labelled(with_control(reference(), "internal"))
    low = [settle(car, NONE, replace(MILD, ambient_k=k)).low_side for k in (293.15, 298.15, 303.15)]
    assert max(low) - min(low) < 2.0 * PSI
    assert not settle(car, NONE, MILD).cycling
    stuck = settle(car, Effects(stroke_low=0.7), MILD)
    assert stuck.cycling  # the guard against icing is what stops it
    assert stuck.low_side < min(low)


def test_another_control_is_refused() -> None:
    with pytest.raises(ValueError, match="fixed or internal"):
        with_control(reference(), "solenoid")
