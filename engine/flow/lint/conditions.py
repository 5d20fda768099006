"""Conditions that can never be true, or always are: only what is certain from the condition itself."""

from __future__ import annotations

from collections.abc import Iterator

from engine.flow import condition_nodes as nodes
from engine.flow import model
from engine.flow.condition import Condition
from engine.flow.lint.knowledge import FlowKnowledge
from engine.flow.lint.places import SIGN, Spot, spots
from engine.flow.lint.rule import Found, Linting, Rule
from engine.flow.lint.state import Knowledge, why_impossible
from engine.flow.lint.terms import TooMany, Want, cases


def impossible(test: nodes.Test, want: Want, knowledge: Knowledge) -> str | None:
    """Why the test can never be as wanted; None where it can, or where that is not certain."""
    try:
        return why_impossible(cases(test, want), knowledge)
    except TooMany:
        return None


def tree(condition: model.Condition) -> nodes.Test:
    """The tests of a condition of a flow, whose conditions all come from our parser."""
    assert isinstance(condition, Condition)
    return condition.test


def _never(linting: Linting, signs: bool) -> Iterator[Found]:
    knowledge = FlowKnowledge(linting.flow, linting.needs)
    for spot in spots(linting):
        if (spot.kind == SIGN) is not signs:
            continue
        test = tree(spot.condition)
        why = impossible(test, Want.TRUE, knowledge)
        if why is not None:
            what = f"{spot.words} can never be true: {why}"
            yield Found(spot.place(), what, "mend one of its tests, or delete it", spot.at)
        elif isinstance(test, nodes.Any):
            yield from _never_in_part(spot, test, knowledge)


def _never_in_part(spot: Spot, test: nodes.Any, knowledge: Knowledge) -> Iterator[Found]:
    for number, part in enumerate(test.parts):
        why = impossible(part, Want.TRUE, knowledge)
        if why is not None:
            what = f"alternative {number + 1} of {spot.words} can never be true: {why}"
            yield Found(spot.place(), what, "mend it, or delete it from the 'or'", spot.at)


def _never_true(linting: Linting) -> Iterator[Found]:
    return _never(linting, signs=False)


def never_true_signs(linting: Linting) -> Iterator[Found]:
    """Signs that contradict themselves."""
    return _never(linting, signs=True)


def _always_true(linting: Linting) -> Iterator[Found]:
    knowledge = FlowKnowledge(linting.flow, linting.needs)
    for spot in spots(linting):
        if spot.name in linting.flow.signs and linting.flow.signs[spot.name].graded:
            continue  # the steps of a graded sign share out a range between them
        test = tree(spot.condition)
        if impossible(test, Want.NOT_TRUE, knowledge) is not None:
            hint = "delete it, or use 'otherwise'" if spot.rule is not None else "mend one of its tests"
            yield Found(spot.place(), f"{spot.words} is always true", hint, spot.at)
        elif impossible(test, Want.FALSE, knowledge) is not None:
            hint = "write 'known NAME' if that is meant, else mend one of its tests"
            what = f"{spot.words} is always true where its readings are known"
            yield Found(spot.place(), what, hint, spot.at)


NEVER_TRUE = Rule(
    "never-true",
    "A condition that can never be true leads nowhere, and the case it was written for is missed.",
    "Correct the number, the word or the 'and'; where nothing is meant, delete the rule.",
    _never_true,
)
ALWAYS_TRUE = Rule(
    "always-true",
    "A condition that is always true decides nothing, and the rules after it are never tried.",
    "Correct the number, the word or the 'or'; to ask only whether something was read, write 'known NAME'.",
    _always_true,
)
