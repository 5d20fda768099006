"""Small flows made by hand, with conditions simple enough to see through."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from engine.flow.model import (
    ITEM_BEGIN,
    ITEM_CAUTIONS,
    ITEM_DONE,
    ITEM_SETTLE,
    Caution,
    Choice,
    Facts,
    Finding,
    Flow,
    Limits,
    Next,
    Reading,
    Rule,
    SetState,
    Sign,
    Step,
    Value,
)
from engine.job.events import ACKNOWLEDGED, ANSWERED, CANNOT_MEASURE, DONE, SET_BEGUN, SETTLED
from engine.job.state import Answer
from engine.job.walk import Walk, advance
from engine.physics.quantity import Kind

Look = Callable[[str], Value | None]


@dataclass(frozen=True)
class When:
    """A condition: `test` gets a look-up by full name, with unprefixed names meaning the set being taken."""

    text: str
    names: tuple[str, ...]
    test: Callable[[Look], bool | None]
    guarded: frozenset[str] = frozenset()

    def evaluate(self, facts: Facts, current_set: str | None = None) -> bool | None:
        def look(name: str) -> Value | None:
            if current_set is not None:
                found = facts.get(f"{current_set}.{name}")
                if found is not None:
                    return found
            return facts.get(name)

        return self.test(look)


def is_(name: str, word: str) -> When:
    def test(look: Look) -> bool | None:
        value = look(name)
        return None if value is None else value == word

    return When(f"{name} is {word}", (name,), test)


def over(name: str, limit: float) -> When:
    def test(look: Look) -> bool | None:
        value = look(name)
        return value > limit if isinstance(value, (int, float)) else None

    return When(f"{name} > {limit:g}", (name,), test)


def both(one: When, other: When) -> When:
    def test(look: Look) -> bool | None:
        told = one.test(look), other.test(look)
        return False if False in told else None if None in told else True

    return When(f"{one.text} and {other.text}", one.names + other.names, test)


def choice(name: str, *words: str, several: bool = False, alone: str | None = None) -> Reading:
    made = tuple(Choice(word, word.replace("-", " ").capitalize()) for word in words)
    return Reading(name, name, choices=made, several=several, alone=alone)


def quantity(name: str, kind: Kind = Kind.PRESSURE, unit: str = "psi", **more: Any) -> Reading:
    return Reading(name, name, kind=kind, unit=unit, **more)


def to(target: str) -> Next:
    return Next((), None, target)


def rules(*given: tuple[When, str | None], unknown: str | None = None, otherwise: str | None = None) -> Next:
    return Next(tuple(Rule(when, go) for when, go in given), unknown, otherwise)


def flow(
    *steps: Step,
    readings: tuple[Reading, ...] = (),
    sets: tuple[SetState, ...] = (),
    signs: tuple[Sign, ...] = (),
    findings: tuple[Finding, ...] = (),
    cautions: tuple[Caution, ...] = (),
    limits: Limits | None = None,
    watch: tuple[Any, ...] = (),
) -> Flow:
    """A flow that starts with the first step; pressures of two sides and a yes-or-no are always declared."""
    known = (quantity("low_side"), quantity("high_side"), choice("turns", "yes", "no"), *readings)
    return Flow(
        name="little",
        revision=1,
        title="A little flow",
        about="",
        start=steps[0].id if steps else "",
        readings={one.name: one for one in known},
        sets={one.name: one for one in sets},
        cautions={one.id: one for one in cautions},
        watch=watch,
        steps={one.id: one for one in steps},
        signs={one.name: one for one in signs},
        findings={one.id: one for one in findings},
        limits=limits or Limits(),
        hash="",
    )


def finding(name: str, prior: float = 1.0, **more: Any) -> Finding:
    return Finding(name, name, "", prior=prior, **more)


def sign(name: str, when: When, **weighs: tuple[float, float]) -> Sign:
    return Sign(name, when, f"{name} says", {key.replace("_", "-"): pair for key, pair in weighs.items()})


_PLAIN = {
    ITEM_CAUTIONS: (ACKNOWLEDGED, {}),
    ITEM_BEGIN: (SET_BEGUN, {}),
    ITEM_SETTLE: (SETTLED, {"waited": 180.0, "kept": True}),
    ITEM_DONE: (DONE, {}),
}


def answer(walk: Walk, value: Value | None = None) -> Answer:
    """An answer that fits the prompt; for a reading None means "cannot measure"."""
    assert walk.prompt is not None
    key = walk.prompt.key
    if walk.prompt.item in _PLAIN:
        kind, detail = _PLAIN[walk.prompt.item]
        return Answer(kind, key, detail=detail)
    return Answer(CANNOT_MEASURE if value is None else ANSWERED, key, value)


def through(walk: Walk, *values: Value | None) -> Walk:
    """The walk after these values for the readings asked, everything else on the way answered plainly."""
    left = list(values)
    while walk.prompt is not None:
        if walk.prompt.item in _PLAIN:
            walk = advance(walk, answer(walk))
        elif left:
            walk = advance(walk, answer(walk, left.pop(0)))
        else:
            break
    assert not left, "more values than readings asked"
    return walk


def told(walk: Walk) -> Mapping[str, Value]:
    return dict(walk.facts.known())
