"""What conditions mean: three-valued logic, precedence, units, differences, choices."""

# ruff: noqa: E501 (one case a line reads best)

from __future__ import annotations

import itertools
from typing import Any

import pytest

from engine.flow.condition import parse_condition
from engine.flow.model import Choice, Reading
from engine.flow.names import NameTable
from engine.physics.quantity import Kind

PSI = 6894.757293168  # NIST SP 811 (2008), appendix B.8


def _choice(name: str, *words: str, several: bool = False) -> Reading:
    return Reading(name, name, choices=tuple(Choice(w, w) for w in words), several=several)


READINGS = {
    **{name: _choice(name, "yes", "no") for name in ("a", "b", "c")},
    "frost": _choice("frost", "none", "suction-line", "drier"),
    "contamination": _choice("contamination", "none", "air", "sealant", several=True),
    "ambient": Reading("ambient", "Ambient", kind=Kind.TEMPERATURE, unit="degC"),
    "condenser": Reading("condenser", "Condenser", kind=Kind.TEMPERATURE, unit="degC"),
    "low_side": Reading("low_side", "Low", kind=Kind.PRESSURE, unit="psi"),
    "high_side": Reading("high_side", "High", kind=Kind.PRESSURE, unit="psi"),
    "high_side_limit": Reading("high_side_limit", "Limit", kind=Kind.PRESSURE, unit="psi"),
    "duty": Reading("duty", "Duty", kind=Kind.RATIO, unit="percent"),
    "engine_speed": Reading("engine_speed", "Speed", kind=Kind.SPEED, unit="1/min"),
    "ohms": Reading("ohms", "Coil", kind=Kind.RESISTANCE, unit="ohm"),
}
TABLE = NameTable(
    READINGS,
    sets=("baseline", "loaded"),
    recorded=frozenset({"low_side", "high_side", "duty"}),
    asked=frozenset({"ambient", "high_side_limit", "duty"}),
    timed=frozenset({"loaded"}),
)


def truth(text: str, facts: dict[str, Any]) -> bool | None:
    return parse_condition(text, TABLE).evaluate(facts)


# Kleene's strong three-valued logic, from its definition: false < unknown < true, `and` is the least,
# `or` the greatest, `not` turns the order round.
_ORDER = {False: 0, None: 1, True: 2}
_BACK = {0: False, 1: None, 2: True}
_ANSWER = {True: "yes", False: "no", None: None}


@pytest.mark.parametrize(("a", "b"), list(itertools.product([True, False, None], repeat=2)))
def test_kleene(a: bool | None, b: bool | None) -> None:
    facts = {"a": _ANSWER[a], "b": _ANSWER[b]}
    assert truth("a is yes and b is yes", facts) is _BACK[min(_ORDER[a], _ORDER[b])]
    assert truth("a is yes or b is yes", facts) is _BACK[max(_ORDER[a], _ORDER[b])]
    assert truth("not a is yes", facts) is _BACK[2 - _ORDER[a]]


@pytest.mark.parametrize("values", list(itertools.product(["yes", "no"], repeat=3)))
def test_not_binds_before_and_and_before_or(values: tuple[str, str, str]) -> None:
    facts = dict(zip("abc", values, strict=True))
    a, b, c = (value == "yes" for value in values)
    assert truth("a is yes or b is yes and c is yes", facts) is (a or (b and c))
    assert truth("(a is yes or b is yes) and c is yes", facts) is ((a or b) and c)
    assert truth("not a is yes and b is yes", facts) is ((not a) and b)
    assert truth("not (a is yes and b is yes) or c is yes", facts) is (not (a and b) or c)


def test_a_test_on_what_was_not_asked_is_unknown_never_false() -> None:
    for text in (
        "ambient > 5 degC",
        "ambient <= 5 degC",
        "frost is none",
        "loaded.high_side - baseline.high_side > 5 psi",
    ):
        assert truth(text, {}) is None
        assert truth(f"not {text}", {}) is None


def test_known_is_never_unknown() -> None:
    assert truth("known ambient", {}) is False
    assert truth("known ambient", {"ambient": 290.0}) is True
    assert truth("known ambient and ambient > 5 degC", {}) is False
    assert truth("not known loaded.duty", {}) is True


