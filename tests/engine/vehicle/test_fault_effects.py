"""Two faults at once are both there."""

from __future__ import annotations

import pytest

from engine.vehicle.fault_effects import NONE, Effects, combined


def test_nothing_changes_nothing() -> None:
    effects = Effects(leak_area_m2=1e-6, charge_factor=0.6, coil_open=True, command_withheld="ambient")
    assert combined(NONE, effects) == combined(effects, NONE) == effects


def test_losses_add_factors_multiply_the_tighter_limit_holds() -> None:
    one = Effects(leak_area_m2=1e-6, charge_factor=0.5, stroke_high=0.6, opening_low=0.2)
    other = Effects(leak_area_m2=2e-6, charge_factor=0.8, stroke_high=0.3, opening_low=0.4)
    both = combined(one, other)
    assert both.leak_area_m2 == pytest.approx(3e-6)
    assert both.charge_factor == pytest.approx(0.4)
    assert both.stroke_high == 0.3
    assert both.opening_low == 0.4


def test_words_of_the_first_come_first_and_doors_need_both() -> None:
    both = combined(
        Effects(command_withheld="ambient"), Effects(command_withheld="request", doors_follow=False)
    )
    assert both.command_withheld == "ambient"
    assert not both.doors_follow


def test_a_low_limit_never_passes_a_high_one() -> None:
    both = combined(Effects(stroke_low=0.9, opening_low=0.8), Effects(stroke_high=0.1, opening_high=0.2))
    assert both.stroke_low <= both.stroke_high
    assert both.opening_low <= both.opening_high
