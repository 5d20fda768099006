"""Computed readings against published saturation tables, definitions, and what each must not claim.

Saturation values: R-134a absolute, undergraduate table (references.md 1a, column A): 20 degC 571.7 kPa, 4
degC 337.7 kPa, 52 degC 1385.4 kPa. R-1234yf from the equation of state of 2011 (1c, column K): 20 degC
591.95 kPa.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from engine.flow.model import SetState, Value
from engine.job.facts import Facts
from tests.engine.flow.proved import celsius, facts

SEA_LEVEL = 101325.0


# --- saturation


def test_superheat_and_condensing_over_ambient_agree_with_the_published_table() -> None:
    known = facts(
        {
            "loaded.low_side": 337.7e3 - SEA_LEVEL,
            "loaded.suction_line_temperature": celsius(12.0),
            "loaded.evaporator_outlet_temperature": celsius(9.0),
            "loaded.high_side": 1385.4e3 - SEA_LEVEL,
            "loaded.liquid_line_temperature": celsius(44.0),
            "loaded.condenser_outlet_temperature": celsius(47.0),
            "loaded.discharge_temperature": celsius(77.0),
        },
        ambient_temperature=celsius(30.0),
    )
    expected = {
        "evaporating_temperature": celsius(4.0),
        "superheat": 8.0,
        "evaporator_superheat": 5.0,
        "condensing_temperature": celsius(52.0),
        "condensing_over_ambient": 22.0,
        "subcooling": 8.0,
        "condenser_subcooling": 5.0,
        "discharge_superheat": 25.0,
    }
    told = {name: known.get(f"loaded.{name}") for name in expected}
    assert told == pytest.approx(expected, abs=0.03)


def test_the_air_at_the_condenser_face_goes_before_ambient() -> None:
    known = facts(
        {"loaded.high_side": 1385.4e3 - SEA_LEVEL},
        ambient_temperature=celsius(30.0),
        condenser_air_temperature=celsius(38.0),
    )
    assert known.get("loaded.condensing_over_ambient") == pytest.approx(14.0, abs=0.03)
    assert known.get("condenser_air_rise") == pytest.approx(8.0)


def test_a_gauge_high_up_reads_more_for_the_same_evaporating_temperature() -> None:
    """At 2000 m the air is 79.5 kPa (ISA, references.md 8): the gauge shows 21.8 kPa more."""
    known = facts({"loaded.low_side": 337.7e3 - 79.5e3}, elevation=2000.0)
    assert known.get("loaded.evaporating_temperature") == pytest.approx(celsius(4.0), abs=0.03)
    assert known.get("atmospheric_pressure") == pytest.approx(79.5e3, abs=10)
    assert known.with_value("barometric_pressure", 85e3).get("atmospheric_pressure") == 85e3


@pytest.mark.parametrize("lacking", ["refrigerant", "loaded.low_side", "loaded.suction_line_temperature"])
def test_superheat_is_unknown_while_anything_it_needs_is(lacking: str) -> None:
    known = facts({"loaded.low_side": 2.4e5, "loaded.suction_line_temperature": celsius(12.0)})
    assert known.get("loaded.superheat") is not None
    assert known.with_value(lacking, None).get("loaded.superheat") is None


def test_a_pressure_above_the_critical_one_has_no_condensing_temperature() -> None:
    assert facts({"loaded.high_side": 45e5}).get("loaded.condensing_temperature") is None


@pytest.mark.parametrize(
    ("changed", "identity", "trusted"),
    [
        ({}, "proved", "yes"),
        ({"contamination": frozenset({"sealant"})}, "proved", "yes"),
        ({"contamination": None}, "assumed", "no"),
        ({"contamination": None, "refrigerant_purity": 0.99}, "proved", "yes"),
        ({"contamination": None, "refrigerant_purity": 0.97}, "wrong", "no"),
        ({"refrigerant_purity": 0.90}, "wrong", "no"),
        ({"contamination": frozenset({"air"})}, "wrong", "no"),
        ({"contamination": frozenset({"hydrocarbon", "sealant"})}, "wrong", "no"),
        ({"refrigerant": "other"}, "wrong", "no"),
        ({"refrigerant": None}, None, None),
    ],
)
def test_contents_that_are_not_the_labels_end_every_inference_from_saturation(
    changed: Mapping[str, Value | None], identity: str | None, trusted: str | None
) -> None:
    known = facts({"loaded.low_side": 2.4e5, "loaded.suction_line_temperature": celsius(12.0)})
    for name, value in changed.items():
        known = known.with_value(name, value)
    assert (known.get("identity"), known.get("saturation_trusted")) == (identity, trusted)
    worked_out = known.get("loaded.superheat") is not None
    assert worked_out is (identity in ("proved", "assumed"))


# --- sides and air


def test_what_follows_from_two_readings_alone() -> None:
    known = Facts(
        {
            "loaded.high_side": 14 * 1e5,
            "loaded.low_side": 2 * 1e5,
            "loaded.intake_temperature": celsius(30.0),
            "loaded.vent_temperature": celsius(9.5),
            "barometric_pressure": 1e5,
        }
    )
    assert known.get("loaded.sides_apart") == 12e5
    assert known.get("loaded.pressure_ratio") == pytest.approx(5.0)  # 15 bar over 3 bar, absolute
    assert known.get("loaded.vent_drop") == pytest.approx(20.5)


def test_dew_point_and_wet_bulb_of_the_course_example() -> None:
    """25 degC, 75 % at 100 kPa: dew point 20.26, wet bulb 21.67 degC (references.md 6)."""
    air = Facts(
        {"ambient_temperature": celsius(25.0), "relative_humidity": 0.75, "barometric_pressure": 100e3}
    )
    assert air.get("ambient_dew_point") == pytest.approx(celsius(20.26), abs=0.05)
    assert air.get("ambient_wet_bulb") == pytest.approx(celsius(21.67), abs=0.05)


def test_air_too_dry_for_a_dew_point_is_unknown_and_no_error() -> None:
    assert Facts({"ambient_temperature": 300.0, "relative_humidity": 0.0}).get("ambient_dew_point") is None


# --- solenoid and command


def test_a_hot_sound_coil_is_recognised() -> None:
    """A 10.6 ohm coil reads 13.93 ohm at 100 degC (references.md 5): off the printed range, yet healthy."""
    hot = Facts({"solenoid_resistance": 14.13, "coil_temperature": celsius(100.0), "lead_resistance": 0.2})
    assert hot.get("solenoid_resistance_20") == pytest.approx(10.6, abs=0.01)
    assert hot.get("solenoid_class") == "stroke-coil"


@pytest.mark.parametrize(
    ("given", "kind"),
    [
        ({"solenoid_resistance": 0.7}, "closed-switch"),
        ({"solenoid_resistance": 1e9}, "open"),
        ({"solenoid_resistance": 4.0, "coil_temperature": celsius(20.0)}, "clutch-coil"),
        ({"solenoid_resistance": 10.5, "solenoid_to_case": 50.0}, "to-case"),
        (
            {"solenoid_resistance": 10.5, "solenoid_to_case": 10.5, "rear_connector": "one-wire"},
            "stroke-coil",
        ),
        ({}, None),
    ],
)
def test_what_was_probed(given: dict[str, Value], kind: str | None) -> None:
    assert Facts(given).get("solenoid_class") == kind


def test_an_open_circuit_has_no_ohms_at_20_degrees() -> None:
    open_coil = Facts({"solenoid_resistance": 1e9, "coil_temperature": 293.15})
    assert open_coil.get("solenoid_resistance_20") is None


METER: dict[str, Value] = {
    "meter_leads": "wire-to-ground",
    "meter_edge": "positive",
    "switched_side": "ground",
}


def test_a_ground_switched_wire_shows_the_off_share() -> None:
    """Leads on control wire and ground, rising edge: ground-switched, the display is the off-share."""
    known = Facts({**METER, "loaded.duty_displayed": 0.3})
    assert known.get("loaded.duty") == pytest.approx(0.7)
    assert known.with_value("switched_side", None).get("loaded.duty") is None


def test_a_given_duty_wins_and_its_gap_to_the_display_is_told() -> None:
    known = Facts({**METER, "loaded.duty_displayed": 0.3, "loaded.duty": 0.62})
    assert known.get("loaded.duty") == 0.62
    assert known.get("loaded.duty_gap") == pytest.approx(-0.08)


def duties(
    unloaded: float | None = None, baseline: float | None = None, loaded: float | None = None, **more: Value
) -> Facts:
    sets = {"unloaded": unloaded, "baseline": baseline, "loaded": loaded}
    given: dict[str, Value] = {f"{name}.duty": duty for name, duty in sets.items() if duty is not None}
    return Facts({**given, **{name.replace("__", "."): value for name, value in more.items()}})


COOL, WARM = celsius(24.0), celsius(32.0)


def test_a_duty_that_moved_with_the_load_is_part() -> None:
    known = duties(baseline=0.4, loaded=0.7)
    assert known.get("baseline.command_state") == "part"
    assert known.get("loaded.command_state") == "part"


def test_a_duty_that_no_longer_rises_is_a_ceiling_only_if_the_load_was_seen_to_rise() -> None:
    seen = duties(
        baseline=0.7, loaded=0.71, baseline__intake_temperature=COOL, loaded__intake_temperature=WARM
    )
    assert seen.get("loaded.command_state") == "ceiling"
    assert duties(baseline=0.7, loaded=0.71).get("loaded.command_state") is None
    stale = seen.with_value("loaded.intake_temperature", COOL + 0.5)
    assert stale.get("loaded.command_state") is None


def test_an_unproved_command_is_unknown_and_never_a_word() -> None:
    assert duties(loaded=0.6).get("loaded.command_state") is None
    assert Facts().get("loaded.command_state") is None


def test_current_at_the_makers_maximum_outranks_the_scan_tool() -> None:
    known = Facts({"loaded.scan_command": "part"})
    assert known.get("loaded.command_state") == "part"
    measured = known.with_value("loaded.solenoid_current", 0.65).with_value("solenoid_current_limit", 0.65)
    assert measured.get("loaded.command_state") == "ceiling"


def test_the_scan_tools_maximum_in_the_set_is_a_ceiling_there_and_nowhere_else() -> None:
    known = Facts({"full_command.scan_command": "maximum"})
    assert known.get("full_command.command_state") == "ceiling"
    assert known.get("loaded.command_state") is None


def test_a_baseline_whose_duty_rises_further_under_load_is_part() -> None:
    known = duties(unloaded=0.38, baseline=0.40, loaded=0.75)
    assert known.get("baseline.command_state") == "part"


# --- bands


SETS = {
    "loaded": SetState("loaded", "Loaded", "raised", speed=25.0),
    "full_command": SetState("full_command", "Full command", "raised", speed=25.0),
    "static": SetState("static", "At rest", "rest"),
}


def banded(**given: Value) -> Facts:
    """A proved R-134a system at sea level, 30 degC and 50 % humidity."""
    base: dict[str, Value] = {
        "refrigerant": "R-134a",
        "contamination": frozenset({"none"}),
        "ambient_temperature": celsius(30.0),
        "relative_humidity": 0.5,
    }
    return Facts({**base, **{name.replace("__", "."): value for name, value in given.items()}}, SETS)


def test_the_same_low_side_is_normal_at_part_stroke_and_high_at_proved_full_command() -> None:
    """Part stroke reads the low side at the top of 20-40 psi, the high side below a mild day.s 150 psi, and
    that is normal; the same at full command is not (common practice, no published source)."""
    mild: dict[str, Value] = {
        "ambient_temperature": celsius(24.0),
        "loaded__low_side": 40 * 6894.757,
        "loaded__high_side": 125 * 6894.757,
    }
    at_part = banded(**mild, loaded__scan_command="part")
    at_full = banded(**mild, loaded__scan_command="maximum")
    assert at_full.get("loaded.command_state") == "ceiling"
    assert at_full.get("loaded.low_side_band") == "high"
    assert at_full.get("loaded.high_side_band") == "low"
    assert at_part.get("loaded.low_side_band") == "normal"
    assert at_part.get("loaded.high_side_band") == "normal"


def test_published_running_pressures_are_normal_at_the_ceiling() -> None:
    """A service manual of 2010 (references.md 4a), 30 degC: high side 1300-1590, low side 196-240 kPa."""
    known = banded(loaded__low_side=218e3, loaded__high_side=1450e3, loaded__scan_command="maximum")
    assert (known.get("loaded.low_side_band"), known.get("loaded.high_side_band")) == ("normal", "normal")


@pytest.mark.parametrize("lacking", ["refrigerant", "ambient_temperature", "loaded.high_side"])
def test_no_high_side_is_judged_without_contents_and_ambient(lacking: str) -> None:
    known = banded(loaded__high_side=1450e3)
    assert known.get("loaded.high_side_band") == "normal"
    assert known.with_value(lacking, None).get("loaded.high_side_band") is None


def test_contents_that_are_wrong_have_no_bands() -> None:
    known = banded(loaded__high_side=1450e3, contamination=frozenset({"hydrocarbon"}))
    assert known.get("loaded.high_side_band") is None


def test_a_set_the_flow_does_not_declare_has_no_band() -> None:
    assert banded(elsewhere__high_side=1450e3).get("elsewhere.high_side_band") is None


def test_what_a_set_declares_is_no_reading() -> None:
    assert "loaded.(load)" not in banded().known()