@pytest.mark.parametrize(
    ("text", "facts", "expected"),
    [
        ("high_side >= 2.7 MPa", {"high_side": 2.7e6}, True),
        ("high_side > 2.7 MPa", {"high_side": 2.7e6}, False),
        ("high_side >= 2,7 MPa", {"high_side": 2.699e6}, False),
        ("low_side < 5 inHg vac", {"low_side": -17000.0}, True),  # 5 inHg = 16932 Pa
        ("low_side < 5 inHg vac", {"low_side": -16900.0}, False),
        ("low_side >= 1 kgf/cm2", {"low_side": 98066.5}, True),
        ("low_side<40psi", {"low_side": 39 * PSI}, True),
        ("40 psi > low_side", {"low_side": 39 * PSI}, True),
        ("ambient >= 18 degC", {"ambient": 291.15}, True),
        ("ambient < -3 degC", {"ambient": 270.0}, True),  # 270 K = -3.15 degC
        ("ambient < \u22123 °C", {"ambient": 271.0}, False),
        ("ambient > 64 °F", {"ambient": 291.0}, True),  # 64 degF = 17.78 degC = 290.93 K
        ("duty >= 41 percent", {"duty": 0.41}, True),
        ("duty < 41%", {"duty": 0.41}, False),
        ("engine_speed >= 1500 1/min", {"engine_speed": 25.0}, True),
        ("ohms > 1 kohm and ohms < 2 kohm", {"ohms": 1500.0}, True),
        ("high_side ≥ 100 psi and high_side ≤ 200 psi", {"high_side": 150 * PSI}, True),
        ("condenser - ambient > 10 K", {"condenser": 311.0, "ambient": 300.0}, True),
        ("condenser - ambient > 18 degF", {"condenser": 311.0, "ambient": 300.0}, True),  # 11 K = 19.8 F
        ("condenser - ambient > 20 degF", {"condenser": 311.0, "ambient": 300.0}, False),
        ("loaded.duty - baseline.duty >= 10 points", {"loaded.duty": 0.41, "baseline.duty": 0.31}, True),
        ("loaded.duty - baseline.duty > 10 points", {"loaded.duty": 0.41, "baseline.duty": 0.31}, False),
        ("loaded.high_side - baseline.high_side >= 15 psi", {"loaded.high_side": 46 * PSI, "baseline.high_side": 31 * PSI}, True),
        ("loaded.high_side - baseline.high_side < 15 psi", {"loaded.high_side": 46 * PSI, "baseline.high_side": 31 * PSI}, False),
        ("loaded.high_side > baseline.high_side", {"loaded.high_side": 2e6, "baseline.high_side": 1e6}, True),
        ("loaded.condensing_over_ambient >= 25 K", {"loaded.condensing_over_ambient": 25.0}, True),
        ("loaded.pressure_ratio >= 3", {"loaded.pressure_ratio": 3.2}, True),
        ("frost is suction-line|drier", {"frost": "drier"}, True),
        ("frost is suction-line | drier", {"frost": "none"}, False),
        ("loaded.low_side_band is low|normal", {"loaded.low_side_band": "high"}, False),
        ("loaded.settled is yes", {"loaded.settled": "yes"}, True),
        ("contamination is air|sealant", {"contamination": frozenset({"air", "none"})}, True),
        ("contamination is sealant", {"contamination": frozenset({"air"})}, False),
        ("not (contamination is none)", {"contamination": frozenset({"air"})}, True),
    ],
)  # fmt: skip
def test_meaning(text: str, facts: dict[str, Any], expected: bool) -> None:
    assert truth(text, facts) is expected


def test_15_psi_is_a_gauge_pressure_or_a_difference_as_the_other_side_says() -> None:
    # 12 inHg vac is a gauge reading but no difference; that is how the two are told apart
    assert truth("low_side < 12 inHg vac", {"low_side": -50000.0}) is True
    facts = {"loaded.low_side": 15 * PSI, "baseline.low_side": 0.0}
    assert truth("loaded.low_side - baseline.low_side <= 15 psi", facts) is True


def test_names_in_order_and_guards() -> None:
    condition = parse_condition(
        "known loaded.duty and loaded.duty > 5 percent or not (ambient < 3 degC and known a)", TABLE
    )
    assert condition.names == ("loaded.duty", "ambient", "a")
    assert condition.guarded == {"loaded.duty", "a"}


def test_text_is_kept_on_one_line() -> None:
    assert parse_condition("a is yes\n  and  b is no ", TABLE).text == "a is yes and b is no"


def test_in_a_watch_rule_a_set_reading_means_the_set_being_taken() -> None:
    condition = parse_condition("high_side >= high_side_limit", TABLE, in_set=True)
    facts = {"loaded.high_side": 2e6, "baseline.high_side": 1e6, "high_side_limit": 1.5e6, "high_side": 9e6}
    assert condition.evaluate(facts, "loaded") is True
    assert condition.evaluate(facts, "baseline") is False
    assert condition.evaluate(facts, "static") is None  # never the job's, nobody asks it for the job
    assert condition.evaluate(facts, None) is None


def test_in_a_watch_rule_a_name_of_both_falls_back_to_the_job() -> None:
    condition = parse_condition("duty > 50 percent", TABLE, in_set=True)
    assert condition.evaluate({"duty": 0.6}, "loaded") is True
    assert condition.evaluate({"duty": 0.6, "loaded.duty": 0.2}, "loaded") is False


def test_in_a_watch_rule_computed_names_and_full_names_work() -> None:
    assert parse_condition("superheat < 2 K", TABLE, in_set=True).evaluate(
        {"loaded.superheat": 1.0}, "loaded"
    )
    full = parse_condition("baseline.high_side > 5 psi", TABLE, in_set=True)
    assert full.evaluate({"baseline.high_side": 1e6}, "loaded") is True
