"""What something costs, counted in paces: a fixed piece of work timed around it, as machines are not alike.

A shared machine runs at half its speed for a while, and a limit in seconds then fails with nobody at fault.
A pace took 0.05 s of processor time where the limits were set: the 2 s of an issue are 40 paces.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Self

SECONDS = 0.05
"""Processor time of one pace on the machine where the limits were set."""


class Paced:
    """Counts what the lines inside cost, as `paces`; `clock` tells processor time in seconds."""

    paces: float

    def __init__(self, clock: Callable[[], float] = time.process_time) -> None:
        self._clock = clock

    def __enter__(self) -> Self:
        self._pace = one_pace()
        self._begun = self._clock()
        return self

    def __exit__(self, *_: object) -> None:
        took = self._clock() - self._begun
        self.paces = 2 * took / (self._pace + one_pace())


def one_pace() -> float:
    """Processor time in s that the fixed piece of work takes now."""
    begun = time.process_time()
    words: dict[str, int] = {}
    for number in range(200_000):
        key = f"k{number % 997}"
        words[key] = words.get(key, 0) + number
    sorted(words.items(), key=lambda item: item[1])
    return time.process_time() - begun
