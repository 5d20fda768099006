"""Signs from their entries: one for a condition, one for each step of a graded sign.

A graded sign reads a number and weighs it by its size. Its steps are signs that exclude each other, so that
whoever hears, weighs and tells signs need not know of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from engine.flow.assemble.conditions import BROKEN, condition
from engine.flow.assemble.sections import Entry, Sections
from engine.flow.assemble.weighing import COLUMNS, Written, odds, sign, weighed
from engine.flow.condition import Condition
from engine.flow.condition_nodes import Compare, Every, Number
from engine.flow.model import Sign
from engine.flow.names import NameTable
from engine.flow.schema import SignPart

RAMPS = ("rises", "falls")
"""Instead of odds a step: the more (the less) is read, the more it speaks for the finding."""

MOST_VALUES = 12
"""Values of `at`; more steps than that nobody can give odds to. Our choice."""

_RAMP_END = 5.0  # odds at the end of a ramp, and their inverse at the other: "fair"; our judgement


def signs(entry: Entry[SignPart], sections: Sections, table: NameTable) -> tuple[Sign, ...]:
    """The sign of an entry, or the steps of a graded one."""
    part = entry.part
    if (part.when is None) is (part.reads is None):
        entry.wrong(
            f"sign '{entry.name}' needs one of 'when' and 'reads'",
            "write the condition under 'when', or a reading under 'reads' and values under 'at'",
        )
        return ()
    if part.reads is None:
        if part.at:
            entry.wrong("'at' goes with 'reads'", "delete it, or write 'reads'", "at", key=True)
        return (sign(entry, sections, table),)
    return _graded(entry, part.reads, sections, table)


def step_name(name: str, number: int) -> str:
    """What a step of a graded sign is called; `number` counts from 1."""
    return f"{name}.{number}"


def _graded(entry: Entry[SignPart], reads: str, sections: Sections, table: NameTable) -> tuple[Sign, ...]:
    part = entry.part
    if not 1 <= len(part.at) <= MOST_VALUES:
        entry.wrong(
            f"'reads' needs 1 to {MOST_VALUES} values, here are {len(part.at)}",
            "write under 'at' the values that part its range",
            "at" if part.at else "reads",
            key=True,
        )
        return ()
    weighs, beside = (
        {one.finding: _of_steps(entry, one) for one in weighed(entry, sections, column)} for column in COLUMNS
    )
    directed = frozenset(name for name, given in part.weighs.items() if given in RAMPS)
    under = _under_each(entry, reads, table)
    if under is None:
        return ()
    return tuple(
        Sign(
            step_name(entry.name, step + 1),
            when,
            f"{part.says} {_range_in_words(part.at, step)}",
            {finding: (of_steps[step], 1.0) for finding, of_steps in weighs.items()},
            part.source,
            graded=entry.name,
            directed=directed,
            reasoned=part.reasoned,
            beside={finding: (of_steps[step], 1.0) for finding, of_steps in beside.items()},
        )
        for step, when in enumerate(_steps(under))
    )


def _under_each(entry: Entry[SignPart], reads: str, table: NameTable) -> list[Condition] | None:
    """`reads < value` for each value; None if they cannot be compared, or one is not above the one before."""
    found: list[Condition] = []
    for number, value in enumerate(entry.part.at):
        place = ("at", number) if number else ("reads",)
        found.append(condition(entry, table, f"{reads} < {value}", *place))
        if found[-1] is BROKEN:
            return None
    values = [_compared_with(one) for one in found]
    for number, (one, other) in enumerate(pairwise(values), start=1):
        if one is None or other is None or other <= one:
            at = entry.part.at
            what = f"'{at[number]}' is not above '{at[number - 1]}'"
            entry.wrong(what, "write the values in rising order", "at", number)
            return None
    return found


def _compared_with(one: Condition) -> float | None:
    """The number in SI behind a single comparison."""
    test = one.test
    return test.right.si if isinstance(test, Compare) and isinstance(test.right, Number) else None


def _steps(under: list[Condition]) -> Iterator[Condition]:
    """The condition of each step, made of those that say "under this value"."""
    yield under[0]
    for below, above in pairwise(under):
        reached = _not_under(below)
        test = Every((reached.test, above.test))
        yield Condition(f"{reached.text} and {above.text}", test, above.names, above.guarded)
    yield _not_under(under[-1])


def _not_under(one: Condition) -> Condition:
    """At least the value, with the same grain: what lies on it belongs to the step above."""
    test = one.test
    assert isinstance(test, Compare)
    reached = Compare(test.left, ">=", test.right, test.grain)
    return Condition(" >= ".join(one.text.rsplit(" < ", 1)), reached, one.names, one.guarded)


def _range_in_words(at: list[str], step: int) -> str:
    if step == 0:
        return f"is under {at[0]}"
    if step == len(at):
        return f"is {at[-1]} or more"
    return f"is from {at[step - 1]} to {at[step]}"


def _of_steps(entry: Entry[SignPart], one: Written) -> tuple[float, ...]:
    steps, given, at = len(entry.part.at) + 1, one.given, (one.column, one.finding)
    if isinstance(given, list):
        if len(given) == steps:
            return tuple(odds(entry, text, *at, step) for step, text in enumerate(given))
        hint = f"write {steps}, one for each step that 'at' makes"
        entry.wrong(f"{len(given)} odds for '{one.finding}'", hint, *at)
    elif given in RAMPS:
        return ramp(steps, falls=given == "falls")
    else:
        hint = f"write {steps} odds in a list, or rises, or falls"
        entry.wrong(f"'{given}' for '{one.finding}'", hint, *at)
    return (1.0,) * steps


def ramp(steps: int, *, falls: bool = False) -> tuple[float, ...]:
    """Odds that grow evenly (by factor) from one end of the steps to the other."""
    rising = tuple(_RAMP_END ** (2.0 * step / (steps - 1) - 1.0) for step in range(steps))
    return rising[::-1] if falls else rising
