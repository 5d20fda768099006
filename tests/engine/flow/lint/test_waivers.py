"""Waivers: with a reason, for one rule at one name; and a waiver that meets nothing is told."""

from __future__ import annotations

import pytest

from engine.flow.lint.registry import RULES
from engine.flow.lint.waivers import UNUSED_WAIVER_RULE
from tests.engine.flow.lint.clean import CLEAN, WAIVE, told
from tests.engine.flow.small import changed, spot

TWICE = (
    "    next: judge\n  judge:",
    "    next: again\n  again: {title: T, do: D, ask: [gap], next: judge}\n  judge:",
)


def waived(*entries: str, more: tuple[tuple[str, str], ...] = (TWICE,)) -> str:
    """The flow with a reading asked twice, and with waivers."""
    listed = "".join(f"  - {{{entry}}}\n" for entry in entries)
    return changed(("start: look\n", WAIVE + listed), *more, text=CLEAN)


@pytest.mark.parametrize("at", ["again", "gap"])
def test_a_warning_is_waived_at_its_step_or_its_reading(at: str) -> None:
    assert told(waived(f"rule: asked-twice, at: {at}, because: the car has cooled down")) == []


def test_a_waiver_of_another_rule_meets_nothing() -> None:
    text = waived("rule: range-gap, at: again, because: why not")
    found = told(text)
    assert [one.rule for one in found] == ["unused-waiver", "asked-twice"]
    assert found[0].what == "waiver of 'range-gap' at 'again' meets no warning"
    assert (found[0].line, found[0].column) == spot(text, "at: again", into=4)


def test_a_waiver_at_another_step_meets_nothing() -> None:
    assert [one.rule for one in told(waived("rule: asked-twice, at: base, because: x"))] == [
        "unused-waiver",
        "asked-twice",
    ]


def test_a_rule_that_is_not_there() -> None:
    found = told(waived("rule: askedtwice, at: again, because: x"))
    assert (found[0].rule, found[0].hint) == ("unused-waiver", "did you mean 'asked-twice'?")


def test_a_waiver_needs_its_reason() -> None:
    (only,) = told(waived("rule: asked-twice, at: again"))
    assert (only.rule, only.what) == (None, "'because' is missing")


def test_a_waiver_with_an_unknown_key_is_an_error() -> None:
    (only,) = told(waived("rule: asked-twice, at: again, because: x, until: tomorrow"))
    assert (only.severity, only.what) == ("error", "unknown key 'until'")


PART = """\
waive:
  - {rule: notice-for-injury, at: cold, because: our lawyer says so}
cautions:
  cold: {signal: NOTICE, text: It can burn skin., source: made up}
"""


def test_a_part_waives_what_stands_in_it() -> None:
    text = changed(("start: look", "start: look\nuse: [more.yaml]"), text=CLEAN)
    assert told(text, more=PART) == []
    unwaived = PART.partition("cautions")
    assert [one.rule for one in told(text, more=unwaived[1] + unwaived[2])] == ["notice-for-injury"]


def test_a_part_s_waiver_does_not_reach_into_the_flow() -> None:
    part = PART.replace("at: cold", "at: keep")
    text = changed(
        ("start: look", "start: look\nuse: [more.yaml]"),
        ("text: Recover what is inside.", "text: It can burn skin."),
        text=CLEAN,
    )
    assert sorted(one.what.partition("'")[2] for one in told(text, more=part)) == [
        "cold' is a NOTICE and speaks of injury ('burn')",
        "keep' is a NOTICE and speaks of injury ('burn')",
    ]


def test_a_flow_waives_what_stands_in_its_parts() -> None:
    text = changed(
        (
            "start: look",
            "start: look\nuse: [more.yaml]\nwaive: [{rule: notice-for-injury, at: cold, because: x}]",
        ),
        text=CLEAN,
    )
    assert told(text, more=PART.partition("cautions")[1] + PART.partition("cautions")[2]) == []


def test_every_rule_says_why_and_what_to_do() -> None:
    every = [*RULES, UNUSED_WAIVER_RULE]
    assert len({rule.name for rule in every}) == len(every)
    for rule in every:
        assert rule.name == rule.name.lower().replace(" ", "-")
        assert rule.why.endswith(".")
        assert rule.remedy.endswith(".")
