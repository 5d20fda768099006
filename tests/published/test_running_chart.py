"""Bands against the one published running chart and the published rules (references.md 4a, 4b).

Chart: R-134a vehicle, model year 2010, service manual (maker withheld), taken as gauge: bonnet open, maximum
cold, recirculation, blower high, idle, relative humidity 50-70 %.
"""

from __future__ import annotations

import pytest

from engine.physics.bands import Conditions, band
from engine.physics.refrigerant import saturation_gauge_pressure

# Ambient degC: high side kPa, low side kPa.
CHART = {
    25: ((1204, 1471), (171, 209)),
    30: ((1300, 1590), (196, 240)),
    35: ((1500, 1820), (229, 280)),
    40: ((1870, 2285), (292, 357)),
}

# Air into the blower degC: centre vent degC at 50-60 % and at 60-70 % relative humidity.
VENT = {20: ((6.0, 8.0), (7.1, 9.1)), 25: ((8.4, 10.9), (10.9, 13.4)), 30: ((14.5, 17.5), (17.5, 20.5))}


@pytest.mark.parametrize("celsius", CHART)
@pytest.mark.parametrize("humidity", [None, 0.5, 0.6, 0.7])
@pytest.mark.parametrize("command", ["ceiling", "part", "unknown"])
def test_the_chart_is_normal(celsius: int, humidity: float | None, command: str) -> None:
    conditions = Conditions("R-134a", celsius + 273.15, "raised", command, humidity=humidity, speed=800 / 60)
    for reading, ends in zip(("high_side", "low_side"), CHART[celsius], strict=True):
        found = band(conditions, reading)
        assert found is not None
        assert [found.word(kpa * 1e3) for kpa in ends] == ["normal", "normal"]


@pytest.mark.parametrize("celsius", VENT)
def test_the_vents_are_normal(celsius: int) -> None:
    for humidity, ends in zip((0.55, 0.65), VENT[celsius], strict=True):
        conditions = Conditions(
            "R-134a", 303.15, "moderate", "ceiling", humidity=humidity, intake_k=celsius + 273.15
        )
        found = band(conditions, "vent_temperature")
        assert found is not None
        assert [found.word(vent + 273.15) for vent in ends] == ["normal", "normal"]


def test_the_rule_of_19_to_22_k_is_normal() -> None:
    """4b: 32 degC + 22 K = 54 degC, 1379 kPa gauge."""
    found = band(Conditions("R-134a", 305.15, "raised", "ceiling", humidity=0.6), "high_side")
    assert found is not None
    assert found.word(1379e3) == "normal"
    for kelvin in (19.0, 22.0):
        pressure = saturation_gauge_pressure("R-134a", 305.15 + kelvin, 101325.0)
        assert found.word(pressure) == "normal"


def test_evaporating_at_minus_7_is_normal_on_a_mild_day() -> None:
    """4b: evaporating temperature -7..7 degC; its lower end at full stroke and mild ambient."""
    found = band(Conditions("R-134a", 298.15, "raised", "ceiling", humidity=0.6), "low_side")
    assert found is not None
    assert found.word(saturation_gauge_pressure("R-134a", 266.16, 101325.0)) == "normal"


def test_far_above_the_chart_is_high() -> None:
    """At 40 degC the chart ends at 2285 kPa (331 psi): 350 psi is above it."""
    found = band(Conditions("R-134a", 313.15, "raised", "ceiling", humidity=0.6), "high_side")
    assert found is not None
    assert found.word(350 * 6894.757) == "high"
