"""The vehicles a flow judged worst, each with the command that shows its whole job."""

from __future__ import annotations

import shlex
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

from engine.job.second import HEALTHY
from engine.vehicle.trial.case import Fault
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.outcome import Outcome, accepted_names
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.score import outcome_of

MOST = 12
MOST_ALIKE = 3
"""Of the same truth told the same way: a fourth one teaches nothing new."""

HASH_SHOWN = 12
"""Digits of the flow's hash in a command: enough to tell any two versions apart."""


@dataclass(frozen=True, slots=True)
class Worst:
    """One vehicle: `sure` is the probability put on the wrong finding (1 where a step proved it)."""

    result: Result
    outcome: Outcome
    sure: float
    command: str


def worst_cases(plan: Plan, fleet: str, results: Iterable[Result]) -> tuple[Worst, ...]:
    """Wrong names before misses, the surest first: what was said with most confidence misleads most."""
    wrong = [(_badness(result), result) for result in results if outcome_of(result) is not Outcome.CORRECT]
    ordered = [result for _, result in sorted(wrong, key=lambda one: (-one[0], one[1].index))]
    return tuple(
        Worst(result, outcome_of(result), _sure(result), show_command(plan, fleet, result.index))
        for result in islice(_varied(ordered), MOST)
    )


def _varied(results: Iterable[Result]) -> Iterator[Result]:
    alike: Counter[tuple[object, ...]] = Counter()
    for result in results:
        kind = (*(fault.finding for fault in result.faults), result.told.finding)
        alike[kind] += 1
        if alike[kind] <= MOST_ALIKE:
            yield result


_ORDER = {Outcome.MISDIAGNOSED: 3.0, Outcome.FALSE_ALARM: 3.0, Outcome.MISSED: 2.0, Outcome.NO_ANSWER: 1.0}


def _badness(result: Result) -> float:
    """The kind of error first; within it how much more likely the wrong was held than the right."""
    chances = dict(result.told.ranked)
    right = max((chances.get(name, 0.0) for name in accepted_names(result.faults)), default=0.0)
    return _ORDER[outcome_of(result)] + (_sure(result) - right) / 2.0


def _sure(result: Result) -> float:
    return 1.0 if result.told.proved else dict(result.told.ranked).get(result.told.finding, 0.0)


def show_command(plan: Plan, fleet: str, index: int) -> str:
    """The command that prints the whole job of one vehicle; it needs nothing else to bring it back."""
    words = ["loadstep", "trial", plan.flow_name or plan.flow.name]
    words += ["--seed", str(plan.seed), "--fleet", fleet, "--show", str(index), *filters(plan)]
    if plan.flow.hash:
        words += ["--flow-hash", plan.flow.hash[:HASH_SHOWN]]
    return shlex.join(words)


def filters(plan: Plan) -> list[str]:
    """The options that decide which vehicles are drawn, all but the seed and the fleet."""
    words = ["--severity", f"{plan.severity.low!r}..{plan.severity.high!r}"]
    if plan.named:
        words += ["--fault", *plan.named]
    if plan.ambient:
        words += ["--ambient", f"{plan.ambient.low!r}..{plan.ambient.high!r}K"]
    if plan.refrigerant:
        words += ["--refrigerant", plan.refrigerant]
    if plan.pairs:
        words.append("--pairs")
    if plan.skipped:
        words += ["--skipped-readings", repr(plan.skipped)]
    return words


def faults_in_words(faults: Iterable[Fault]) -> str:
    """`undercharge 0.72`, two faults joined by `+`, or `no-fault`."""
    return " + ".join(map(_fault_in_words, faults)) or HEALTHY


def _fault_in_words(fault: Fault) -> str:
    severity = "" if fault.severity is None else f" {fault.severity:.2f}"
    cause = f" (by {', '.join(sorted(fault.causes))})" if fault.causes else ""
    return f"{fault.finding}{severity}{cause}"
