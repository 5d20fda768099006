"""What is known in a job: readings by full name, computed readings worked out when asked for."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from engine.flow.computed.lookup import SET_LOAD, SET_SPEED
from engine.flow.computed.names import Computed, find_computed
from engine.flow.computed.values import compute
from engine.flow.model import SetState, Value
from engine.job.depends import typed_readings

_NOTHING: Mapping[str, Value] = MappingProxyType({})
_NO_SETS: Mapping[str, SetState] = MappingProxyType({})


def _declared(sets: Mapping[str, SetState]) -> dict[str, Value]:
    declared: dict[str, Value] = {}
    for name, state in sets.items():
        declared[f"{name}.{SET_LOAD}"] = state.load
        if state.speed is not None:
            declared[f"{name}.{SET_SPEED}"] = state.speed
    return declared


@lru_cache(maxsize=4096)
def _find(name: str) -> tuple[Computed, str | None] | None:
    return find_computed(name)


class Facts:
    """Immutable values by full name (`ambient_temperature`, `loaded.low_side`); None means unknown.

    A given value wins over a computed one of the same name, as `loaded.duty` and `loaded.settled` may be
    either. Computed values are worked out on first use and kept for the life of this instance.
    """

    __slots__ = ("_computed", "_declared", "_given")

    def __init__(
        self, given: Mapping[str, Value] = _NOTHING, sets: Mapping[str, SetState] = _NO_SETS
    ) -> None:
        """`sets` are the flow's: bands need the load and speed that they declare."""
        self._given: dict[str, Value] = dict(given)
        self._declared: Mapping[str, Value] = _declared(sets)
        self._computed: dict[str, Value | None] = {}

    def _changed(self, given: dict[str, Value], computed: dict[str, Value | None]) -> Facts:
        """Facts of the same sets."""
        changed = object.__new__(Facts)
        changed._given, changed._declared, changed._computed = given, self._declared, computed
        return changed

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Facts) and self._given == other._given

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return f"Facts({self._given!r})"

    def get(self, name: str, /) -> Value | None:
        """SI number, word, set of words, or None if unknown; never raises."""
        given = self._given.get(name)
        if given is not None:
            return given
        if name in self._computed:
            return self._computed[name]
        found = _find(name)
        value = compute(found[0].name, self, found[1]) if found else self._declared.get(name)
        self._computed[name] = value
        return value

    def with_value(self, name: str, value: Value | None) -> Facts:
        """These facts with one value replaced; None takes it away.

        What was worked out already and does not rest on that value is carried over.
        """
        given = self._given.copy()
        if value is None:
            given.pop(name, None)
        else:
            given[name] = value
        kept = {one: worth for one, worth in self._computed.items() if name not in typed_readings(one)}
        return self._changed(given, kept)

    def without_set(self, set_name: str) -> Facts:
        """These facts without anything given for that set."""
        prefix = set_name + "."
        kept = {name: value for name, value in self._given.items() if not name.startswith(prefix)}
        return self._changed(kept, {})

    def changed_since(self, before: Facts) -> frozenset[str]:
        """Names given now or then, and not with the same value."""
        return frozenset(name for name, _ in self._given.items() ^ before._given.items())

    def known(self) -> Mapping[str, Value]:
        """The given values (nothing computed), by full name."""
        return MappingProxyType(self._given)
