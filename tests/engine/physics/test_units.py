"""Conversion: round trips for every unit of every kind, and offsets for temperatures only."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.physics.quantity import (
    OVER_LIMIT_OHM,
    SI_UNIT,
    Kind,
    QuantityError,
    difference_of,
    from_si,
    parse,
    parse_any,
    show,
    to_si,
    units_of,
)

EVERY_UNIT = [(kind, unit) for kind in Kind for unit in units_of(kind)]
every_unit = st.sampled_from(EVERY_UNIT)


@given(every_unit, st.floats(-1e6, 1e6))
def test_si_and_back(kind_unit: tuple[Kind, str], number: float) -> None:
    kind, unit = kind_unit
    assert from_si(to_si(number, unit, kind), unit, kind) == pytest.approx(number, rel=1e-12, abs=1e-9)


@given(every_unit, st.integers(0, 99999), st.sampled_from([0, 1, 2]), st.sampled_from(".,"))
def test_typed_text_means_its_number(
    kind_unit: tuple[Kind, str], digits: int, places: int, point: str
) -> None:
    kind, unit = kind_unit
    number = digits / 10**places
    typed = f"{number:.{places}f}".replace(".", point)
    spelled = typed if kind is Kind.NUMBER else f"{typed} {unit}"
    parsed = parse(spelled, kind, units_of(kind)[0])
    assert parsed.number == number
    assert parsed.unit == unit
    assert parsed.si == to_si(number, unit, kind)


@given(every_unit, st.floats(-1e5, 1e5))
def test_what_is_shown_can_be_typed(kind_unit: tuple[Kind, str], number: float) -> None:
    kind, unit = kind_unit
    si = to_si(number, unit, kind)
    shown = show(si, kind, unit)
    back = parse(shown, kind, units_of(kind)[0])
    # Shown is rounded to at most the unit's step; a positive vacuum is shown in psi, over 1000 Mohm as OL.
    si = min(si, OVER_LIMIT_OHM) if kind is Kind.RESISTANCE else si
    step = to_si(1.0, back.unit, kind) - to_si(0.0, back.unit, kind)
    assert abs(back.si - si) <= abs(step) * 0.5001
    assert "-0 " not in f"{shown} "


@given(st.text(max_size=60))
def test_any_text_is_understood_or_refused_with_a_sentence(text: str) -> None:
    for attempt in (lambda: parse(text, Kind.PRESSURE, "psi"), lambda: parse_any(text)):
        sentence = "."
        try:
            si = attempt().si
        except QuantityError as refused:
            si, sentence = 0.0, str(refused)
        assert math.isfinite(si)
        assert sentence.endswith(".")
        assert sentence.isprintable()


def test_first_unit_is_the_default_and_every_kind_has_an_si_unit() -> None:
    assert units_of(Kind.PRESSURE) == ("psi", "bar", "kPa", "MPa", "kgf/cm2", "inHg vac")
    assert units_of(Kind.TEMPERATURE) == ("degC", "degF")
    assert units_of(Kind.MASS) == ("kg", "g", "oz", "lb")
    assert set(SI_UNIT) == set(Kind)


def test_differences() -> None:
    assert difference_of(Kind.PRESSURE) is Kind.PRESSURE_DIFFERENCE
    assert difference_of(Kind.TEMPERATURE) is Kind.TEMPERATURE_DIFFERENCE
    assert difference_of(Kind.RATIO) is Kind.RATIO_DIFFERENCE
    assert difference_of(Kind.MASS) is Kind.MASS
    assert difference_of(Kind.PRESSURE_DIFFERENCE) is Kind.PRESSURE_DIFFERENCE


@pytest.mark.parametrize("unit", ["K", "degC", "degF"])
def test_a_difference_of_nothing_is_nothing(unit: str) -> None:
    assert to_si(0.0, unit, Kind.TEMPERATURE_DIFFERENCE) == 0.0


def test_unknown_unit_names_the_choices() -> None:
    with pytest.raises(ValueError, match="use one of psi, bar"):
        to_si(1.0, "psia", Kind.PRESSURE)
