"""Sets that are read although nothing has settled since the state changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from operator import or_

from engine.flow.check.along import carry
from engine.flow.graph import SKIP
from engine.flow.lint.rule import Found, Linting, Rule
from engine.flow.model import RESUME, Step

AT_REST = "rest"
_NONE = 1  # the bit of: no set was begun yet


class _LastBegun:
    """Which set may have been the last one begun when a step is entered."""

    def __init__(self, linting: Linting) -> None:
        self._steps, self._edges = linting.flow.steps, linting.edges
        self._sets = list(linting.flow.sets)
        self._bits = {name: 2 << number for number, name in enumerate(self._sets)}
        self._loads = {name: state.load for name, state in linting.flow.sets.items()}
        self._entering = carry(self._edges, linting.flow.start, self._onward, or_)

    def other(self, step: Step) -> str | None:
        """A set that may be the last begun in place of the step's own (empty: none at all), or None."""
        bits = self._entering.get(step.id, 0)
        if step.set is None or not bits & ~self._bits[step.set]:
            return None
        return next((name for name in self._sets if name != step.set and bits & self._bits[name]), "")

    def begins(self, step: Step) -> bool:
        """The step lets its set settle, or reads it at rest."""
        return step.set is not None and (step.settle is not None or self._loads[step.set] == AT_REST)

    def _onward(self, name: str, bits: int) -> Iterable[tuple[str, int]]:
        if name == RESUME:
            return []  # the interrupted step is judged by the ways that lead to it
        bits = bits or _NONE
        step = self._steps[name]
        after = self._bits[step.set] if step.set is not None and self.begins(step) else bits
        return [(edge.target, bits if edge.kind == SKIP else after) for edge in self._edges[name]]


def _unsettled(linting: Linting) -> Iterator[Found]:
    last = _LastBegun(linting)
    for name, step in linting.flow.steps.items():
        if not step.record or step.set is None or last.begins(step):
            continue
        other = last.other(step)
        if other is not None:
            since = f"'{other}' may have been taken since" if other else "nothing has begun it on some way"
            what = f"step '{name}' records into set '{step.set}' without a settle time, and {since}"
            place = linting.entry("steps", name).place("record", key=True)
            yield Found(place, what, "add 'settle: 3 min', or record it in another set", (name, step.set))


SETTLE_MISSING = Rule(
    "settle-missing",
    "Readings taken while the state still moves belong to no state, so sets cannot be compared.",
    "Give the step a 'settle' time, or lead to it only from the step that begins its set.",
    _unsettled,
)
