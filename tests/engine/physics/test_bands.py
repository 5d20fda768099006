"""Bands: what they hang on, and when there is none. The published chart is in tests/published."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.physics import bands_data
from engine.physics.bands import READINGS, Conditions, band, occurring
from engine.physics.refrigerant import saturation_gauge_pressure

PSI = 6894.757
MILD = Conditions("R-134a", 295.15, "moderate", "part", humidity=0.6)
COMMANDS = ("minimum", "part", "ceiling", "unknown")


def word(conditions: Conditions, reading: str, psi: float) -> str:
    found = band(conditions, reading)
    assert found is not None
    return found.word(psi * PSI)


@pytest.mark.parametrize("name", ["R-134a", "R-1234yf"])
@pytest.mark.parametrize("celsius", [20.0, 22.5, 25.0])
@pytest.mark.parametrize(
    ("load", "command"), [("moderate", "part"), ("moderate", "unknown"), ("lowered", "part")]
)
def test_part_stroke_at_light_load_is_normal(name: str, celsius: float, load: str, command: str) -> None:
    """Common practice, no published source: half duty reads low side high, high side low, and is healthy."""
    conditions = Conditions(name, celsius + 273.15, load, command, humidity=0.6)
    for low, high in ((38, 118), (40, 120), (43, 110), (45, 100)):
        assert word(conditions, "low_side", low) == "normal"
        assert word(conditions, "high_side", high) == "normal"


@pytest.mark.parametrize("name", ["R-134a", "R-1234yf"])
@pytest.mark.parametrize("celsius", [20.0, 22.5, 25.0])
@pytest.mark.parametrize("load", ["raised", "moderate"])
@pytest.mark.parametrize("humidity", [None, 0.3, 0.6, 0.9])
def test_the_same_pressures_at_proved_full_command_are_not(
    name: str, celsius: float, load: str, humidity: float | None
) -> None:
    """Common practice, no published source."""
    conditions = Conditions(name, celsius + 273.15, load, "ceiling", humidity=humidity)
    for low, high in ((42, 118), (43, 110), (45, 100)):
        assert word(conditions, "low_side", low) == "high"
        assert word(conditions, "high_side", high) == "low"


@pytest.mark.parametrize("name", ["R-134a", "R-1234yf"])
@pytest.mark.parametrize("celsius", [20.0, 22.5, 25.0])
@pytest.mark.parametrize("speed", [25.0, 30.0])
@pytest.mark.parametrize("humidity", [None, 0.4, 0.8])
def test_both_hold_at_the_speed_of_the_sets_too(
    name: str, celsius: float, speed: float, humidity: float | None
) -> None:
    """Common practice, no published source: about 40 over 120 psi (within 2 psi and 5 psi)."""
    light = Conditions(name, celsius + 273.15, "moderate", "part", humidity=humidity, speed=speed)
    for conditions in (light, replace(light, load="lowered")):
        assert word(conditions, "low_side", 40) == "normal"
        assert word(conditions, "high_side", 115) == "normal"
        assert word(conditions, "high_side", 120) == "normal"
    full = replace(light, load="raised", command="ceiling")
    for low, high in ((40, 118), (43, 110)):
        assert word(full, "low_side", low) == "high"
        assert word(full, "high_side", high) == "low"


def test_forty_over_one_hundred_and_twenty_turns_with_the_command() -> None:
    """The pair from which the trade learns it, R-134a at 22 degC."""
    for command, low_word, high_word in (("part", "normal", "normal"), ("ceiling", "high", "low")):
        conditions = Conditions("R-134a", 295.15, "raised", command, humidity=0.6)
        assert word(conditions, "low_side", 40) == low_word
        assert word(conditions, "high_side", 120) == high_word


def test_sides_together_are_normal_at_minimum_command_only() -> None:
    """75 and 85 psi at 25 degC: a compressor told to rest, or one that does not pump."""
    for load in ("moderate", "lowered", "raised"):
        at_rest = Conditions("R-134a", 298.15, load, "minimum")
        assert word(at_rest, "low_side", 75) == "normal"
        assert word(at_rest, "high_side", 85) == "normal"
        full = replace(at_rest, command="ceiling")
        assert word(full, "low_side", 75) == "high"
        assert band(full, "high_side").low > 85 * PSI


def test_low_side_below_freezing_at_low_load_is_low() -> None:
    """procedure.md: below about 28 psi R-134a, 31 psi R-1234yf at low load: stuck high, or sensor. (cp)"""
    for name, freezing in (("R-134a", 28), ("R-1234yf", 31)):
        conditions = Conditions(name, 298.15, "lowered", "part")
        assert word(conditions, "low_side", freezing - 4) == "low"
        assert word(conditions, "low_side", freezing + 1) == "normal"


def test_below_18_degc_full_command_is_never_called_weak() -> None:
    """procedure.md: below about 18 degC full stroke may be out of reach: inconclusive, never weak. (cp)"""
    cool = Conditions("R-134a", 285.15, "raised", "ceiling", humidity=0.6)
    assert word(cool, "low_side", 40) == "normal"
    assert word(cool, "high_side", 100) == "normal"


@pytest.mark.parametrize("speed", [None, 800 / 60, 25.0, 2500 / 60])
def test_an_unknown_command_takes_the_widest_band_of_what_occurs(speed: float | None) -> None:
    for load in ("moderate", "raised", "lowered"):
        for celsius in (8.0, 22.0, 31.0, 42.0):
            conditions = Conditions("R-134a", celsius + 273.15, load, humidity=0.6, speed=speed)
            for reading in ("low_side", "high_side"):
                known = [
                    band(replace(conditions, command=c), reading) for c in occurring(load, celsius, speed)
                ]
                widest = band(conditions, reading)
                assert widest.low == min(b.low for b in known)
                assert widest.high == max(b.high for b in known)


def test_what_a_healthy_control_comes_to() -> None:
    """On a cool day with little load the car wants no stroke, on a hot one with all doors open all of it."""
    assert "minimum" in occurring("lowered", 8.0)
    assert "ceiling" not in occurring("lowered", 8.0)
    assert "ceiling" in occurring("raised", 35.0)
    assert "minimum" not in occurring("raised", 35.0)
    assert occurring("moderate", 30.0) == ("part",)


def test_unknown_humidity_never_narrows() -> None:
    conditions = Conditions("R-134a", 303.15, "raised", "ceiling")
    widest = band(conditions, "low_side")
    for humidity in (0.1, 0.3, 0.6, 0.8, 1.0):
        known = band(replace(conditions, humidity=humidity), "low_side")
        assert widest.low <= known.low
        assert known.high <= widest.high


def test_high_speed_lets_the_low_side_fall_further_at_full_stroke() -> None:
    """references.md 2: a compressor at full stroke pumps more the faster it turns, and pulls further down."""
    slow = Conditions("R-134a", 303.15, "raised", "ceiling", humidity=0.6, speed=25.0)
    fast = replace(slow, speed=2500 / 60)
    assert band(fast, "low_side").low < band(slow, "low_side").low
    assert band(fast, "low_side").high < band(slow, "low_side").high


def test_damp_air_raises_both_sides_at_full_stroke() -> None:
    """references.md 4f: drier intake air, lower pressure."""
    dry = Conditions("R-134a", 303.15, "raised", "ceiling", humidity=0.3, speed=25.0)
    damp = replace(dry, humidity=0.8)
    for reading in READINGS:
        assert band(damp, reading).low > band(dry, reading).low
        assert band(damp, reading).high > band(dry, reading).high


def test_at_rest_both_sides_are_at_saturation() -> None:
    for name in ("R-134a", "R-1234yf", "R-152a"):
        conditions = Conditions(name, 298.15, "rest")
        saturation = saturation_gauge_pressure(name, 298.15, 101325.0)
        for reading in ("low_side", "high_side"):
            found = band(conditions, reading)
            assert found.word(saturation) == "normal"
            assert found.word(saturation + 11 * PSI) == "high"
            assert found.word(saturation - 10 * PSI) == "low"


def test_a_mountain_shifts_every_gauge_band_by_the_air_it_lacks() -> None:
    sea, high = MILD, replace(MILD, atmosphere_pa=79495.0)
    for reading in ("low_side", "high_side"):
        for end in ("low", "high"):
            shift = getattr(band(high, reading), end) - getattr(band(sea, reading), end)
            assert shift == pytest.approx(101325.0 - 79495.0)


@pytest.mark.parametrize(
    "conditions",
    [
        replace(MILD, ambient_k=None),
        replace(MILD, ambient_k=277.15),
        replace(MILD, ambient_k=324.15),
        replace(MILD, refrigerant=None),
        replace(MILD, refrigerant="R-744"),
        replace(MILD, refrigerant="other"),
    ],
)
def test_no_band_where_nothing_is_known(conditions: Conditions) -> None:
    for reading in READINGS:
        assert band(conditions, reading) is None


def test_wrong_words_are_our_mistake() -> None:
    with pytest.raises(ValueError, match="no band for 'duty'"):
        band(MILD, "duty")
    with pytest.raises(ValueError, match="no band for load 'heavy'"):
        band(replace(MILD, load="heavy"), "low_side")


def test_vent() -> None:
    def vent(
        celsius: float, intake: float | None, load: str = "moderate", humidity: float | None = 0.55
    ) -> str:
        intake_k = None if intake is None else intake + 273.15
        found = band(replace(MILD, load=load, humidity=humidity, intake_k=intake_k), "vent_temperature")
        assert found is not None
        return found.word(celsius + 273.15)

    assert vent(7.0, 20.0) == "normal"
    assert vent(13.0, 20.0) == "high"
    assert vent(13.0, 20.0, load="raised") == "normal"  # up some kelvin with the load: no fault
    assert vent(0.0, 20.0) == "low"  # no evaporator is meant to be that cold
    assert vent(15.0, 25.0) == "high"
    assert vent(15.0, 25.0, humidity=0.65) == "normal"  # the chart's wetter column
    assert vent(15.0, 25.0, humidity=None) == "normal"
    assert vent(12.0, None) == "normal"  # ambient (22 degC) stands in for the intake
    assert band(replace(MILD, load="rest"), "vent_temperature") is None
    assert band(replace(MILD, intake_k=325.0), "vent_temperature") is None


@given(
    st.floats(278.15, 323.15),
    st.sampled_from(["moderate", "raised", "lowered"]),
    st.sampled_from(COMMANDS),
    st.sampled_from(["R-134a", "R-1234yf", "R-152a"]),
    st.one_of(st.none(), st.floats(0.0, 1.0)),
)
def test_every_running_condition_has_a_sane_band(
    ambient: float, load: str, command: str, name: str, humidity: float | None
) -> None:
    conditions = Conditions(name, ambient, load, command, humidity=humidity)
    low_side, high_side = band(conditions, "low_side"), band(conditions, "high_side")
    for found in (low_side, high_side):
        assert found.low < found.high
        assert found.source
    assert low_side.low < high_side.low
    assert low_side.high < high_side.high
    assert low_side.low > -5 * PSI


def test_every_rule_is_reachable_and_names_its_source() -> None:
    keys = [(r.reading, load, c) for r in bands_data.RULES for load in r.loads for c in r.commands]
    assert len(keys) == len(set(keys)) == 2 * 3 * 3
    for rule in bands_data.RULES:
        assert "references.md" in rule.source or "no published source" in rule.source
        assert [row.air_c for row in rule.rows] == sorted(row.air_c for row in rule.rows)
        assert all(row.low < row.high for row in rule.rows)
