"""A rule may only use what was asked on every path to it, or say `known` first."""

# ruff: noqa: E501 (one step a line reads best)

from __future__ import annotations

import pytest

from tests.engine.flow.mini import asks, mini
from tests.engine.flow.small import only_problem, problems
from tests.pace import Paced

FORK = (
    "first: {title: T, do: D, ask: [hot], next: [{when: hot is yes, go: a}, {unknown: b}, {otherwise: b}]}\n"
)


def decide(name: str, when: str) -> str:
    """A junction whose rule uses something."""
    return (
        f"{name}: {{title: T, next: [{{when: {when}, go: done}}, {{unknown: done}}, {{otherwise: done}}]}}\n"
    )


def whats(text: str) -> list[str]:
    return [problem.what for problem in problems(text)]


def test_asked_on_every_path_is_fine() -> None:
    text = mini(
        FORK + asks("a", "wet", "end-up") + asks("b", "wet", "end-up") + decide("end-up", "wet is yes")
    )
    assert whats(text) == []


def test_not_asked_on_one_path_names_that_path() -> None:
    text = mini(
        FORK
        + asks("a", "wet", "c")
        + "b: {title: T, do: D, next: c}\n"
        + "c: {title: T, do: D, next: end-up}\n"
        + decide("end-up", "wet is yes")
    )
    problem = only_problem(text)
    assert problem.what == "'wet' is used, but not asked on the way first > b > c > end-up"
    assert problem.hint == "ask it before, or write 'known wet and ...'"
    before = text[: text.index("wet is yes")]
    assert (problem.line, problem.column) == (before.count("\n") + 1, len(before) - before.rfind("\n"))


@pytest.mark.parametrize(
    "when", ["known wet and wet is yes", "hot is no or known wet and wet is yes", "not known wet"]
)
def test_known_guards(when: str) -> None:
    text = mini(
        FORK + asks("a", "wet", "end-up") + "b: {title: T, do: D, next: end-up}\n" + decide("end-up", when)
    )
    assert whats(text) == []


def test_the_step_itself_asks_before_its_rules() -> None:
    steps = "first: {title: T, do: D, ask: [hot, wet], next: [{when: wet is yes, go: done}, {unknown: done}, {otherwise: done}]}\n"
    assert whats(mini(steps)) == []


def test_never_asked_at_all() -> None:
    text = mini(asks("first", "hot", "end-up") + decide("end-up", "wet is yes"))
    problem = only_problem(text)
    assert problem.what == "'wet' is used, but never asked"
    assert problem.hint == "add it to 'ask' or 'record' of a step before"


def test_a_reading_of_the_job_is_not_the_same_as_one_of_a_set() -> None:
    steps = "first: {title: T, do: D, ask: [hot, low_side], set: s, record: [high_side], next: end-up}\n"
    text = mini(steps + decide("end-up", "s.low_side > 5 psi and low_side > 5 psi and s.high_side > 5 psi"))
    assert whats(text) == ["'s.low_side' is used, but never asked"]


def test_what_a_skipped_step_asks_counts_as_not_asked() -> None:
    steps = (
        asks("first", "hot", "maybe")
        + "maybe: {title: T, do: D, ask: [wet], for: [fine], skip_to: end-up, next: end-up}\n"
        + decide("end-up", "wet is yes")
    )
    assert whats(mini(steps)) == ["'wet' is used, but not asked on the way first > maybe > end-up"]


def test_after_at_most_visits_what_the_step_asks_is_known() -> None:
    steps = (
        asks("first", "hot", "again")
        + "again: {title: T, do: D, ask: [wet], at_most: 2, then: end-up, next: again}\n"
        + decide("end-up", "wet is yes")
    )
    assert whats(mini(steps)) == []


