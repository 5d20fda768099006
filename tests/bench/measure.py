"""Numbers of a benchmark and how they are printed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil
from statistics import median


@dataclass(frozen=True, slots=True)
class Line:
    """One result, what it is measured against, and the limit of the issue (in `unit`, or of the ratio)."""

    what: str
    value: float
    unit: str
    baseline: float | None = None
    against: str = ""
    limit: float | None = None
    limit_of_ratio: bool = False

    @property
    def ratio(self) -> float | None:
        return self.value / self.baseline if self.baseline else None

    @property
    def kept(self) -> bool:
        judged = self.ratio if self.limit_of_ratio else self.value
        return self.limit is None or (judged is not None and judged <= self.limit)

    def __str__(self) -> str:
        parts = [f"{'ok  ' if self.kept else 'OVER'} {self.what}: {self.value:.1f} {self.unit}"]
        if self.ratio is not None:
            parts.append(f"{self.ratio:.2f} x {self.against} ({self.baseline:.1f} {self.unit})")
        if self.limit is not None:
            parts.append(f"limit {self.limit:g} {'x' if self.limit_of_ratio else self.unit}")
        return ", ".join(parts)


def p99(values: Sequence[float]) -> float:
    """The value that 99 of 100 stay within."""
    return sorted(values)[ceil(0.99 * len(values)) - 1]


def in_turn(one: Callable[[], float], other: Callable[[], float], rounds: int) -> tuple[float, float]:
    """Medians of two measurements taken in turn, so that whatever else the machine does hits both."""
    one(), other()  # warms the file cache
    pairs = [(one(), other()) for _ in range(rounds)]
    return median(first for first, _ in pairs), median(second for _, second in pairs)
