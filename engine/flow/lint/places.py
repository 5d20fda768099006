"""Every condition of a flow with its place and the names a waiver can mean it by."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from engine.flow.assemble.sections import Entry
from engine.flow.lint.rule import Linting
from engine.flow.model import Condition
from engine.flow.positions import PathPart
from engine.flow.problem import Place

STEP, SIGN, READING, FINDING, WATCH = "step", "sign", "reading", "finding", "watch rule"


@dataclass(frozen=True, slots=True)
class Spot:
    """A condition where it stands: in the entry `name` of kind `kind`; `rule` numbers the rules of a step."""

    kind: str
    name: str
    condition: Condition
    entry: Entry[Any]
    below: tuple[PathPart, ...]
    rule: int | None = None

    def place(self, word: str = "") -> Place:
        """Where the condition stands, or where `word` stands in it."""
        return self.entry.place(*self.below, offset=max(self.condition.text.find(word), 0) if word else None)

    @property
    def at(self) -> tuple[str, ...]:
        """The names by which a waiver can mean it: a step of a graded sign also by the sign's."""
        return (self.name,) if self.kind == WATCH else tuple({self.name: None, self.entry.name: None})

    @property
    def words(self) -> str:
        """Which condition it is, for a sentence."""
        rule = f"rule {self.rule + 1} of " if self.rule is not None else ""
        return f"{rule}{self.kind} '{self.name}'"


def spots(linting: Linting) -> Iterator[Spot]:
    """All conditions, in the order of the sections."""
    flow = linting.flow
    for name, reading in flow.readings.items():
        if reading.ask_if is not None:
            yield Spot(READING, name, reading.ask_if, linting.entry("readings", name), ("ask_if",))
    for watch, entry in zip(flow.watch, linting.sections.watch, strict=True):
        yield Spot(WATCH, watch.name, watch.when, entry, ("when",))
    yield from step_spots(linting)
    for sign in flow.signs.values():
        entry = linting.entry("signs", sign.written_as)
        yield Spot(SIGN, sign.name, sign.when, entry, ("reads" if sign.graded else "when",))
    for name, finding in flow.findings.items():
        if finding.told_when is not None:
            yield Spot(FINDING, name, finding.told_when, linting.entry("findings", name), ("told_when",))


def step_spots(linting: Linting) -> Iterator[Spot]:
    """The conditions of the rules of all steps."""
    for name in linting.flow.steps:
        yield from rules_of(linting, name)


def rules_of(linting: Linting, step: str) -> Iterator[Spot]:
    """The conditions of one step's rules, in order."""
    leads = linting.flow.steps[step].next
    for number, rule in enumerate(leads.rules if leads else ()):
        entry = linting.entry("steps", step)
        yield Spot(STEP, step, rule.when, entry, ("next", number, "when"), number)