def test_beginning_a_set_anew_forgets_what_was_in_it() -> None:
    steps = (
        "first: {title: T, do: D, ask: [hot], set: s, settle: 1 min, record: [low_side, high_side], next: second}\n"
        "second: {title: T, do: D, set: s, settle: 1 min, record: [low_side], next: end-up}\n"
        + decide("end-up", "s.low_side > 5 psi and s.high_side > 5 psi")
    )
    problem = only_problem(mini(steps))
    assert problem.what.startswith("'s.high_side' is used, but not asked on the way")


def test_a_watch_rule_can_cut_a_step_short() -> None:
    watch = "watch: [{name: w, when: high_side > 5 psi, because: B, go: stop}]\n"
    steps = (
        "first: {title: T, do: D, ask: [hot], set: s, record: [high_side, low_side], next: done}\n"
        "stop: {title: T, do: D, ask: [wet], next: [{when: s.low_side > 5 psi, go: done}, {unknown: done}, {otherwise: done}]}\n"
    )
    assert whats(mini(steps, more=watch)) == ["'s.low_side' is used, but not asked on the way first > stop"]
    asked_before = steps.replace("s.low_side > 5 psi", "hot is yes and wet is yes")
    assert whats(mini(asked_before, more=watch)) == []


def test_a_computed_name_needs_what_it_is_computed_from() -> None:
    steps = (
        FORK
        + "a: {title: T, do: D, ask: [refrigerant], set: s, record: [low_side, suction_line_temperature], next: end-up}\n"
        + "b: {title: T, do: D, ask: [refrigerant], set: s, record: [low_side], next: end-up}\n"
        + decide("end-up", "s.superheat > 5 K")
    )
    assert whats(mini(steps)) == [
        "'s.superheat' needs 's.suction_line_temperature', which is not asked on the way first > b > end-up"
    ]


@pytest.mark.parametrize("recorded", ["duty", "duty_displayed"])
def test_a_duty_may_be_typed_or_computed(recorded: str) -> None:
    steps = f"first: {{title: T, do: D, ask: [hot], set: s, record: [{recorded}], next: end-up}}\n" + decide(
        "end-up", "s.duty > 5 percent"
    )
    assert whats(mini(steps)) == []


def test_a_duty_needs_one_of_both() -> None:
    steps = "first: {title: T, do: D, ask: [hot], set: s, record: [low_side], next: end-up}\n" + decide(
        "end-up", "s.duty > 5 percent"
    )
    assert whats(mini(steps)) == ["'s.duty' needs 's.duty' or 's.duty_displayed', which is never asked"]


def test_settled_needs_the_step_that_begins_the_set() -> None:
    steps = (
        FORK
        + "a: {title: T, do: D, set: s, settle: 1 min, record: [low_side], next: end-up}\n"
        + "b: {title: T, do: D, next: end-up}\n"
        + decide("end-up", "s.settled is yes")
    )
    assert whats(mini(steps)) == [
        "'s.settled' needs 's.low_side', which is not asked on the way first > b > end-up"
    ]


def test_thousands_of_steps_stay_quick() -> None:
    """2,500 steps in a row with a loop back every ten: the whole load, checks included, in under 40 paces (2 s)."""
    steps = asks("first", "hot", "s0")
    for n in range(2500):
        back = f"{{when: hot is yes, go: s{n - 9}}}, " if n % 10 == 9 else ""
        limit = f"at_most: 2, then: s{n + 1}, " if back else ""
        steps += f"s{n}: {{title: T, do: D, {limit}next: [{back}{{when: wet is yes, go: s{n + 1}}}, {{unknown: s{n + 1}}}, {{otherwise: s{n + 1}}}]}}\n"
    steps += "s2500: {title: T, do: D, next: done}\n"
    text = mini(steps)
    with Paced() as cost:
        found = problems(text)
    assert cost.paces < 40
    assert len(found) == 100  # 'wet' is never asked; the rest is only counted
    assert {problem.what for problem in found} == {"'wet' is used, but never asked"}
