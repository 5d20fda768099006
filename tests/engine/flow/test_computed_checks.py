"""Computed readings that check the command: estimate, mean volts, drive frequency. Values by hand."""

from __future__ import annotations

import pytest

from tests.engine.flow.test_computed_values import facts


def test_the_estimated_current_is_duty_times_volts_over_ohms_and_gives_way_to_a_measured_one() -> None:
    """0.4 x 13.5 V / (10.9 - 0.1) ohm = 0.5 A."""
    known = facts({"loaded.duty": 0.4}, solenoid_supply=13.5, solenoid_resistance=10.9, lead_resistance=0.1)
    assert known.get("loaded.estimated_current") == pytest.approx(0.5)
    assert known.with_value("loaded.solenoid_current", 0.42).get("loaded.estimated_current") is None
    assert known.with_value("solenoid_resistance", 1e9).get("loaded.estimated_current") is None


def test_mean_volts_check_the_display() -> None:
    """10.8 of 13.5 V across the coil is an on-share of 80 %, as a ground-switched falling edge shows."""
    known = facts(
        mean_volts=10.8,
        solenoid_supply=13.5,
        display_max_cold=0.80,
        meter_leads="wire-to-ground",
        meter_edge="negative",
        switched_side="ground",
    )
    assert known.get("duty_by_mean_volts") == pytest.approx(0.8)
    assert known.get("mean_volts_gap") == pytest.approx(0.0, abs=1e-9)
    assert known.with_value("meter_edge", "positive").get("mean_volts_gap") == pytest.approx(0.6)
    assert known.with_value("meter_edge", None).get("mean_volts_gap") is None


def test_volts_missing_at_the_coil_are_duty_times_battery_less_what_is_there() -> None:
    """0.70 x 14.0 V = 9.8 V by hand; with 6.8 V there, 3.0 V were lost on the way."""
    known = facts({"loaded.duty": 0.7, "loaded.mean_volts": 6.8}, battery_running=14.0)
    assert known.get("loaded.volts_missing") == pytest.approx(3.0)
    assert known.with_value("battery_running", None).get("loaded.volts_missing") is None


@pytest.mark.parametrize(
    ("hertz", "says"), [(400.0, "usual"), (500.0, "usual"), (60.0, "suspect-wire"), (None, None)]
)
def test_the_drive_frequency_has_a_class(hertz: float | None, says: str | None) -> None:
    known = facts() if hertz is None else facts(solenoid_frequency=hertz)
    assert known.get("drive_class") == says
