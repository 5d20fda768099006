"""What is known in a job: readings by full name, computed readings worked out when asked for."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from engine.flow.computed.names import Computed, find_computed
from engine.flow.computed.values import compute
from engine.flow.model import Value

_NOTHING: Mapping[str, Value] = MappingProxyType({})


@lru_cache(maxsize=4096)
def _computed(name: str) -> tuple[Computed, str | None] | None:
    return find_computed(name)


class Facts:
    """Immutable values by full name (`ambient_temperature`, `loaded.low_side`); None means unknown.

    A given value wins over a computed one of the same name, as `loaded.duty` and `loaded.settled` may be
    either. Computed values are worked out on first use and kept for the life of this instance.
    """

    __slots__ = ("_computed", "_given")

    def __init__(self, given: Mapping[str, Value] = _NOTHING) -> None:
        self._given: dict[str, Value] = dict(given)
        self._computed: dict[str, Value | None] = {}

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
        found = _computed(name)
        value = compute(found[0].name, self, found[1]) if found else None
        self._computed[name] = value
        return value

    def with_value(self, name: str, value: Value | None) -> Facts:
        """These facts with one value replaced; None takes it away."""
        changed = Facts(self._given)
        if value is None:
            changed._given.pop(name, None)
        else:
            changed._given[name] = value
        return changed

    def without_set(self, set_name: str) -> Facts:
        """These facts without anything given for that set."""
        prefix = set_name + "."
        return Facts({name: value for name, value in self._given.items() if not name.startswith(prefix)})

    def known(self) -> Mapping[str, Value]:
        """The given values (nothing computed), by full name."""
        return MappingProxyType(self._given)
