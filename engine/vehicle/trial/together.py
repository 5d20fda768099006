"""Scores of two at once: vehicles with two faults, and rivals that gauges do not part."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from engine.flow.joined import flows_of
from engine.flow.model import Flow
from engine.vehicle.trial.case import Fault
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.score import Score, score

RIVALS = (
    ("weak-compressor", "stroke-valve-stuck-low"),
    ("weak-compressor", "expansion-valve-stuck-open"),
    ("overcharge", "air-in-system"),
    ("undercharge", "liquid-restriction"),
    ("undercharge", "expansion-valve-restricted"),
    ("liquid-restriction", "expansion-valve-restricted"),
    ("evaporator-icing", "evaporator-airflow"),
    ("moisture-freezing", "expansion-valve-restricted"),
    ("condenser-airflow", "condenser-restricted"),
)
"""Faults that read alike on the gauges (common practice, no published source): another test parts them.

A moderate undercharge and health read alike too, but calling a leak healthy is a miss, so it is no pair here.
"""


@dataclass(frozen=True, slots=True)
class RivalScore:
    """Vehicles with one of two rivals: how often that one was named, and how often one of the two."""

    rivals: tuple[str, str]
    vehicles: int
    singly: int
    as_pair: int


def rival_scores(results: Iterable[Result]) -> tuple[RivalScore, ...]:
    single = [result for result in results if len(result.faults) == 1]
    told = (_rival_score(pair, single) for pair in RIVALS)
    return tuple(one for one in told if one.vehicles)


def _rival_score(rivals: tuple[str, str], single: Sequence[Result]) -> RivalScore:
    among = [result for result in single if result.faults[0].finding in rivals]
    return RivalScore(
        rivals,
        len(among),
        sum(result.told.finding in result.faults[0].names for result in among),
        sum(result.told.finding in result.faults[0].names | set(rivals) for result in among),
    )


@dataclass(frozen=True, slots=True)
class PairScore:
    """Vehicles with two faults.

    `free` are those that no fault stopped, whether the procedure ran to its end or the shop's means ended it
    (`ranks_only`): `both` counts those of them where finding and second finding name both. In the others a
    fault stopped it: the flow concludes one of them by one test (`proved:`), or the walk came to a narrower
    ranking on the way (the shaft stands, a limit was reached). `stopper` counts those where a stopping fault
    was named, `after_repair` those of them where the other was named beside it or by the linked job after
    that repair.
    """

    free: int
    both: int
    stopping: int
    stopper: int
    after_repair: int
    first: Score


def pair_score(flow: Flow, results: Iterable[Result]) -> PairScore | None:
    """None if no vehicle has two faults."""
    pairs = [result for result in results if len(result.faults) == 2]
    if not pairs:
        return None
    proofs, free = _proofs(flow), unstopped(flow, pairs)
    free_ones = {one.index for one in free}
    stopping = [one for one in pairs if one.index not in free_ones]
    named = [one for one in stopping if _is_stopper_named(one, proofs)]
    return PairScore(
        len(free),
        sum(_are_both_named(one) for one in free),
        len(stopping),
        len(named),
        sum(_are_both_named(one) or _is_rest_named(one) for one in named),
        score(pairs),
    )


def unstopped(flow: Flow, results: Iterable[Result]) -> list[Result]:
    """Those that no fault stopped: none of theirs is proved by one test, and the walk ran to an end."""
    proofs, ends = _proofs(flow), _ends(flow)
    return [
        one for one in results if not _proved_by_one_test(one, proofs) and ends & one.traffic.visits.keys()
    ]


def _proofs(flow: Flow) -> set[str]:
    return {step.proved for one in flows_of(flow) for step in one.steps.values() if step.proved}


def _ends(flow: Flow) -> set[str]:
    """Where a procedure ends that no fault stopped: of each flow the steps that rank the most findings."""
    ends: set[str] = set()
    for one in flows_of(flow):
        ranking = {name: len(step.conclude) for name, step in one.steps.items() if step.conclude}
        most = max(ranking.values(), default=0)
        ends |= {name for name, count in ranking.items() if count == most or one.steps[name].ranks_only}
    return ends


def _proved_by_one_test(result: Result, proofs: set[str]) -> list[Fault]:
    return [fault for fault in result.faults if fault.finding in proofs]


def _is_stopper_named(result: Result, proofs: set[str]) -> bool:
    """Where a ranking stopped the walk, either fault may have."""
    faults = _proved_by_one_test(result, proofs) or result.faults
    return any(fault.names & result.told.names for fault in faults)


def _are_both_named(result: Result) -> bool:
    return all(fault.names & result.told.names for fault in result.faults)


def _is_rest_named(result: Result) -> bool:
    left = [fault for fault in result.faults if not fault.names & result.told.names]
    linked = result.linked
    return linked is not None and all(fault.names & linked.names for fault in left)
