"""Intervals of real numbers with open or closed ends, and unions of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from math import inf


@dataclass(frozen=True, slots=True)
class Interval:
    """From `low` to `high`; an end that is not `in` does not belong to it."""

    low: float = -inf
    high: float = inf
    low_in: bool = False
    high_in: bool = False

    def is_empty(self, grain: float = 0.0) -> bool:
        """Surely nothing is in it. Ends that cross by less than `grain` may be the same number."""
        if self.low == self.high:
            return not (self.low_in and self.high_in)
        return self.low > self.high + grain

    def meet(self, other: Interval) -> Interval:
        """What is in both."""
        low, low_in = max((self.low, not self.low_in), (other.low, not other.low_in))
        high, high_in = min((self.high, self.high_in), (other.high, other.high_in))
        return Interval(low, high, not low_in, high_in)

    def flipped(self) -> Interval:
        """Of the negative numbers."""
        return Interval(-self.high, -self.low, self.high_in, self.low_in)

    def covers(self, other: Interval) -> bool:
        """Every number of the other is in it."""
        return self.meet(other) == other


EVERYTHING = Interval()


def below(limit: float, closed: bool) -> Interval:
    return Interval(high=limit, high_in=closed)


def above(limit: float, closed: bool) -> Interval:
    return Interval(low=limit, low_in=closed)


def union(intervals: Iterable[Interval]) -> tuple[Interval, ...]:
    """The same numbers as disjoint intervals in order; those that touch are joined."""
    joined: list[Interval] = []
    for one in sorted((i for i in intervals if not i.is_empty()), key=lambda i: (i.low, not i.low_in)):
        last = joined[-1] if joined else None
        if last is not None and (
            one.low < last.high or (one.low == last.high and (one.low_in or last.high_in))
        ):
            high, high_in = max((last.high, last.high_in), (one.high, one.high_in))
            joined[-1] = Interval(last.low, high, last.low_in, high_in)
        else:
            joined.append(one)
    return tuple(joined)


def gaps(intervals: Iterable[Interval]) -> tuple[Interval, ...]:
    """What lies between disjoint intervals in order, the two outer ends left out."""
    every = list(intervals)
    return tuple(
        Interval(before.high, after.low, not before.high_in, not after.low_in)
        for before, after in pairwise(every)
    )


def common(one: Iterable[Interval], other: Iterable[Interval]) -> tuple[Interval, ...]:
    """What is in both unions."""
    others = tuple(other)
    return union(a.meet(b) for a in one for b in others)


def covers(large: Iterable[Interval], small: Iterable[Interval]) -> bool:
    """Every number of `small` is in `large` (both disjoint and in order)."""
    over = tuple(large)
    return all(any(one.covers(each) for one in over) for each in small)
