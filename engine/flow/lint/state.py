"""What facts leave open together: enough to say for certain that they contradict each other, and why."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import inf
from typing import Protocol

from engine.flow.lint.interval import EVERYTHING, Interval
from engine.flow.lint.terms import MOST_CASES, Among, Case, Fact, Form, Known, TooMany, Within


@dataclass(frozen=True, slots=True)
class Choices:
    """Words a choice can have; with `several` more than one at once, of which `alone` excludes the others."""

    words: frozenset[str]
    several: bool = False
    alone: str | None = None


class Knowledge(Protocol):
    """What is certain of the names of a flow before anything is read."""

    def choices(self, name: str) -> Choices | None:
        """The words a name can have; None if it is no choice."""
        ...

    def range(self, name: str) -> Interval:
        """All that a quantity can be."""
        ...

    def is_never_known(self, name: str) -> bool:
        """Nothing can make the name known."""
        ...

    def spend(self) -> None:
        """Called for each step of reasoning. Raises TooMany when there was enough of it."""
        ...


class Contradiction(Exception):
    """Facts that cannot hold together; the message says why, as the end of a sentence."""


@dataclass(slots=True)
class State:
    """Facts that hold together so far."""

    known: dict[str, bool] = field(default_factory=dict)
    spans: dict[Form, Interval] = field(default_factory=dict)
    wanted: dict[str, tuple[frozenset[str], ...]] = field(default_factory=dict)
    barred: dict[str, frozenset[str]] = field(default_factory=dict)

    def having(self, facts: Case, knowledge: Knowledge) -> State:
        """This state with more facts. Raises Contradiction, or TooMany."""
        knowledge.spend()
        more = State(dict(self.known), dict(self.spans), dict(self.wanted), dict(self.barred))
        for fact in facts:
            more._add(fact, knowledge)
        more._compare_sums(knowledge)
        return more

    def _add(self, fact: Fact, knowledge: Knowledge) -> None:
        if isinstance(fact, Known):
            self._know(fact.name, fact.known, knowledge)
        elif isinstance(fact, Among):
            self._know(fact.name, True, knowledge)
            self._choose(fact, knowledge)
        else:
            for name in fact.names:
                self._know(name, True, knowledge)
            self._narrow(fact, knowledge)

    def _know(self, name: str, known: bool, knowledge: Knowledge) -> None:
        if known and knowledge.is_never_known(name):
            raise Contradiction(f"'{name}' is never known there")
        if self.known.setdefault(name, known) is not known:
            raise Contradiction(f"'{name}' would have to be known and unknown")

    def _choose(self, fact: Among, knowledge: Knowledge) -> None:
        if fact.inside:
            self.wanted[fact.name] = (*self.wanted.get(fact.name, ()), fact.words)
        else:
            self.barred[fact.name] = self.barred.get(fact.name, frozenset()) | fact.words
        choices = knowledge.choices(fact.name)
        wanted, barred = self.wanted.get(fact.name, ()), self.barred.get(fact.name, frozenset())
        if choices is not None and not _can_be(choices, wanted, barred):
            raise Contradiction(_word_conflict(fact.name, wanted, barred))

    def _narrow(self, fact: Within, knowledge: Knowledge) -> None:
        before = self.spans.get(fact.form)
        if before is None:
            before = _possible(fact.form, knowledge)
        span = before.meet(fact.interval)
        if span.is_empty(2 * fact.grain):
            raise Contradiction(f"no value of '{form_words(fact.form)}' makes it so")
        self.spans[fact.form] = span

    def _compare_sums(self, knowledge: Knowledge) -> None:
        """A sum against what its single names leave it."""
        for form, span in self.spans.items():
            if len(form) < 2:
                continue
            low = high = 0.0
            for name, factor in form:
                one = self.spans.get(((name, 1),)) or knowledge.range(name)
                ends = (one.low * factor, one.high * factor)
                low, high = low + min(ends), high + max(ends)
            if span.meet(Interval(low, high, True, True)).is_empty(_rounding(span, low, high)):
                raise Contradiction(f"'{form_words(form)}' cannot be so with the limits on each")


def states(start: Iterable[State], more: list[Case], knowledge: Knowledge) -> list[State]:
    """Every state that can go on with one of the cases. Raises TooMany."""
    found: list[State] = []
    for state in start:
        for case in more:
            try:
                found.append(state.having(case, knowledge))
            except Contradiction:
                continue
            if len(found) > MOST_CASES:
                raise TooMany
    return found


def why_impossible(every: list[Case], knowledge: Knowledge) -> str | None:
    """Why none of the cases can be; None if one can."""
    why = ""
    for case in every:
        try:
            State().having(case, knowledge)
        except Contradiction as found:
            why = why or str(found)
        else:
            return None
    return why


def _possible(form: Form, knowledge: Knowledge) -> Interval:
    if not form:
        return Interval(0.0, 0.0, True, True)  # a name less itself
    if len(form) == 1:
        return knowledge.range(form[0][0])
    return EVERYTHING


def _rounding(span: Interval, low: float, high: float) -> float:
    """More than sums of such numbers can be off."""
    return 1e-9 + 1e-9 * max(
        (abs(end) for end in (span.low, span.high, low, high) if abs(end) < inf), default=0
    )


def _can_be(choices: Choices, wanted: tuple[frozenset[str], ...], barred: frozenset[str]) -> bool:
    left = choices.words - barred
    if not choices.several:
        return bool(left.intersection(*wanted))
    if choices.alone in left and all(choices.alone in words for words in wanted):
        return True
    others = left - {choices.alone}
    return bool(others) and all(words & others for words in wanted)


def _word_conflict(name: str, wanted: tuple[frozenset[str], ...], barred: frozenset[str]) -> str:
    if wanted:
        return f"'{name}' cannot be so in every test at once"
    return f"'{name}' would have to be none of its choices"


def form_words(form: Form) -> str:
    """`loaded.high_side - baseline.high_side`."""
    plus = [name for name, factor in form if factor > 0]
    minus = [name for name, factor in form if factor < 0]
    return " - ".join([" + ".join(plus), *minus]) if plus else "0"
