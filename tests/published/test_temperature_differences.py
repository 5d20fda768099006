"""Differences convert by 1.8 only: the published page of references.md 4b prints 66-72 degF for 19-22 K."""

from __future__ import annotations

import pytest

from engine.physics.quantity import Kind, from_si, parse


@pytest.mark.parametrize(("kelvin", "fahrenheit"), [(19, 34.2), (20, 36.0), (22, 39.6)])
def test_25_differences(kelvin: float, fahrenheit: float) -> None:
    assert from_si(kelvin, "degF", Kind.TEMPERATURE_DIFFERENCE) == pytest.approx(fahrenheit, rel=1e-14)
    parsed = parse(f"{fahrenheit} degF", Kind.TEMPERATURE_DIFFERENCE, "K")
    assert parsed.si == pytest.approx(kelvin, rel=1e-14)


def test_25_as_whole_degrees() -> None:
    """19-22 K are 34-40 degF."""
    assert [round(from_si(k, "degF", Kind.TEMPERATURE_DIFFERENCE)) for k in (19, 22)] == [34, 40]


def test_25_the_same_text_as_a_temperature_has_its_offset() -> None:
    assert parse("66 degF", Kind.TEMPERATURE, "degC").si == pytest.approx(292.04, abs=0.01)
    assert parse("66 degF", Kind.TEMPERATURE_DIFFERENCE, "K").si == pytest.approx(36.67, abs=0.01)
