"""What the technician finds of the air side: vents left and right, blower, coil face, heater shut off."""

from __future__ import annotations

from random import Random

import pytest

from engine.vehicle.bench import Bench, Measured, Told
from engine.vehicle.design import reference
from engine.vehicle.faults import Injury, injure
from engine.vehicle.set_readings import SET_READINGS
from engine.vehicle.shop import Shop
from engine.vehicle.technician import JOB_READINGS
from engine.vehicle.weather import Weather

SHOP = Shop(True, True, True, True, True, True, True, True, "wire-to-ground", "positive", 0.2, 0.0, 1.0)
HOT = Weather(306.15, 0.45, 0.0, 101325.0, 600.0)


def injured(finding: str, way: str, severity: float) -> Injury:
    drawn = (injure(reference(), finding, severity, Random(seed)) for seed in range(100))
    return next(one for one in drawn if one.way == way)


def told(name: str, *injuries: Injury) -> list[Told]:
    """By forty technicians at the same car; those who could not get at it left out."""
    found = [JOB_READINGS[name](Bench(f"{name}{i}", reference(), injuries, HOT, SHOP)) for i in range(40)]
    return [one for one in found if one is not None]


def share(name: str, word: str, *injuries: Injury) -> float:
    answers = told(name, *injuries)
    return answers.count(word) / len(answers)


def test_a_weak_blower_is_heard_and_a_sound_one_is_not() -> None:
    weak = injured("evaporator-airflow", "blower", 0.8)
    assert share("blower_speed", "full", weak) < 0.35
    assert share("blower_speed", "full") > 0.9
    assert share("blower_speed", "full", injured("evaporator-airflow", "filter", 0.8)) > 0.9


def test_a_matted_coil_is_seen_where_a_camera_gets_in() -> None:
    matted = injured("evaporator-airflow", "coil-face", 0.8)
    assert share("coil_face", "dirty", matted) > 0.65
    assert share("coil_face", "dirty") < 0.2
    assert len(told("coil_face", matted)) < 40


def test_shutting_the_heater_helps_where_heat_gets_past_a_door_and_nowhere_else() -> None:
    assert set(told("heater_hose_pinched", injured("air-distribution", "left", 0.8))) == {"yes"}
    assert set(told("heater_hose_pinched")) == {"no"}
    assert set(told("heater_hose_pinched", injured("evaporator-airflow", "filter", 0.8))) == {"no"}


@pytest.mark.parametrize(("way", "warm", "cold"), [("left", "left", "right"), ("right", "right", "left")])
def test_each_vent_shows_its_own_side(way: str, warm: str, cold: str) -> None:
    one = Bench("vents", reference(), (injured("air-distribution", way, 0.8),), HOT, SHOP)
    state = one.state(one.moderate)
    hot, sound = (SET_READINGS[f"{side}_vent_temperature"](one, one.moderate, state) for side in (warm, cold))
    assert isinstance(hot, Measured)
    assert isinstance(sound, Measured)
    assert hot.true > sound.true + 5.0
