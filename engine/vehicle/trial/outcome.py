"""How a job's conclusion is judged, by what was really wrong.

The five outcomes are those of the published protocol for evaluating fault detection and diagnosis (2013).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from engine.flow.model import INCONCLUSIVE, Flow
from engine.job.second import HEALTHY
from engine.job.state import Conclusion
from engine.job.weigh import base_of
from engine.vehicle.finer import ANY_FAULT
from engine.vehicle.trial.case import Fault

NO_NAME = frozenset({INCONCLUSIVE, "not-covered"})
"""Findings that name neither a fault nor health."""


class Outcome(StrEnum):
    CORRECT = "correct"
    MISDIAGNOSED = "misdiagnosed"  # faulty, and another fault was named
    MISSED = "missed"  # faulty, and called healthy
    FALSE_ALARM = "false_alarm"  # healthy, and a fault was named
    NO_ANSWER = "no_answer"


@dataclass(frozen=True, slots=True)
class Told:
    """What a job concluded, told as the findings they are weighed as (so health has one name).

    `ranked` are the candidates with their probability, best first; none where a step proved the finding.
    """

    finding: str
    also: str | None
    proved: bool
    ranked: tuple[tuple[str, float], ...]

    @property
    def names(self) -> frozenset[str]:
        """Every fault that was named."""
        return frozenset({self.finding, self.also} - {None, HEALTHY} - NO_NAME)  # type: ignore[arg-type]

    @property
    def first_two(self) -> tuple[str, ...]:
        """The finding and the best candidate beside it; the best two where there is no finding."""
        named = [] if self.finding in NO_NAME else [self.finding]
        return tuple(dict.fromkeys([*named, *(name for name, _ in self.ranked)]))[:2]


def told(flow: Flow, conclusion: Conclusion) -> Told:
    """What `conclusion` says, each finding by what it is weighed as."""
    return Told(
        base_of(flow, conclusion.finding),
        base_of(flow, conclusion.also) if conclusion.also else None,
        conclusion.proved_by is not None,
        tuple((base_of(flow, one.finding), one.probability) for one in conclusion.ranked),
    )


def judge(faults: Iterable[Fault], said: Told) -> Outcome:
    """Whether the first finding is right. With several faults, any of them will do."""
    accepted = right_names(faults)
    if said.finding in accepted:
        return Outcome.CORRECT
    if said.finding in NO_NAME:
        return Outcome.NO_ANSWER
    if HEALTHY in accepted:
        return Outcome.FALSE_ALARM
    return Outcome.MISSED if said.finding == HEALTHY else Outcome.MISDIAGNOSED


def accepted_names(faults: Iterable[Fault]) -> frozenset[str]:
    """The findings that are right for a vehicle with these faults; without any, that it is healthy."""
    names = frozenset[str]().union(*(fault.names for fault in faults))
    return names or frozenset({HEALTHY})


def right_names(faults: Iterable[Fault]) -> frozenset[str]:
    """Those, and for a faulty vehicle the findings that say that something is wrong and leave open what."""
    names = accepted_names(faults)
    return names if HEALTHY in names else names | ANY_FAULT
