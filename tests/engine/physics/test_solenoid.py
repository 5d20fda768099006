"""What was probed at the compressor. Published values are in tests/published/test_solenoid_values.py."""

from __future__ import annotations

from itertools import pairwise

import pytest

from engine.physics.quantity import OVER_LIMIT_OHM
from engine.physics.solenoid import (
    CLASSES,
    classify_coil,
    drive_frequency_class,
    resistance_at_20,
    solenoid_class,
    to_case_class,
    without_leads,
)

C20, C100 = 293.15, 373.15


def test_lead_resistance_is_taken_off_and_never_makes_less_than_nothing() -> None:
    assert without_leads(10.9, 0.3) == pytest.approx(10.6)
    assert without_leads(10.9, None) == 10.9
    assert without_leads(0.2, 0.3) == 0.0


def test_hot_coil_brought_back_to_20_degc() -> None:
    """13.93 ohm at 100 degC is 10.6 ohm at 20 degC: 10.6 * (1 + 0.00393 * 80) = 13.93, by hand."""
    assert resistance_at_20(13.93, C100, None) == pytest.approx(10.6, abs=0.005)
    assert resistance_at_20(14.13, C100, 0.2) == pytest.approx(10.6, abs=0.005)
    assert resistance_at_20(10.6, C20, 0.0) == pytest.approx(10.6)


@pytest.mark.parametrize("coil_k", [None, 100.0, 500.0, float("nan")])
def test_no_value_at_20_degc_from_a_coil_whose_temperature_is_not_known(coil_k: float | None) -> None:
    assert resistance_at_20(10.6, coil_k, 0.2) is None


@pytest.mark.parametrize(
    ("ohm", "name"),
    [
        (0.0, "short"),
        (0.1, "short"),
        (0.5, "closed-switch"),
        (1.0, "closed-switch"),
        (2.0, "unclear"),
        (3.5, "clutch-coil"),
        (5.1, "clutch-coil"),
        (7.0, "unclear"),
        (10.6, "stroke-coil"),
        (30.0, "unclear"),
        (450.0, "sensor"),
        (5000.0, "sensor"),
        (1e6, "open"),
        (OVER_LIMIT_OHM, "open"),
    ],
)
def test_classes_at_20_degc(ohm: float, name: str) -> None:
    assert classify_coil(ohm, ohm) == name


@pytest.mark.parametrize(
    ("ohm", "name"),
    [
        (0.5, "closed-switch"),  # a contact is no winding: temperature does not matter
        (4.0, "clutch-coil"),
        (7.5, "unclear"),  # a hot clutch coil or a very cold stroke coil
        (10.6, "stroke-coil"),
        (13.93, "stroke-coil"),  # a healthy coil at 100 degC
        (450.0, "sensor"),
        (OVER_LIMIT_OHM, "open"),
    ],
)
def test_classes_with_the_temperature_unknown(ohm: float, name: str) -> None:
    assert classify_coil(None, ohm) == name


def test_meter_leads_do_not_turn_a_short_into_a_switch() -> None:
    assert classify_coil(None, 0.5, 0.4) == "short"


def test_ranges_do_not_overlap_and_each_has_a_source() -> None:
    for before, after in pairwise(CLASSES):
        assert before.high <= after.low
    assert all(c.source for c in CLASSES)


@pytest.mark.parametrize(("ohm", "name"), [(2.0, "to-case"), (50e3, "unclear"), (OVER_LIMIT_OHM, "isolated")])
def test_two_wire_coil_against_the_case(ohm: float, name: str) -> None:
    assert to_case_class(ohm) == name


def test_two_wire_coil_touching_the_case_is_a_fault_whatever_its_pins_read() -> None:
    assert solenoid_class(10.6, C20, None, 3.0, "two-wire") == "to-case"
    assert solenoid_class(None, None, None, 3.0, "two-wire") == "to-case"
    assert solenoid_class(10.6, C20, None, OVER_LIMIT_OHM, "two-wire") == "stroke-coil"


def test_one_wire_coil_returns_through_the_case() -> None:
    assert solenoid_class(None, C20, 0.2, 10.8, "one-wire") == "stroke-coil"
    assert solenoid_class(10.8, C20, 0.2, None, "one-wire") == "stroke-coil"
    assert solenoid_class(None, C20, 0.2, OVER_LIMIT_OHM, "one-wire") == "open"


def test_nothing_measured_is_no_class() -> None:
    assert solenoid_class(None, C20, None, None, "two-wire") is None
    assert solenoid_class(None, C20, None, OVER_LIMIT_OHM, None) is None


@pytest.mark.parametrize(
    ("hertz", "name"), [(50.0, "suspect-wire"), (200.0, "usual"), (1000.0, "usual"), (8000.0, "suspect-wire")]
)
def test_drive_frequency(hertz: float, name: str) -> None:
    assert drive_frequency_class(hertz) == name
