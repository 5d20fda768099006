"""Outcomes counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

from engine.vehicle.trial.job import Result
from engine.vehicle.trial.outcome import Outcome, judge, right_names

_Z = 1.959964  # of the normal distribution for 95 %


@dataclass(frozen=True, slots=True)
class Score:
    """How many vehicles had each outcome, and for how many the truth was within the first two."""

    vehicles: int
    outcomes: Counter[Outcome]
    first_two: int

    def share(self, outcome: Outcome) -> float | None:
        """The share 0..1 with this outcome, None without any vehicle."""
        return self.outcomes[outcome] / self.vehicles if self.vehicles else None

    @property
    def first_two_share(self) -> float | None:
        return self.first_two / self.vehicles if self.vehicles else None


def outcome_of(result: Result) -> Outcome:
    return judge(result.faults, result.told)


def is_within_first_two(result: Result) -> bool:
    return bool(right_names(result.faults) & set(result.told.first_two))


def score(results: Iterable[Result]) -> Score:
    counted: Counter[Outcome] = Counter()
    first_two = 0
    for result in results:
        counted[outcome_of(result)] += 1
        first_two += is_within_first_two(result)
    return Score(counted.total(), counted, first_two)


def likely_range(hits: int, of: int) -> tuple[float, float]:
    """The 95 % confidence interval of a share (the score interval without correction; all of 0..1 without a
    vehicle).

    Source: Journal of the American Statistical Association 22 (1927) 209; Statistical Science 16 (2001) 101.
    """
    if of == 0:
        return 0.0, 1.0
    share, spread = hits / of, _Z * _Z / of
    middle = share + spread / 2
    half = _Z * sqrt(share * (1 - share) / of + spread / of / 4)
    return max(0.0, (middle - half) / (1 + spread)), min(1.0, (middle + half) / (1 + spread))
