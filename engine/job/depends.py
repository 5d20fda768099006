"""Which typed readings a condition rests on, through the computed readings it names."""

from __future__ import annotations

from functools import lru_cache

from engine.flow.computed.names import find_computed
from engine.flow.model import Condition, Flow


@lru_cache(maxsize=4096)
def typed_readings(name: str) -> frozenset[str]:
    """The readings that can change the value of a full name: itself, and what it is computed from."""
    names, left = {name}, [name]
    while left:
        found = find_computed(left.pop())
        if found is None:
            continue
        entry, set_name = found
        new = {*entry.full_needs(set_name), *entry.full_uses(set_name)} - names
        names |= new
        left.extend(new)
    return frozenset(names)


def rests_on(condition: Condition) -> frozenset[str]:
    """The readings that can change whether the condition is true; computed names may be among them."""
    return _typed_readings_of(condition.names)


@lru_cache(maxsize=4096)
def _typed_readings_of(names: tuple[str, ...]) -> frozenset[str]:
    return frozenset().union(*(typed_readings(name) for name in names))


def readings_asked(flow: Flow) -> dict[str, str]:
    """Every reading some step of the flow asks for: full name -> name of the reading, in the flow's order."""
    asked: dict[str, str] = {}
    for step in flow.steps.values():
        asked.update((name, name) for name in step.ask)
        asked.update((f"{step.set}.{name}", name) for name in step.record)
    return asked
