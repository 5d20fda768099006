"""A rule that uses a reading which, on some path, nobody was asked for.

A forward analysis: which names have surely been asked when a step is entered, whatever the way there. What
two ways bring is intersected, so a loop takes a few rounds and a flow of thousands of steps stays quick.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from operator import and_

from engine.flow.check.along import carry
from engine.flow.check.checking import MOST_TOLD, Checking, way_words
from engine.flow.check.needs import Needs, lacking
from engine.flow.graph import AGAIN, SKIP, SPENT, WATCH, Edge, path, reachable
from engine.flow.model import RESUME, Rule, Step


@dataclass(frozen=True, slots=True)
class _Effect:
    """What a visit changes: names asked, names recorded, names cleared by beginning the set anew."""

    ask: int
    record: int
    clear: int
    keeps: bool  # no other step begins this set anew


class Asked:
    """What has surely been asked on entering and on leaving each step."""

    def __init__(self, checking: Checking, needs: Needs) -> None:
        self._checking = checking
        self._bits = {name: 1 << number for number, name in enumerate(sorted(needs.asked))}
        self._of_set = defaultdict[str, int](int)  # bits of all names of each set
        for name, bit in self._bits.items():
            self._of_set[name.rpartition(".")[0]] |= bit
        self._begun = Counter(step.set for step in checking.flow.steps.values() if step.settle)
        self._effects = {name: self._effect(step) for name, step in checking.flow.steps.items()}
        self._cleared_by_watch = self._cleared_before_resume()
        self._entering = self._solve()

    def on_entering(self, step: str) -> int:
        """Bits of what is known to have been asked when the step begins; a set begun there loses its own."""
        return self._entering[step] & ~self._effects[step].clear

    def on_leaving(self, step: str) -> int:
        """Bits of what is known to have been asked when the step's rules are tried."""
        effect = self._effects[step]
        return self._entering[step] & ~effect.clear | effect.ask | effect.record

    def mask(self, names: frozenset[str]) -> int:
        """Bits of names; those that nobody asks have none."""
        return self._mask(*names)

    def visited(self, step: str) -> bool:
        """Some path comes here."""
        return step in self._entering

    def brings(self, step: str, edge: Edge, mask: int) -> bool:
        """Who leaves the step by this edge has surely been asked one of these there."""
        return bool(self._along(edge, 0, self._effects[step], self._checking.flow.steps[step]) & mask)

    def _mask(self, *names: str) -> int:
        bits = 0
        for name in names:
            bits |= self._bits.get(name, 0)
        return bits

    def _effect(self, step: Step) -> _Effect:
        clear = self._of_set[step.set] if step.set and step.settle else 0
        keeps = self._begun[step.set] == (1 if step.settle else 0)
        record = self._mask(*(f"{step.set}.{name}" for name in step.record))
        return _Effect(self._mask(*step.ask), record, clear, keeps)

    def _cleared_before_resume(self) -> int | None:
        """Bits that the way of a watch rule back to the interrupted step may clear; None if none resumes."""
        edges, flow = self._checking.edges, self._checking.flow
        cleared: int | None = None
        for watch in flow.watch:
            region = reachable(edges, [watch.go], lambda _, edge: edge.kind not in (WATCH, AGAIN))
            if RESUME in region:
                cleared = cleared or 0
                for step in region - {RESUME}:
                    cleared |= self._effects[step].clear
        return cleared

    def _solve(self) -> dict[str, int]:
        return carry(self._checking.edges, self._checking.flow.start, self._onward, and_)

    def _onward(self, step: str, bits: int) -> list[tuple[str, int]]:
        effect, steps = self._effects[step], self._checking.flow.steps
        found = [
            (edge.target, self._along(edge, bits, effect, steps[step]))
            for edge in self._checking.edges[step]
            if edge.target != RESUME
        ]
        if steps[step].record and self._cleared_by_watch is not None:
            found.append((step, (bits & ~effect.clear | effect.ask) & ~self._cleared_by_watch))
        return found

    def _along(self, edge: Edge, bits: int, effect: _Effect, step: Step) -> int:
        if edge.kind == SKIP:
            return bits
        if edge.kind == SPENT:
            if step.for_:  # a visit that was skipped asked nothing
                return bits
            return bits | effect.ask | (effect.record if effect.keeps else 0)
        left = bits & ~effect.clear | effect.ask
        return left if edge.kind in (WATCH, AGAIN) else left | effect.record


def check_asked(checking: Checking) -> None:
    """Every rule of every `next`: each name asked before on all paths, or guarded by `known NAME`."""
    needs = Needs(checking.flow)
    asked = Asked(checking, needs)
    enough = len(checking.problems) + MOST_TOLD
    for name, step in checking.flow.steps.items():
        if len(checking.problems) >= enough:
            return
        if step.next is None or not asked.visited(name):
            continue
        have = asked.on_leaving(name)
        for number, rule in enumerate(step.next.rules):
            for used in rule.when.names:
                if used not in rule.when.guarded:
                    _check_used(checking, needs, asked, name, number, rule, used, have)


def _check_used(
    checking: Checking, needs: Needs, asked: Asked, step: str, number: int, rule: Rule, used: str, have: int
) -> None:
    entry = checking.entry(step)
    place = entry.place("next", number, "when", offset=max(rule.when.text.find(used), 0))
    for group in needs.of(used):
        mask = asked.mask(group.names)
        if not mask:
            hint = "add it to 'ask' or 'record' of a step before"
            entry.problems.add(place, f"{lacking(used, group)} never asked", hint)
            return
        if group.hard and not have & mask:
            way = way_words(_way_without(checking, asked, step, mask))
            hint = f"ask it before, or write 'known {used} and ...'"
            entry.problems.add(place, f"{lacking(used, group)} not asked on the way {way}", hint)
            return


def _way_without(checking: Checking, asked: Asked, step: str, mask: int) -> list[str]:
    """A way from the start on which none of the names is asked."""

    return path(checking.edges, checking.flow.start, step, lambda at, edge: not asked.brings(at, edge, mask))
