"""What equal pressures at rest say, against published tables and rules, and what they must not claim.

Saturation values: R-134a absolute, undergraduate table (references.md 1a, column A): 20 degC 571.7 kPa.
"""

from __future__ import annotations

import pytest

from engine.flow.model import Value
from engine.job.facts import Facts
from tests.engine.flow.proved import celsius, facts


def at_rest(low_kpa: float | None, high_kpa: float | None, **more: Value) -> Facts:
    """Gauge pressures at rest at 24 degC: saturation of R-134a is 645.8 kPa absolute, 544.5 kPa gauge."""
    sides = {"static.low_side": low_kpa, "static.high_side": high_kpa}
    given: dict[str, Value] = {name: kpa * 1e3 for name, kpa in sides.items() if kpa is not None}
    return facts(given, **{"ambient_temperature": celsius(24.0), "soaked": "yes", **more})


def test_saturation_at_rest_is_a_gauge_pressure() -> None:
    assert at_rest(500.0, 500.0).get("static_saturation") == pytest.approx(544.5e3, abs=100)


@pytest.mark.parametrize(
    ("kpa", "charge"),
    [
        (0.0, "empty"),
        (60.0, "empty"),
        (80.0, "low"),
        (480.0, "low"),
        (510.0, "liquid"),
        (544.0, "liquid"),
        (600.0, "liquid"),
        (620.0, "above"),
    ],
)
def test_the_static_gate(kpa: float, charge: str) -> None:
    """The published rule asks 483 kPa from 24 degC; 10 psi (69 kPa) over 544.5 kPa something else presses."""
    assert at_rest(kpa, kpa).get("static_charge") == charge


@pytest.mark.parametrize(
    ("ambient", "least_kpa", "saturation_kpa"),
    [(16.0, 345.0, 403.0), (24.0, 483.0, 544.0), (33.0, 690.0, 737.0)],
)
def test_the_gate_is_neither_laxer_than_the_published_rule_nor_stricter_than_saturation(
    ambient: float, least_kpa: float, saturation_kpa: float
) -> None:
    """references.md 4c, with the saturation worked out there."""
    here = {"ambient_temperature": celsius(ambient)}
    assert at_rest(least_kpa - 1.0, least_kpa - 1.0, **here).get("static_charge") == "low"
    assert at_rest(saturation_kpa, saturation_kpa, **here).get("static_charge") == "liquid"


def test_the_lower_side_decides_and_one_side_will_do() -> None:
    assert at_rest(480.0, 620.0).get("static_charge") == "low"
    assert at_rest(None, 620.0).get("static_charge") == "above"
    assert at_rest(None, None).get("static_charge") is None


def test_only_a_soak_tells_how_far_the_pressure_is_over_saturation() -> None:
    assert at_rest(620.0, 620.0).get("static_over_saturation") == pytest.approx(75.5e3, abs=200)
    warm = at_rest(620.0, 620.0, soaked="no")
    assert warm.get("static_over_saturation") is None
    assert warm.get("static_charge") == "liquid"


def test_the_coldest_contact_temperature_goes_before_ambient() -> None:
    """At 20 degC saturation is 571.7 kPa absolute, 470.4 kPa gauge."""
    cold = at_rest(470.0, 470.0, contact_temperature=celsius(20.0))
    assert cold.get("static_saturation") == pytest.approx(470.4e3, abs=100)
    assert cold.get("static_charge") == "liquid"


def test_nothing_is_called_from_a_mixture_but_that_it_is_empty() -> None:
    mixed = frozenset({"other-refrigerant"})
    assert at_rest(620.0, 620.0, contamination=mixed).get("static_charge") is None
    assert at_rest(10.0, 10.0, contamination=mixed).get("static_charge") == "empty"


def test_beside_air_too_little_pressure_for_liquid_is_called_and_enough_proves_nothing() -> None:
    """Dalton: air adds to what liquid presses, so 480 kPa (483 in the published rule) holds no liquid."""
    air = frozenset({"air"})
    assert at_rest(480.0, 480.0, contamination=air).get("static_charge") == "low"
    assert at_rest(540.0, 540.0, contamination=air).get("static_charge") is None
    assert at_rest(10.0, 10.0, contamination=air).get("static_charge") == "empty"
    assert at_rest(480.0, 480.0, contamination=air, refrigerant_purity=0.95).get("static_charge") is None
    both = frozenset({"air", "hydrocarbon"})
    assert at_rest(480.0, 480.0, contamination=both).get("static_charge") is None


def test_carbon_dioxide_has_no_gate() -> None:
    assert at_rest(5000.0, 5000.0, refrigerant="R-744").get("static_charge") is None


def test_sensors_are_compared_after_a_soak() -> None:
    known = at_rest(540.0, 540.0, evaporator_sensor=celsius(19.0), pressure_sensor=600e3)
    assert known.get("evaporator_sensor_gap") == pytest.approx(-5.0)
    assert known.get("pressure_sensor_gap") == pytest.approx(60e3)
    assert known.with_value("soaked", "no").get("evaporator_sensor_gap") is None


def test_charge_share_is_recovered_over_label() -> None:
    assert facts(recovered_charge=0.33, label_charge=0.55).get("charge_share") == pytest.approx(0.6)
    assert facts(recovered_charge=0.33).get("charge_share") is None
    assert facts(recovered_charge=0.33, label_charge=0.0).get("charge_share") is None
