"""Conditions that can never be true or always are: what is said is certain, and nothing else is said."""

# ruff: noqa: E501 (one case a line reads best)

from __future__ import annotations

import pytest

from tests.engine.flow.lint.clean import CLEAN, rules_of, told, told_of

WHEN = "when: loaded.high_side - baseline.high_side >= 15 psi"
RULE = "when: drive is electric"


def test_the_clean_flow_has_no_problem() -> None:
    assert told(CLEAN) == []


# Each by hand: no number, word or state of knowledge makes it true.
NEVER = [
    "gap < 3 K and gap > 4 K",
    "gap < 3 K and gap >= 3 K",
    "gap > 18 degF and gap < 9 K",  # 18 degF of difference are 10 K
    "ambient_temperature < 0 degC and ambient_temperature > 68 degF",
    "ambient_temperature > 61 degC",  # possible is at most 60
    "drive is belt and drive is electric",
    "drive is belt and not drive is belt|electric",
    "not drive is belt|electric",
    "codes is none and codes is charge",  # 'none' stands alone
    "drive is belt and not known drive",
    "known gap and not known gap",
    "not known gap and gap > 3 K",
    "not (gap < 3 K or gap > 2 K)",
    "loaded.high_side - baseline.high_side > 5 psi and baseline.high_side - loaded.high_side > 5 psi",
    "loaded.high_side - baseline.high_side > 5 psi and loaded.high_side < 10 psi and baseline.high_side > 9 psi",
    "loaded.high_side > baseline.high_side and loaded.high_side < baseline.high_side",
    "gap - gap > 1 K",
]

SOMETIMES = [
    "gap < 3 K or gap > 4 K",
    "gap <= 3 K and gap >= 3 K",
    "gap > 17 degF and gap < 10 K",
    "ambient_temperature >= 60 degC",
    "codes is charge and codes is wire",  # several may be given
    "codes is charge and not codes is wire",
    "codes is none and not codes is charge",
    "known gap and gap > 3 K",
    "known gap or not known drive",
    "not known gap and drive is belt",
    "loaded.high_side - baseline.high_side > 5 psi and loaded.high_side < 10 psi and baseline.high_side > 4 psi",
    "loaded.low_side < 3 psi and baseline.low_side > 4 psi",
    "loaded.high_side > baseline.high_side and loaded.low_side < baseline.low_side",
    "gap > -5000 K",  # nothing certain is known of how large a difference can be
]


@pytest.mark.parametrize("condition", NEVER)
def test_a_rule_that_can_never_be_true(condition: str) -> None:
    guarded = f"known loaded.high_side and known baseline.high_side and {condition}"
    text = guarded if "loaded" in condition else condition
    assert "never-true" in rules_of(("    next: judge\n  judge:", _after(text)))


@pytest.mark.parametrize("condition", NEVER)
def test_a_sign_that_nothing_makes_true(condition: str) -> None:
    assert rules_of((WHEN, f"when: {condition}")) == {"dead-sign"}


@pytest.mark.parametrize("condition", SOMETIMES)
def test_nothing_is_said_of_what_may_be_true_and_false(condition: str) -> None:
    assert rules_of((WHEN, f"when: {condition}")) == set()


def _after(condition: str) -> str:
    rules = f"- {{when: {condition}, go: off-road}}\n      - unknown: judge\n      - otherwise: judge\n"
    return f"    next:\n      {rules}  off-road: {{title: T, do: D, next: judge}}\n  judge:"


ALWAYS = ["gap < 4 K or gap > 3 K", "drive is belt|electric", "not (gap < 3 K and gap > 4 K)", "drive is belt or drive is electric"]  # fmt: skip


@pytest.mark.parametrize("condition", ALWAYS)
def test_what_is_true_wherever_it_is_known(condition: str) -> None:
    ((rule, what),) = told_of((WHEN, f"when: {condition}"))
    assert rule == "always-true"
    assert "where its readings are known" in what


def test_what_is_true_whatever_is_known() -> None:
    ((rule, what),) = told_of((WHEN, "when: known gap or not known gap"))
    assert (rule, what) == ("always-true", "sign 'answers' is always true")


def test_a_reading_compared_with_itself_must_still_be_known() -> None:
    """Found by random conditions: it counted as true whatever is known."""
    ((rule, what),) = told_of((WHEN, "when: gap <= gap"))
    assert rule == "always-true"
    assert "where its readings are known" in what


def test_an_alternative_that_can_never_be_true_beside_one_that_can() -> None:
    ((rule, what),) = told_of((WHEN, "when: gap > 5 K or drive is belt and drive is electric"))
    assert rule == "dead-sign"
    assert what.startswith("alternative 2 of sign 'answers' can never be true")


def test_what_says_why_names_the_readings() -> None:
    ((_, what),) = told_of((WHEN, "when: gap < 3 K and gap > 4 K"))
    assert what == "sign 'answers' can never be true: no value of 'gap' makes it so"


def test_a_watch_rule_that_never_fires() -> None:
    changes = ("when: high_side >= limit", "when: high_side > 9 bar and high_side < 8 bar")
    assert "never-true" in rules_of(changes)


def test_a_condition_of_too_many_cases_is_left_alone() -> None:
    """2^9 ways to be true: more than are followed, and nothing is claimed."""
    clauses = " and ".join(f"(gap > {n} K or gap < {-n} K)" for n in range(1, 10))
    assert rules_of((WHEN, f"when: {clauses} and drive is belt")) == set()
