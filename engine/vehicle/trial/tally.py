"""Everything a trial tells about one fleet, added up from its results in the order of their numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from engine.job.second import HEALTHY
from engine.vehicle.trial.calibration import Calibration, calibration
from engine.vehicle.trial.cost import Cost
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.run import Ran
from engine.vehicle.trial.score import Score, score
from engine.vehicle.trial.together import PairScore, RivalScore, pair_score, rival_scores
from engine.vehicle.trial.traffic import Traffic, together
from engine.vehicle.trial.ways import Way, ways_of
from engine.vehicle.trial.worst import Worst, worst_cases

BIN_WIDTH = 0.2
"""Severities are reported in bins this wide."""


@dataclass(frozen=True, slots=True)
class SeverityBin:
    """A half-open range of severities, the last one closed; `low` None for faults that have none."""

    low: float | None
    high: float | None
    score: Score


@dataclass(frozen=True, slots=True)
class FaultScore:
    """Vehicles with this fault, alone or among others; `no-fault` for the healthy ones."""

    finding: str
    score: Score
    bins: tuple[SeverityBin, ...]


@dataclass(frozen=True, slots=True)
class Costs:
    """Means over all vehicles, and over those walked twice: as the flow asks, and asking everything."""

    mean: Cost
    twice: int
    of_twice: Cost
    of_everything: Cost

    @property
    def saved(self) -> Cost:
        """The share 0..1 of steps, readings and minutes that the flow spares against asking everything."""
        pairs = zip(_parts(self.of_twice), _parts(self.of_everything), strict=True)
        return Cost(*(1.0 - some / every if every else 0.0 for some, every in pairs))


@dataclass(frozen=True, slots=True)
class FleetTally:
    """All figures of one fleet. `confusion` counts (truth, told) of vehicles with at most one fault."""

    fleet: str
    stopped: bool
    overall: Score
    faulty: Score
    healthy: Score
    bins: tuple[SeverityBin, ...]
    faults: tuple[FaultScore, ...]
    confusion: Counter[tuple[str, str]]
    needless_second: int
    costs: Costs | None
    traffic: Traffic
    never_reached: tuple[str, ...]
    never_taken: tuple[Way, ...]
    calibration: Calibration
    rivals: tuple[RivalScore, ...]
    pairs: PairScore | None
    worst: tuple[Worst, ...]


def tally(plan: Plan, ran: Ran) -> FleetTally:
    results = ran.results
    faulty = [result for result in results if result.faults]
    traffic = together(plan.flow, (result.traffic for result in results))
    return FleetTally(
        fleet=ran.fleet,
        stopped=ran.stopped,
        overall=score(results),
        faulty=score(faulty),
        healthy=score(result for result in results if not result.faults),
        bins=_bins([result for result in faulty if len(result.faults) == 1]),
        faults=tuple(_by_fault(plan, results)),
        confusion=Counter(
            (result.faults[0].finding if result.faults else HEALTHY, result.told.finding)
            for result in results
            if len(result.faults) <= 1
        ),
        needless_second=sum(len(one.faults) <= 1 and one.told.also is not None for one in results),
        costs=_costs(results),
        traffic=traffic,
        never_reached=tuple(step for step in plan.flow.steps if step not in traffic.visits),
        never_taken=_never_taken(plan, results, traffic),
        calibration=calibration(plan.flow, results),
        rivals=rival_scores(results),
        pairs=pair_score(plan.flow, results),
        worst=worst_cases(plan, ran.fleet, results),
    )


def _by_fault(plan: Plan, results: Sequence[Result]) -> list[FaultScore]:
    """In the order the faults are declared, health first."""
    healthy = [result for result in results if not result.faults]
    told = [FaultScore(HEALTHY, score(healthy), ())] if healthy else []
    for name in plan.drawer.faults():
        having = [one for one in results if any(fault.finding == name for fault in one.faults)]
        if having:
            told.append(FaultScore(name, score(having), _bins(having, name)))
    return told


def _bins(results: Sequence[Result], finding: str | None = None) -> tuple[SeverityBin, ...]:
    """By the severity of `finding` where given, else of the only fault."""
    sorted_in: dict[int | None, list[Result]] = {}
    for result in results:
        fault = next(fault for fault in result.faults if finding in (None, fault.finding))
        sorted_in.setdefault(_number(fault.severity), []).append(result)
    numbers = sorted(number for number in sorted_in if number is not None)
    told = [
        SeverityBin(number * BIN_WIDTH, (number + 1) * BIN_WIDTH, score(sorted_in[number]))
        for number in numbers
    ]
    if None in sorted_in:
        told.append(SeverityBin(None, None, score(sorted_in[None])))
    return tuple(told)


def _number(severity: float | None) -> int | None:
    """Which bin; a hair is added because 0.6 / 0.2 is not quite 3 in binary."""
    return None if severity is None else min(int(severity / BIN_WIDTH + 1e-9), round(1 / BIN_WIDTH) - 1)


def _costs(results: Sequence[Result]) -> Costs | None:
    if not results:
        return None
    twice = [(one.cost, one.everything) for one in results if one.everything is not None]
    return Costs(
        _mean([result.cost for result in results]),
        len(twice),
        _mean([cost for cost, _ in twice]),
        _mean([everything for _, everything in twice]),
    )


def _mean(costs: Sequence[Cost]) -> Cost:
    of = max(len(costs), 1)
    return Cost(*(sum(values) / of for values in zip(*map(_parts, costs), strict=True))) if costs else _NONE


_NONE = Cost(0.0, 0.0, 0.0)


def _parts(cost: Cost) -> tuple[float, float, float]:
    return cost.steps, cost.readings, cost.minutes


def _never_taken(plan: Plan, results: Sequence[Result], traffic: Traffic) -> tuple[Way, ...]:
    """Rules never taken of the steps that were reached; those of the others go without saying."""
    taken = frozenset[Way]().union(*(result.ways for result in results))
    return tuple(
        way
        for way in ways_of(plan.flow)
        if way not in taken and (way[0] in traffic.visits or way[0] == "watch")
    )
