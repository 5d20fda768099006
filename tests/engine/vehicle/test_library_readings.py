"""Readings of flows beside the main one: contents and fittings, guides and fan, the sheet of a repair.

Expected words follow from what is wrong with the car; expected shares from the chances that the modules
state, give or take what sixty draws scatter.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from engine.flow.model import SetState
from engine.vehicle.bench import Bench, Measured
from engine.vehicle.design import reference
from engine.vehicle.fault_effects import Effects
from engine.vehicle.faults import Injury
from engine.vehicle.set_readings import STAND_FAN, set_situation
from engine.vehicle.technician import JOB_READINGS
from tests.engine.vehicle.test_technician import HOT, SHOP, bench, share_of_yes

GAS = "contaminated-refrigerant"


def test_an_adapter_speaks_for_a_foreign_gas_and_is_rare_on_a_sound_car() -> None:
    assert 0.15 < share_of_yes("fittings", "adapter", (GAS, 0.0), way="hydrocarbon") < 0.6
    assert share_of_yes("fittings", "adapter") < 0.1
    assert (
        share_of_yes("fittings", "adapter", (GAS, 0.0), way="sealant") < 0.1
    )  # it comes from a can on the right port


def test_sealant_is_found_by_its_test_and_nowhere_else() -> None:
    assert share_of_yes("sealant_test", "sealant", (GAS, 0.0), way="sealant") > 0.8
    assert share_of_yes("sealant_test", "sealant", (GAS, 0.0), way="hydrocarbon") == 0.0
    assert share_of_yes("sealant_test", "clean") == 1.0


def test_an_empty_system_gives_no_sample() -> None:
    empty = Injury("system-empty", None, "", Effects(charge_factor=0.002))
    assert JOB_READINGS["identifier_sample"](Bench("empty", reference(), (empty,), HOT, SHOP)) == "too-little"
    assert share_of_yes("identifier_sample", "taken") == 1.0


@pytest.mark.parametrize("name", ["sealant_test", "identifier_sample"])
def test_a_shop_without_an_identifier_cannot_tell(name: str) -> None:
    assert JOB_READINGS[name](Bench("bare", reference(), (), HOT, replace(SHOP, identifier=False))) is None


def test_missing_guides_are_seen_where_hot_air_comes_round() -> None:
    assert share_of_yes("air_guides", "missing", ("condenser-airflow", 0.9), way="baffles") > 0.6
    assert share_of_yes("air_guides", "missing", ("condenser-airflow", 0.9), way="fan") < 0.15
    assert share_of_yes("air_guides", "in-place") > 0.85


def test_a_bad_fan_is_stiff_less_than_half_the_time_and_a_good_one_never() -> None:
    assert 0.15 < share_of_yes("fan_by_hand", "stiff", ("condenser-airflow", 0.9), way="fan") < 0.6
    assert share_of_yes("fan_by_hand", "stiff", ("condenser-airflow", 0.9), way="face") == 0.0


def test_a_stand_fan_blows_into_the_grille_under_raised_load() -> None:
    one = bench()
    fanned = set_situation(one, SetState("fanned", "Fanned", "raised", speed=25.0))
    assert fanned == replace(one.raised, front_air_m_s=STAND_FAN)
    assert one.state(fanned).high_side < one.state(one.raised).high_side


def test_a_sheet_tells_of_vacuum_and_grams_only_where_the_circuit_was_opened() -> None:
    told = [(JOB_READINGS["circuit_opened"](one), JOB_READINGS["vacuum_hold"](one)) for one in sheets()]
    assert {vacuum is None for opened, vacuum in told if opened == "no"} == {True}
    assert {vacuum is None for opened, vacuum in told if opened == "yes"} == {False}
    assert 0.5 < [opened for opened, _ in told].count("yes") / len(told) < 0.85


def test_vacuum_rises_through_a_leak_stops_at_water_and_was_left_out_where_air_is() -> None:
    assert vacuums(("undercharge", 0.8)) >= {"rose", "held"}
    assert vacuums(("moisture-freezing", 0.8)) >= {"levelled", "held"}
    assert vacuums(("air-in-system", 0.8)) == {"not-done", "held"}
    assert "rose" not in vacuums()


def test_the_grams_on_the_sheet_are_those_in_the_car_unless_they_were_lost_since() -> None:
    label = reference().charge.label_kg
    assert grams() == {round(label, 6)}
    assert grams(("overcharge", 0.8)) == {round(label * bench(("overcharge", 0.8)).effects.charge_factor, 6)}
    assert len(grams(("undercharge", 0.8))) == 2
    assert grams(("system-empty", 0.0)) == {round(label, 6)}


def test_a_panel_that_asks_for_something_else_is_cured_by_asking() -> None:
    asked = ("command-withheld", 0.0)
    assert 0.45 < share_of_yes("panel_setting", "something-else", asked, way="request") < 0.85
    assert share_of_yes("panel_setting", "something-else", asked, way="coolant") == 0.0
    told = [
        (JOB_READINGS["panel_setting"](one), JOB_READINGS["cold_after_setting"](one))
        for one in (bench(asked, way="request", key=f"panel{number}") for number in range(30))
    ]
    assert set(told) == {("something-else", "yes"), ("asks-for-cold", "no")}


def sheets(*faults: tuple[str, float]) -> list[Bench]:
    return [bench(*faults, key=f"sheet{number}") for number in range(60)]


def vacuums(*faults: tuple[str, float]) -> set[str]:
    told = (JOB_READINGS["vacuum_hold"](one) for one in sheets(*faults))
    return {word for word in told if isinstance(word, str)}


def grams(*faults: tuple[str, float]) -> set[float]:
    told = (JOB_READINGS["weighed_in"](one) for one in sheets(*faults))
    return {round(one.true, 6) for one in told if isinstance(one, Measured)}
