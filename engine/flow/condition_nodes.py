"""A parsed condition as small nodes that answer True, False or None for unknown (Kleene logic).

What they are made of can be read (never changed): `engine.flow.lint` reasons about it.
"""

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

    __slots__ = ("name",)

    def __init__(self, name: str) -> None:
        self.name = name

    def value(self, facts: Facts, current_set: str | None) -> Value | None:
        return facts.get(self.name)


class CurrentName:
    """A value of the set being taken; with `or_job`, the job's where the set has none."""

    __slots__ = ("name", "or_job")

    def __init__(self, name: str, or_job: bool) -> None:
        self.name, self.or_job = name, or_job

    def value(self, facts: Facts, current_set: str | None) -> Value | None:
        found = facts.get(f"{current_set}.{self.name}") if current_set else None
        return facts.get(self.name) if found is None and self.or_job else found


class Number:
    """A constant in SI; `number` and `unit` are how the author wrote it."""

    __slots__ = ("number", "si", "unit")

    def __init__(self, si: float, number: float, unit: str) -> None:
        self.si, self.number, self.unit = si, number, unit

    def value(self, facts: Facts, current_set: str | None) -> float:
        return self.si


class Difference:
    """First minus second; unknown if either is."""

    __slots__ = ("first", "second")

    def __init__(self, first: Source, second: Source) -> None:
        self.first, self.second = first, second

    def value(self, facts: Facts, current_set: str | None) -> float | None:
        first = self.first.value(facts, current_set)
        second = self.second.value(facts, current_set)
        if isinstance(first, float | int) and isinstance(second, float | int):
            return first - second
        return None


class Compare:
    """`left SIGN right`. Values closer than `grain` count as equal: 46 psi - 31 psi >= 15 psi is true."""

    __slots__ = ("grain", "left", "or_equal", "right", "up")

    def __init__(self, left: Source, sign: str, right: Source, grain: float) -> None:
        self.left, self.right = left, right
        self.up, self.or_equal, self.grain = sign[0] == ">", sign[-1] == "=", grain

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        left = self.left.value(facts, current_set)
        right = self.right.value(facts, current_set)
        if not isinstance(left, float | int) or not isinstance(right, float | int):
            return None
        ahead = left - right if self.up else right - left
        return ahead >= -self.grain if self.or_equal else ahead > self.grain


class IsWord:
    """`source is a|b`: any given word is (one of) the value."""

    __slots__ = ("source", "words")

    def __init__(self, source: Source, words: frozenset[str]) -> None:
        self.source, self.words = source, words

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        value = self.source.value(facts, current_set)
        if value is None:
            return None
        return not self.words.isdisjoint(value) if isinstance(value, frozenset) else value in self.words


class IsKnown:
    """`known NAME`: never unknown itself."""

    __slots__ = ("source",)

    def __init__(self, source: Source) -> None:
        self.source = source

    def truth(self, facts: Facts, current_set: str | None) -> bool:
        return self.source.value(facts, current_set) is not None


class Not:
    """Unknown stays unknown."""

    __slots__ = ("inner",)

    def __init__(self, inner: Test) -> None:
        self.inner = inner

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        found = self.inner.truth(facts, current_set)
        return None if found is None else not found


class Every:
    """`and`: false if any part is false, else unknown if any is unknown."""

    __slots__ = ("parts",)

    def __init__(self, parts: tuple[Test, ...]) -> None:
        self.parts = parts

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        answer: bool | None = True
        for part in self.parts:
            found = part.truth(facts, current_set)
            if found is False:
                return False
            if found is None:
                answer = None
        return answer


class Any:
    """`or`: true if any part is true, else unknown if any is unknown."""

    __slots__ = ("parts",)

    def __init__(self, parts: tuple[Test, ...]) -> None:
        self.parts = parts

    def truth(self, facts: Facts, current_set: str | None) -> bool | None:
        answer: bool | None = False
        for part in self.parts:
            found = part.truth(facts, current_set)
            if found:
                return True
            if found is None:
                answer = None
        return answer
