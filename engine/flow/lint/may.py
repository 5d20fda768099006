"""What may have been asked on some way: what is not among it is certainly unknown there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from operator import or_

from engine.flow.check.along import carry
from engine.flow.check.needs import Group
from engine.flow.graph import SKIP
from engine.flow.lint.rule import Linting
from engine.flow.model import RESUME


class MayAsked:
    """For one flow: which names some way asks before a step's rules are tried, and which go together."""

    def __init__(self, linting: Linting) -> None:
        self._linting = linting
        self._steps = linting.flow.steps
        asked = linting.needs.asked
        self._bits = {name: 1 << number for number, name in enumerate(sorted(asked))}
        self._own = {name: self._asked_by(name) for name in self._steps}
        self._recording = [name for name, step in self._steps.items() if step.record]
        self._entering = carry(linting.edges, linting.flow.start, self._onward, or_)
        self._near = self._neighbours()
        self._together: dict[tuple[str, str], bool] = {}

    def be_known(self, name: str, step: str) -> bool:
        """Some way to the step's rules has asked all that the name hangs on."""
        have = self._entering.get(step, 0) | self._own[step]
        return all(have & self._mask(group) for group in self._linting.needs.of(name))

    def be_together(self, one: str, other: str) -> bool:
        """Some walk asks all that both names hang on, taken two by two."""
        pair = (one, other)
        if pair not in self._together:  # many signs share few names
            needs = self._linting.needs
            self._together[pair] = all(self._meet(a, b) for a in needs.of(one) for b in needs.of(other))
        return self._together[pair]

    def _meet(self, one: Group, other: Group) -> bool:
        mask, reverse = self._mask(other), self._mask(one)
        return any(self._near.get(name, 0) & mask for name in one.names) or any(
            self._near.get(name, 0) & reverse for name in other.names
        )

    def _mask(self, group: Group) -> int:
        bits = 0
        for name in group.names:
            bits |= self._bits.get(name, 0)
        return bits

    def _names(self, step: str) -> Iterator[str]:
        """Full names that a step asks."""
        yield from self._steps[step].ask
        yield from (f"{self._steps[step].set}.{name}" for name in self._steps[step].record)

    def _asked_by(self, step: str) -> int:
        bits = 0
        for name in self._names(step):
            bits |= self._bits[name]
        return bits

    def _onward(self, step: str, bits: int) -> Iterable[tuple[str, int]]:
        if step == RESUME:  # back to whatever step was interrupted
            return [(name, bits) for name in self._recording]
        after = bits | self._own[step]
        return [(edge.target, bits if edge.kind == SKIP else after) for edge in self._linting.edges[step]]

    def _neighbours(self) -> dict[str, int]:
        """For each name: what some walk has asked by the time it is asked."""
        near: dict[str, int] = {}
        for step, bits in self._entering.items():
            if step != RESUME:
                have = bits | self._own[step]
                for name in self._names(step):
                    near[name] = near.get(name, 0) | have
        return near
