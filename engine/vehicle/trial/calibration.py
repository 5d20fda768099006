"""Does "80 %" come true in 80 of 100 cases?

Judged are the rankings: the probability of the best candidate against whether it was right. Findings that a
step proved carry no probability and take no part. A trial draws every fault equally often, shops do not: each
case weighs as its finding's prior in the flow against how often it was drawn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from engine.flow.model import Flow
from engine.job.second import HEALTHY
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.outcome import accepted_names

BINS = 10


@dataclass(frozen=True, slots=True)
class Bin:
    """Rankings whose best candidate had a probability in this range: what was said and what came true."""

    low: float
    high: float
    vehicles: int
    said: float
    came_true: float


@dataclass(frozen=True, slots=True)
class Calibration:
    """`brier` is the weighted mean square of said minus come true (0 best, 1 worst), None without a case.

    Source: Monthly Weather Review 78 (1950) 1, for the one event that the best candidate is right.
    """

    bins: tuple[Bin, ...]
    brier: float | None
    vehicles: int
    proved: int


@dataclass(frozen=True, slots=True)
class _Said:
    probability: float
    true: bool
    weight: float


def calibration(flow: Flow, results: Iterable[Result]) -> Calibration:
    """Of vehicles with at most one fault; with two no single finding is the truth."""
    single = [result for result in results if len(result.faults) <= 1]
    ranked = [result for result in single if result.told.ranked]
    weights = _weights(flow, single)
    said = [
        _Said(best[1], best[0] in accepted_names(result.faults), weights[_truth(result)])
        for result in ranked
        for best in result.told.ranked[:1]
    ]
    total = sum(one.weight for one in said)
    brier = sum(one.weight * (one.probability - one.true) ** 2 for one in said) / total if total else None
    return Calibration(tuple(_bins(said)), brier, len(said), sum(one.told.proved for one in single))


def _truth(result: Result) -> str:
    return result.faults[0].finding if result.faults else HEALTHY


def _weights(flow: Flow, results: Sequence[Result]) -> dict[str, float]:
    drawn = Counter(_truth(result) for result in results)
    return {
        name: (flow.findings[name].prior if name in flow.findings else 0.0) / count
        for name, count in drawn.items()
    }


def _bins(said: Sequence[_Said]) -> Iterable[Bin]:
    for number in range(BINS):
        inside = [one for one in said if min(int(one.probability * BINS), BINS - 1) == number]
        weight = sum(one.weight for one in inside)
        if weight > 0:
            yield Bin(
                number / BINS,
                (number + 1) / BINS,
                len(inside),
                sum(one.weight * one.probability for one in inside) / weight,
                sum(one.weight * one.true for one in inside) / weight,
            )
