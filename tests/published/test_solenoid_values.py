"""Solenoid electrics against two service manuals and the copper standard (references.md section 5)."""

from __future__ import annotations

import pytest

from engine.physics.command import commanded_duty
from engine.physics.quantity import OVER_LIMIT_OHM
from engine.physics.solenoid import classify_coil, copper_factor, drive_frequency_class, resistance_at_20

C20, C25, C100 = 293.15, 298.15, 373.15


def test_16_copper() -> None:
    """IEC 60028 coefficient 0.00393 /K at 20 degC: R(80)/R(20) = 1.2358, R(-10)/R(20) = 0.8821."""
    assert copper_factor(353.15) == pytest.approx(1.2358, rel=0.001)
    assert copper_factor(263.15) == pytest.approx(0.8821, rel=0.001)
    assert copper_factor(363.15) == pytest.approx(1.28, abs=0.01)  # tnlab.org: about 28 % more at 90 degC


@pytest.mark.parametrize("at_20", [10.1, 10.6, 11.1])
@pytest.mark.parametrize("known", [True, False])
def test_16_a_hot_healthy_coil_is_neither_open_nor_out_of_range(at_20: float, known: bool) -> None:
    reading = at_20 * (1 + 0.00393 * 80)
    r20 = resistance_at_20(reading, C100, None) if known else None
    assert classify_coil(r20, reading) == "stroke-coil"


# Control-valve coil 10.1-11.1 ohm: at 25 degC in one service manual, at 20 degC in another (makers withheld).
@pytest.mark.parametrize("ohm", [10.1, 10.6, 11.1])
@pytest.mark.parametrize("coil_k", [C20, C25])
def test_17_published_coils_pass(ohm: float, coil_k: float) -> None:
    assert classify_coil(resistance_at_20(ohm, coil_k, None), ohm) == "stroke-coil"


def test_17_open_and_dead_short_fail() -> None:
    assert classify_coil(OVER_LIMIT_OHM, OVER_LIMIT_OHM) == "open"
    assert classify_coil(0.0, 0.0) == "short"


# Clutch coils of four service manuals, ohm at 20 degC (makers withheld).
@pytest.mark.parametrize("ohm", [3.03, 3.11, 3.4, 3.8, 4.2, 5.12, 5.16])
def test_published_clutch_coils_are_not_stroke_coils(ohm: float) -> None:
    assert classify_coil(ohm, ohm) == "clutch-coil"


# 500 Hz in a 2002 and a 2004 manual; 400 Hz in one maker's description (makers withheld).
@pytest.mark.parametrize("hertz", [400.0, 500.0])
@pytest.mark.parametrize("side", ["ground", "supply"])
def test_18_both_frequencies_and_both_sides_are_accepted(hertz: float, side: str) -> None:
    assert drive_frequency_class(hertz) == "usual"
    assert commanded_duty(0.5, "across-coil", "positive", side) == 0.5
