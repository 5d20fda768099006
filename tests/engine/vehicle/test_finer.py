"""Findings finer than a fault: which fault and way they mean, and how a trial counts them."""

from random import Random

import pytest

from engine.vehicle.design import reference
from engine.vehicle.fault_shapes import WAYS
from engine.vehicle.faults import FAULTS, faults_of, injure, together
from engine.vehicle.finer import FINER, fault_of, finer_names
from engine.vehicle.trial.case import Ask, Fault
from engine.vehicle.trial.draw import FleetDrawer
from engine.vehicle.trial.outcome import accepted_names


@pytest.mark.parametrize("name", FINER)
def test_each_means_a_fault_and_ways_there_are(name: str) -> None:
    finer = FINER[name]
    assert name not in FAULTS
    assert faults_of("solenoid")[name] == FAULTS[finer.fault]
    assert set(finer.ways) <= set(WAYS[finer.fault])


def test_it_comes_about_in_its_way_only() -> None:
    for seed in range(20):
        injury = injure(reference(), "condenser-fan-fails", 0.5, Random(seed))
        assert (injury.finding, injury.way) == ("condenser-airflow", "fan")
        assert injury.effects.condenser_fan < 1.0


def test_a_fault_is_not_beside_itself_under_another_name() -> None:
    assert not together("condenser-airflow", "condenser-fan-fails")
    assert not together("solenoid-driver-stuck-on", "solenoid-open")
    assert together("condenser-fan-fails", "undercharge")


def test_names() -> None:
    assert fault_of("blower-weak") == "evaporator-airflow"
    assert fault_of("undercharge") == "undercharge"
    assert finer_names("solenoid-circuit", "supply") == {"solenoid-supply-lost"}


def test_a_trial_counts_the_finer_name_of_a_fault_and_not_the_other_way_round() -> None:
    drawer = FleetDrawer()
    coarse = drawer.draw(Ask("fleet", 1, 3, (Fault("condenser-airflow", 0.5),))).faults
    assert len(accepted_names(coarse)) == 2
    finer = drawer.draw(Ask("fleet", 1, 3, (Fault("condenser-fan-fails", 0.5),)))
    assert accepted_names(finer.faults) == {"condenser-fan-fails"}
    assert finer.technician(finer.faults).bench.has("condenser-airflow")  # type: ignore[attr-defined]
    assert not finer.technician(()).bench.injuries  # type: ignore[attr-defined]
