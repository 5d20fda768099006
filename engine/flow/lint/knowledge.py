"""What is certain of a flow's names before anything is read: choices, possible ranges, and never asked."""

from __future__ import annotations

from engine.flow.check.needs import Needs
from engine.flow.computed import COMPUTED
from engine.flow.lint.interval import EVERYTHING, Interval
from engine.flow.lint.state import Choices
from engine.flow.lint.terms import TooMany
from engine.flow.model import Flow

_LEAST, _OF_A_CONDITION = 10_000, 25
"""Steps of reasoning over one flow; an ordinary condition needs three or four."""


class FlowKnowledge:
    """Knowledge of one flow."""

    def __init__(self, flow: Flow, needs: Needs) -> None:
        self._flow, self._needs = flow, needs
        self._never: dict[str, bool] = {}
        self._choices: dict[str, Choices | None] = {}
        self._left = _LEAST + _OF_A_CONDITION * _conditions(flow)
        self._sets = tuple({step.set: None for step in flow.steps.values() if step.set})

    def spend(self) -> None:
        """Reasoning costs at most so much a condition on the average, whatever the flow."""
        self._left -= 1
        if self._left < 0:
            raise TooMany

    def choices(self, name: str) -> Choices | None:
        """The words a name can have."""
        bare = name.rpartition(".")[2]
        if bare not in self._choices:
            self._choices[bare] = self._words(bare)
        return self._choices[bare]

    def _words(self, bare: str) -> Choices | None:
        reading = self._flow.readings.get(bare)
        if reading is not None and reading.choices:
            words = frozenset(choice.word for choice in reading.choices)
            return Choices(words, reading.several, reading.alone)
        computed = COMPUTED.get(bare)
        return Choices(frozenset(computed.choices)) if computed is not None and computed.choices else None

    def range(self, name: str) -> Interval:
        """A reading's possible range. What is computed has none: its formula may leave the range."""
        bare = name.rpartition(".")[2]
        reading = self._flow.readings.get(bare)
        if reading is None or reading.possible is None or bare in COMPUTED:
            return EVERYTHING
        return Interval(reading.possible.low, reading.possible.high, True, True)

    def is_never_known(self, name: str) -> bool:
        """No step asks what the name hangs on. An unprefixed name of a watch rule may be that of any set."""
        if name not in self._never:
            self._never[name] = self._is_never_asked(name) and (
                "." in name or all(self._is_never_asked(f"{one}.{name}") for one in self._sets)
            )
        return self._never[name]

    def _is_never_asked(self, name: str) -> bool:
        return any(not group.names & self._needs.asked for group in self._needs.of(name))


def _conditions(flow: Flow) -> int:
    rules = sum(len(step.next.rules) for step in flow.steps.values() if step.next)
    return rules + len(flow.signs) + len(flow.watch) + len(flow.readings)
