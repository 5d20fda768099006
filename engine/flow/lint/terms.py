"""A condition as alternatives of what must hold of single names: the ground for what is certain about it.

A condition is true, false or unknown. What makes it true (or false, or not true, or not false) is written
out as a list of cases, each a tuple of facts that must hold together. The rewriting is exact for Kleene
logic, since "is true" of an `and` is "is true" of both sides, and so on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum, auto

from engine.flow import condition_nodes as nodes
from engine.flow.lint.interval import Interval, above, below

MOST_CASES = 64
"""More alternatives than this are not followed; nothing is then said of the condition."""

Form = tuple[tuple[str, int], ...]
"""A sum of names with factors, in order of the names, the first factor above zero."""


@dataclass(frozen=True, slots=True)
class Within:
    """The sum is known and lies in `interval`; ends nearer than `grain` are taken for the same number.

    `names` must be known for it, also those that fall out of the sum (a name less itself).
    """

    form: Form
    interval: Interval
    grain: float
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Among:
    """The choice is known and one of `words`, or (not `inside`) none of them."""

    name: str
    words: frozenset[str]
    inside: bool


@dataclass(frozen=True, slots=True)
class Known:
    """The name is known, or (not `known`) unknown."""

    name: str
    known: bool


Fact = Within | Among | Known
Case = tuple[Fact, ...]


class Want(Enum):
    """What of a condition is asked for."""

    TRUE = auto()
    FALSE = auto()
    NOT_TRUE = auto()
    NOT_FALSE = auto()


_OPPOSITE = {
    Want.TRUE: Want.FALSE,
    Want.FALSE: Want.TRUE,
    Want.NOT_TRUE: Want.NOT_FALSE,
    Want.NOT_FALSE: Want.NOT_TRUE,
}
_OF_EVERY_TOGETHER = (Want.TRUE, Want.NOT_FALSE)


class TooMany(Exception):
    """The condition has too many alternatives to follow."""


def cases(test: nodes.Test, want: Want) -> list[Case]:
    """Every way in which the condition is as wanted. Raises TooMany."""
    if isinstance(test, nodes.Not):
        return cases(test.inner, _OPPOSITE[want])
    if isinstance(test, nodes.Every | nodes.Any):
        together = isinstance(test, nodes.Every) is (want in _OF_EVERY_TOGETHER)
        return _joined([cases(part, want) for part in test.parts], together)
    if isinstance(test, nodes.IsKnown):
        return [(Known(name_of(test.source), want in (Want.TRUE, Want.NOT_FALSE)),)]
    return list(_single(test, want))


def _joined(parts: list[list[Case]], together: bool) -> list[Case]:
    if not together:
        found = [case for part in parts for case in part]
    else:
        found = [()]
        for part in parts:
            if len(found) * len(part) > MOST_CASES:
                raise TooMany
            found = [(*before, *case) for before in found for case in part]
    if len(found) > MOST_CASES:
        raise TooMany
    return found


def _single(test: nodes.Test, want: Want) -> Iterator[Case]:
    """Cases of one comparison."""
    holds = want in (Want.TRUE, Want.NOT_FALSE)
    if isinstance(test, nodes.IsWord):
        names: tuple[str, ...] = (name_of(test.source),)
        yield (Among(names[0], test.words, holds),)
    else:
        assert isinstance(test, nodes.Compare)
        fact = _compared(test, holds)
        yield (fact,)
        names = fact.names
    if want in (Want.NOT_TRUE, Want.NOT_FALSE):
        yield from ((Known(name, False),) for name in names)


def _compared(test: nodes.Compare, holds: bool) -> Within:
    """`left SIGN right` as `sum SIGN number`."""
    factors: dict[str, int] = {}
    limit = _add(factors, test.right, -1) - _add(factors, test.left, 1)
    ordered = sorted((name, factor) for name, factor in factors.items() if factor)
    up, closed = test.up is holds, test.or_equal is holds
    interval = above(limit, closed) if up else below(limit, closed)
    if ordered and ordered[0][1] < 0:
        ordered, interval = [(name, -factor) for name, factor in ordered], interval.flipped()
    return Within(tuple(ordered), interval, test.grain, tuple(factors))


def _add(factors: dict[str, int], source: nodes.Source, sign: int) -> float:
    """Adds a side to the sum; what it brings of plain numbers (SI), with its sign turned for a right side."""
    if isinstance(source, nodes.Number):
        return source.si
    if isinstance(source, nodes.Difference):
        return _add(factors, source.first, sign) + _add(factors, source.second, -sign)
    name = name_of(source)
    factors[name] = factors.get(name, 0) + sign
    return 0.0


def name_of(source: nodes.Source) -> str:
    """The name behind a source that is one."""
    assert isinstance(source, nodes.Name | nodes.CurrentName)
    return source.name


def numbers(test: nodes.Test) -> Iterator[nodes.Number]:
    """Every number that the condition names."""
    if isinstance(test, nodes.Not):
        yield from numbers(test.inner)
    elif isinstance(test, nodes.Every | nodes.Any):
        for part in test.parts:
            yield from numbers(part)
    elif isinstance(test, nodes.Compare):
        yield from (side for side in (test.left, test.right) if isinstance(side, nodes.Number))
