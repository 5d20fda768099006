"""What must have been asked before a name can be used, computed names followed down to what is typed."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

from engine.flow.computed import Computed, find_computed

_MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class Group:
    """Full names of which one must have been asked: on every path if `hard`, else in some step at least."""

    names: frozenset[str]
    hard: bool = True


class Takes(Protocol):
    """What a step takes, built or as written."""

    @property
    def ask(self) -> Sequence[str]: ...
    @property
    def record(self) -> Sequence[str]: ...
    @property
    def set(self) -> str | None: ...
    @property
    def settle(self) -> object: ...


class Asking(Protocol):
    """A flow as far as it asks."""

    @property
    def steps(self) -> Mapping[str, Takes]: ...
    @property
    def readings(self) -> Collection[str]: ...


class Needs:
    """For one flow: every full name asked anywhere, and what each used name hangs on."""

    def __init__(self, flow: Asking) -> None:
        self._flow = flow
        self._known: dict[str, tuple[Group, ...]] = {}

    @cached_property
    def asked(self) -> frozenset[str]:
        """Full names that some step asks."""
        steps = self._flow.steps.values()
        return frozenset(
            [name for step in steps for name in step.ask]
            + [f"{step.set}.{name}" for step in steps for name in step.record]
        )

    def of(self, name: str) -> tuple[Group, ...]:
        """What must have been asked for `name` to be known."""
        if name not in self._known:
            self._known[name] = ()  # ends a circle among computed names
            self._known[name] = self._find(name)
        return self._known[name]

    def _find(self, name: str) -> tuple[Group, ...]:
        set_name, _, bare = name.rpartition(".")
        found = find_computed(name)
        if found is None:
            return (Group(frozenset({name})),)
        computed = found[0]
        if bare == "settled":
            return (Group(self._timed(set_name)),)
        typed = frozenset({name}) if bare in self._flow.readings else frozenset[str]()
        needed = tuple(group for need in computed.full_needs(set_name or None) for group in self.of(need))
        if needed or not set_name:
            return needed
        return (Group(typed | _of_same_set(computed, set_name), hard=False),)

    def _timed(self, set_name: str) -> frozenset[str]:
        return frozenset(self._timed_names.get(set_name, ()))

    @cached_property
    def _timed_names(self) -> dict[str, list[str]]:
        """Full names recorded by the steps that begin each set."""
        names: dict[str, list[str]] = {}
        for step in self._flow.steps.values():
            if step.set and step.settle:
                names.setdefault(step.set, []).extend(f"{step.set}.{name}" for name in step.record)
        return names


def _of_same_set(computed: Computed, set_name: str) -> frozenset[str]:
    """What may serve from the set itself: a computed name without hard needs has to have one of them."""
    return frozenset(use for use in computed.full_uses(set_name) if use.startswith(f"{set_name}."))


def lacking(used: str, group: Group) -> str:
    """`'loaded.superheat' needs 'loaded.low_side', which is`, for a sentence that ends in `never asked`."""
    if group.names == {used}:
        return f"'{used}' is used, but"
    one_of = " or ".join(f"'{name}'" for name in sorted(group.names)[:_MOST_NAMED])
    return f"'{used}' needs {one_of or 'a timed set'}, which is"
