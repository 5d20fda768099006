"""Display units: by their name, round and round, and the unit a bare number takes."""

import pytest

from engine.flow.model import Choice, Reading
from engine.physics.quantity import Kind
from tui.units import NAMES, Units


def test_the_three_choices_come_round() -> None:
    units = Units()
    seen = [units.name]
    for _ in NAMES:
        units = units.next()
        seen.append(units.name)
    assert seen == ["psi degF", "kPa degC", "bar degC", "psi degF"]


def test_one_pressure_in_each() -> None:
    # 100 psi is 689.4757 kPa (NIST SP 811, appendix B.8).
    shown = [Units(name).show(689475.7, Kind.PRESSURE) for name in NAMES]
    assert shown == ["100 psi", "689 kPa", "6.89 bar"]


def test_a_temperature_difference_gets_no_offset() -> None:
    assert Units("psi degF").show(10.0, Kind.TEMPERATURE_DIFFERENCE) == "18 degF"
    assert Units("bar degC").show(10.0, Kind.TEMPERATURE_DIFFERENCE) == "10 K"


def test_a_kind_without_a_choice_keeps_the_unit_of_its_flow() -> None:
    resistance = Reading("lead_resistance", "Leads", Kind.RESISTANCE, "kohm")
    assert Units().entry_unit(resistance) == "kohm"
    assert Units().entry_unit(Reading("low_side", "Low side", Kind.PRESSURE, "bar")) == "psi"
    assert Units().entry_unit(Reading("drive", "Drive", choices=(Choice("belt", "Belt"),))) == ""


def test_unknown_units_are_refused_by_name() -> None:
    with pytest.raises(ValueError, match="no units called 'furlongs'; use one of psi degF"):
        Units("furlongs")
