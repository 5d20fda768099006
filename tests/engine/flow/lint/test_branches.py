"""Rules of one step beside each other: gaps, overlaps, and rules that are never come to."""

from __future__ import annotations

import pytest

from tests.engine.flow.lint.clean import CLEAN, told, told_of

LOW, HIGH = "{when: gap < 3 K, go: gauges}", "{when: gap >= 3 K and gap < 9 K, go: gauges}"


def rules(low: str, high: str, *more: str) -> list[tuple[str | None, str]]:
    """What is said where the step has two ranges that lead to two places."""
    extra = "".join(f"\n      - {{when: {one}, go: gauges}}" for one in more)
    return told_of((LOW, f"{{when: {low}, go: gauges}}"), (HIGH, f"{{when: {high}, go: judge}}{extra}"))


def test_a_gap_is_told_in_the_units_of_the_author() -> None:
    ((rule, what),) = rules("gap < 3 K", "gap > 4 K")
    assert rule == "range-gap"
    assert what == "gap between 3 and 4 K: no rule of step 'look' takes 'gap' there"


def test_each_gap_of_three_ranges() -> None:
    found = rules("gap < 3 K", "gap > 4 K and gap <= 6 K", "gap >= 7 K")
    assert [what.partition(":")[0] for _, what in found] == ["gap between 3 and 4 K", "gap between 6 and 7 K"]


def test_a_gap_between_two_units() -> None:
    ((_, what),) = rules("gap < 3 K", "gap > 9 degF")
    assert what.startswith("gap between 3 K and 9 degF:")


def test_a_gap_of_a_single_value() -> None:
    ((_, what),) = rules("gap < 3 K", "gap > 3 K")
    assert what.startswith("gap at 3 K:")


@pytest.mark.parametrize(
    ("low", "high"),
    [
        ("gap < 3 K", "gap >= 3 K"),
        ("gap < 9 degF", "gap >= 5 K"),  # the same limit in two units
        ("gap < 3 K", "gap < 9 K"),  # a cascade: the second takes what the first left
        ("gap < 3 K", "gap > 4 K or gap >= 3 K"),
        ("gap < 3 K", "drive is belt"),
        ("gap < 3 K", "gap > 4 K and drive is belt"),  # not by the range alone
    ],
)
def test_no_gap_and_no_overlap(low: str, high: str) -> None:
    assert rules(low, high) == []


def test_a_rule_that_may_take_the_gap_leaves_none() -> None:
    assert rules("gap < 3 K", "gap > 4 K", "gap <= 4 K and drive is belt") == []


def test_an_overlap() -> None:
    ((rule, what),) = rules("gap < 4 K", "gap > 3 K")
    assert rule == "range-overlap"
    assert what == "rules 2 and 3 of step 'look' overlap between 3 and 4 K"


def test_an_overlap_in_a_single_value() -> None:
    ((_, what),) = rules("gap <= 3 K", "gap >= 3 K")
    assert what == "rules 2 and 3 of step 'look' overlap at 3 K"


def test_rules_that_lead_to_the_same_step_may_overlap() -> None:
    assert told_of((LOW, "{when: gap < 4 K, go: gauges}")) == []


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("gap < 9 K", "gap < 3 K"),
        ("drive is belt|electric", "drive is belt"),
        ("known gap", "gap < 3 K"),
        ("gap < 9 K or drive is belt", "gap < 3 K and drive is belt"),
    ],
)
def test_a_rule_that_is_never_come_to(before: str, after: str) -> None:
    assert (
        "rule-covered",
        "rule 3 of step 'look' is never come to: the rules before it take every case",
    ) in rules(before, after)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("gap < 9 K and drive is belt", "gap < 3 K"),  # drive may be unknown, or electric (taken by rule 1)
        ("drive is belt", "not known drive"),
        ("gap < 3 K", "gap < 3 K or drive is belt"),
    ],
)
def test_a_rule_that_may_be_come_to(before: str, after: str) -> None:
    assert "rule-covered" not in [rule for rule, _ in rules(before, after)]


def test_a_rule_that_only_rules_out_takes_nothing() -> None:
    text = CLEAN.replace(
        "{when: drive is electric, go: judge}",
        "{when: drive is electric, rule_out: [weak], because: no belt}",
    ).replace(LOW, "{when: drive is electric, go: judge}")
    assert told(text) == []
