"""The missing reading that would part two findings best.

A reading parts them by the signs it would settle. Its possible outcomes are tried (each word, or values
across the plausible range); outcomes that settle the signs alike count as one, because nothing says how
likely each value is. What counts is how far the odds between the two findings would move, on average over
those outcomes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import log
from typing import Protocol

from engine.flow.model import Facts, Flow, Reading, Sign, Value
from engine.job.depends import readings_asked, rests_on
from engine.job.state import NextMeasurement
from engine.job.weigh import truths
from engine.physics.quantity import Kind, to_si

VALUES_TRIED = 9
"""Values tried across the range of a quantity."""

_RANGES = {
    Kind.PRESSURE: ("psi", 0.0, 400.0),
    Kind.ABSOLUTE_PRESSURE: ("kPaa", 65.0, 108.0),
    Kind.TEMPERATURE: ("degC", -10.0, 110.0),
    Kind.RATIO: ("percent", 0.0, 100.0),
    Kind.RESISTANCE: ("ohm", 0.0, 100.0),
    Kind.VOLTAGE: ("V", 0.0, 16.0),
    Kind.CURRENT: ("A", 0.0, 2.0),
    Kind.FREQUENCY: ("Hz", 0.0, 1000.0),
    Kind.SPEED: ("1/min", 0.0, 3000.0),
    Kind.MASS: ("g", 0.0, 2000.0),
    Kind.LENGTH: ("m", 0.0, 3000.0),
    Kind.TIME: ("s", 0.0, 600.0),
}
# What a shop meets; only for readings whose flow declares no plausible and no possible range.


class ChangeableFacts(Facts, Protocol):
    """Facts that can be tried with another value."""

    def with_value(self, name: str, value: Value | None) -> ChangeableFacts: ...


@dataclass(frozen=True, slots=True)
class _Open:
    """A sign that cannot be told yet, and the natural logarithms by which it would part the two findings."""

    sign: Sign
    if_true: float
    if_false: float
    rests_on: frozenset[str]

    @property
    def most(self) -> float:
        return max(abs(self.if_true), abs(self.if_false))


def next_measurement(flow: Flow, facts: ChangeableFacts, first: str, second: str) -> NextMeasurement | None:
    """The reading some step asks for, not known yet, that would part the two findings most; None if none
    would.

    If no single reading settles a sign, the one that does most towards settling several is named. A reading
    that was answered "cannot measure" may be named: it is missing all the same.
    """
    open_signs = tuple(_open_signs(flow, facts, first, second))
    missing = {
        full: flow.readings[name]
        for full, name in readings_asked(flow).items()
        if facts.get(full) is None and name in flow.readings and _can_be_asked(flow.readings[name], facts)
    }
    best = _best_alone(facts, missing, open_signs) or _best_in_part(missing, open_signs)
    return NextMeasurement(best, (first, second)) if best else None


def _can_be_asked(reading: Reading, facts: Facts) -> bool:
    return reading.ask_if is None or reading.ask_if.evaluate(facts) is not False


def _open_signs(flow: Flow, facts: Facts, first: str, second: str) -> Iterator[_Open]:
    signs = tuple(flow.signs.values())
    for sign, truth in zip(signs, truths(signs, facts), strict=True):
        one, other = sign.weighs.get(first, (1.0, 1.0)), sign.weighs.get(second, (1.0, 1.0))
        if one != other and truth is None:
            yield _Open(sign, _apart(one[0], other[0]), _apart(one[1], other[1]), rests_on(sign.when))


def _apart(one: float, other: float) -> float:
    """Logarithm of the odds between two findings; an odds of 0 counts as one in a million."""
    return log(max(one, 1e-6) / max(other, 1e-6))


def _best_alone(
    facts: ChangeableFacts, missing: dict[str, Reading], open_signs: Sequence[_Open]
) -> str | None:
    """The reading whose outcomes move the odds most; those that cannot beat the best so far are not tried."""
    touched = {name: [one for one in open_signs if name in one.rests_on] for name in missing}
    most = {name: _most(signs) for name, signs in touched.items()}
    best, moved = None, 0.0
    for name in sorted(missing, key=lambda one: -most[one]):
        if most[name] <= moved:
            break
        expected = _expected(facts, name, missing[name], touched[name])
        if expected > moved:
            best, moved = name, expected
    return best


def _most(signs: Iterable[_Open]) -> float:
    """No outcome moves the odds further than this; of one graded sign a single step is true."""
    most: dict[str, float] = {}
    for one in signs:
        most[one.sign.written_as] = max(most.get(one.sign.written_as, 0.0), one.most)
    return sum(most.values())


def _expected(facts: ChangeableFacts, name: str, reading: Reading, signs: Sequence[_Open]) -> float:
    outcomes = {
        tuple(truths((one.sign for one in signs), facts.with_value(name, value)))
        for value in outcomes_of(reading)
    }
    moves = [
        abs(sum(_moved(one, truth) for one, truth in zip(signs, told, strict=True))) for told in outcomes
    ]
    return sum(moves) / len(moves) if moves else 0.0


def _moved(one: _Open, truth: bool | None) -> float:
    return 0.0 if truth is None else one.if_true if truth else one.if_false


def _best_in_part(missing: dict[str, Reading], open_signs: Iterable[_Open]) -> str | None:
    """The reading with the largest share in signs that need several, each shared out over what it lacks."""
    credit = dict.fromkeys(missing, 0.0)
    for one in open_signs:
        lacking = [name for name in missing if name in one.rests_on]
        for name in lacking:
            credit[name] += one.most / len(lacking)
    best = max(credit, key=lambda name: credit[name], default=None)
    return best if best is not None and credit[best] > 0.0 else None


def outcomes_of(reading: Reading) -> tuple[Value, ...]:
    """Values that stand for what the reading may turn out to be."""
    if reading.kind is None:
        words = [choice.word for choice in reading.choices]
        return tuple(frozenset({word}) for word in words) if reading.several else tuple(words)
    low, high = _range(reading, reading.kind)
    return tuple(low + (high - low) * part / (VALUES_TRIED - 1) for part in range(VALUES_TRIED))


def _range(reading: Reading, kind: Kind) -> tuple[float, float]:
    declared = reading.plausible or reading.possible
    if declared is not None:
        return declared.low, declared.high
    unit, low, high = _RANGES[kind]
    return to_si(low, unit, kind), to_si(high, unit, kind)
