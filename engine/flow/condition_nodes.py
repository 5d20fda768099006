"""A parsed condition as small nodes that answer True, False or None for unknown (Kleene logic)."""

from __future__ import annotations

from typing import Protocol

from engine.flow.model import Facts, Value


class Source(Protocol):
    """Where a value comes from."""

    def value(self, facts: Facts, current_set: str | None) -> Value | None: ...


class Test(Protocol):
    """Anything that is true, false or unknown."""

    def truth(self, facts: Facts, current_set: str | None) -> bool | None: ...


class Name:
    """A value by its full name."""

    __slots__ = ("_name",)

    def __init__(self, name: str) -> None:
        self._name = name

    def value(self, facts: Facts, current_set: str | None) -> Value | None:
        return facts.get(self._name)


class CurrentName:
    """A value of the set being taken; with `or_job`, the job's where the set has none."""

    __slots__ = ("_name", "_or_job")

    def __init__(self, name: str, or_job: bool) -> None:
        self._name, self._or_job = name, or_job

    def value(self, facts: Facts, current_set: str | None) -> Value | None:
        found = facts.get(f"{current_set}.{self._name}") if current_set else None
        return facts.get(self._name) if found is None and self._or_job else found


class Number:
    """A constant in SI."""

    __slots__ = ("_si",)

    def __init__(self, si: float) -> None:
        self._si = si

    def value(self, facts: Facts, current_set: str | None) -> float:
        return self._si


class Difference:
    """First minus second; unknown if either is."""

    __slots__ = ("_first", "_second")

    def __init__(self, first: Source, second: Source) -> None:
        self._first, self._second = first, second

    def value(self, facts: Facts, current_set: str | None) -> float | None:
        first = self._first.value(facts, current_set)
        second = self._second.value(facts, current_set)
        if isinstance(first, float | int) and isinstance(second, float | int):
            return first - second
        return None


class Compare:
    """`left SIGN right`. Values closer than `grain` count as equal: 46 psi - 31 psi >= 15 psi is true."""

    __slots__ = ("_grain", "_left", "_or_equal", "_right", "_up")

    def __init__(self, left: Source, sign: str, right: Source, grain: float) -> None:
        self._left, self._right = left, right
        self._up, self._or_equal, self._grain = sign[0] == ">", sign[-1] == "=", grain

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        left = self._left.value(facts, current_set)
        right = self._right.value(facts, current_set)
        if not isinstance(left, float | int) or not isinstance(right, float | int):
            return None
        ahead = left - right if self._up else right - left
        return ahead >= -self._grain if self._or_equal else ahead > self._grain


class IsWord:
    """`source is a|b`: any given word is (one of) the value."""

    __slots__ = ("_source", "_words")

    def __init__(self, source: Source, words: frozenset[str]) -> None:
        self._source, self._words = source, words

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        value = self._source.value(facts, current_set)
        if value is None:
            return None
        return not self._words.isdisjoint(value) if isinstance(value, frozenset) else value in self._words


class IsKnown:
    """`known NAME`: never unknown itself."""

    __slots__ = ("_source",)

    def __init__(self, source: Source) -> None:
        self._source = source

    def truth(self, facts: Facts, current_set: str | None) -> bool:
        return self._source.value(facts, current_set) is not None


class Not:
    """Unknown stays unknown."""

    __slots__ = ("_inner",)

    def __init__(self, inner: Test) -> None:
        self._inner = inner

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        found = self._inner.truth(facts, current_set)
        return None if found is None else not found


class Every:
    """`and`: false if any part is false, else unknown if any is unknown."""

    __slots__ = ("_parts",)

    def __init__(self, parts: tuple[Test, ...]) -> None:
        self._parts = parts

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        answer: bool | None = True
        for part in self._parts:
            found = part.truth(facts, current_set)
            if found is False:
                return False
            if found is None:
                answer = None
        return answer


class Any:
    """`or`: true if any part is true, else unknown if any is unknown."""

    __slots__ = ("_parts",)

    def __init__(self, parts: tuple[Test, ...]) -> None:
        self._parts = parts

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        answer: bool | None = False
        for part in self._parts:
            found = part.truth(facts, current_set)
            if found:
                return True
            if found is None:
                answer = None
        return answer
