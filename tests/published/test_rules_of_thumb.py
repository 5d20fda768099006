"""Rules of thumb of the trade, as class checks. Every one: common practice, no published source."""

from __future__ import annotations

import pytest

from engine.physics.bands import Conditions, band
from engine.physics.solenoid import classify_coil, drive_frequency_class

PSI = 6894.757

MILD = Conditions("R-134a", 297.15, "moderate", "part", humidity=0.6)


def word(conditions: Conditions, reading: str, psi: float) -> str:
    found = band(conditions, reading)
    assert found is not None
    return found.word(psi * PSI)


@pytest.mark.parametrize("known_temperature", [True, False])
def test_a_stroke_solenoid_is_about_10_ohm(known_temperature: bool) -> None:
    assert classify_coil(10.0 if known_temperature else None, 10.0) == "stroke-coil"


@pytest.mark.parametrize("ohm", [0.5, 0.7, 1.0])
@pytest.mark.parametrize("known_temperature", [True, False])
def test_a_closed_pressure_switch_does_not_pass_for_a_solenoid(ohm: float, known_temperature: bool) -> None:
    assert classify_coil(ohm if known_temperature else None, ohm) == "closed-switch"


def test_drive_is_near_400_hz() -> None:
    assert drive_frequency_class(400.0) == "usual"


@pytest.mark.parametrize("celsius", [24, 30, 35, 40, 45])
@pytest.mark.parametrize("name", ["R-134a", "R-1234yf"])
def test_the_high_pressure_switch_near_435_psi_is_above_anything_normal(celsius: int, name: str) -> None:
    for load in ("moderate", "raised", "lowered"):
        assert word(Conditions(name, celsius + 273.15, load), "high_side", 435) == "high"


@pytest.mark.parametrize("low", [20, 30, 40])
def test_low_side_20_to_40_psi_on_a_mild_day(low: int) -> None:
    assert word(MILD, "low_side", low) == "normal"


def test_high_side_about_150_psi_on_a_mild_day_towards_350_on_a_hot_one() -> None:
    for command in ("part", "ceiling", "unknown"):
        mild = Conditions("R-134a", 297.15, "moderate", command, humidity=0.6)
        hot = Conditions("R-134a", 315.15, "raised", command, humidity=0.6)
        assert word(mild, "high_side", 150) == "normal"
        assert word(mild, "high_side", 350) == "high"
        assert word(hot, "high_side", 330) == "normal"
        assert word(hot, "high_side", 350) == "normal"  # the very end of it, at 42 degC


def test_half_duty_at_light_load_is_normal_and_the_same_at_full_command_is_not() -> None:
    for load, command, low_word, high_word in (
        ("moderate", "part", "normal", "normal"),
        ("lowered", "part", "normal", "normal"),
        ("moderate", "unknown", "normal", "normal"),
        ("moderate", "ceiling", "high", "low"),
        ("raised", "ceiling", "high", "low"),
    ):
        conditions = Conditions("R-134a", 297.15, load, command, humidity=0.6)
        assert word(conditions, "low_side", 40) == low_word
        assert word(conditions, "high_side", 120) == high_word
