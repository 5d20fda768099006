"""One vehicle taken through a flow, as a person would take it, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from random import Random

from engine.flow.everything import asking_everything
from engine.flow.model import Flow, Value
from engine.job.walk import Walk, advance, begin
from engine.job.weigh import base_of
from engine.vehicle.trial.case import Ask, Case, Drawer, Fault, Technician
from engine.vehicle.trial.cost import Cost, cost_of
from engine.vehicle.trial.outcome import Told, told
from engine.vehicle.trial.traffic import Traffic, traffic_of
from engine.vehicle.trial.ways import Way, ways_taken

MOST_PROMPTS = 10_000
"""A checked flow ends long before; this turns a mistake into an error instead of a hang."""

WALKED_TWICE = 0.125
"""Share of the vehicles that are also walked with everything asked, to compare the cost. Our choice."""


@dataclass(frozen=True, slots=True)
class Result:
    """What came of vehicle `index`; small enough to be sent between processes by the thousand.

    `everything` is the cost with every step's `for:` ignored, for some of the vehicles. `linked` is what the
    linked job told after the first finding was repaired, where that job was walked. `signs` (when asked for)
    holds a byte a sign at the conclusion: 1 true, 0 false, 2 unknown; `facts` all readings.
    """

    index: int
    faults: tuple[Fault, ...]
    about: dict[str, str]
    told: Told
    cost: Cost
    traffic: Traffic
    ways: frozenset[Way]
    everything: Cost | None = None
    linked: Told | None = None
    signs: bytes = b""
    ruled_out: frozenset[str] = frozenset()
    facts: dict[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Keep:
    """What a result holds beside what scores need."""

    signs: bool = False
    facts: bool = False
    costs: bool = True  # walk some twice to compare the cost


def walk_through(flow: Flow, technician: Technician, *, advises: bool = True) -> Walk:
    """The finished walk of `flow` with every prompt answered by the technician.

    Without advice on what to measure next it is faster. Raises RuntimeError if it does not end, or ends
    without a conclusion.
    """
    walk = begin(flow, advises=advises)
    for _ in range(MOST_PROMPTS):
        if walk.prompt is None:
            if walk.conclusion is None:
                raise RuntimeError(f"the walk of {flow.name} ended without a conclusion")
            return walk
        walk = advance(walk, technician.answer(walk))
    raise RuntimeError(f"the walk of {flow.name} did not end after {MOST_PROMPTS} prompts")


def try_vehicle(flow: Flow, drawer: Drawer, ask: Ask, keep: Keep) -> Result:
    """Draw the vehicle, walk it, and after a proved finding of two faults walk the linked job too."""
    case = _as_weighed(flow, drawer.draw(ask))
    technician = case.technician(case.faults)
    walk = walk_through(flow, technician, advises=False)
    assert walk.conclusion is not None
    said = told(walk.flow, walk.conclusion)
    return Result(
        ask.index,
        case.faults,
        dict(case.about),
        said,
        cost_of(walk),
        traffic_of(walk),
        ways_taken(walk),
        everything=_everything(flow, technician) if keep.costs and _is_walked_twice(ask) else None,
        linked=_linked(flow, case, said),
        signs=_signs(walk) if keep.signs else b"",
        ruled_out=frozenset(walk.ruled_out),
        facts=dict(walk.facts.known()) if keep.facts else {},
    )


def _as_weighed(flow: Flow, case: Case) -> Case:
    """A fault asked for by a name that the flow weighs as another is found by that one: no other is told."""
    faults = tuple(
        replace(fault, finer=fault.finer | {base})
        if (base := base_of(flow, fault.finding)) != fault.finding
        else fault
        for fault in case.faults
    )
    return replace(case, faults=faults)


def _is_walked_twice(ask: Ask) -> bool:
    return Random(f"{ask.seed}:{ask.index}:twice").random() < WALKED_TWICE


def _everything(flow: Flow, technician: Technician) -> Cost:
    return cost_of(walk_through(asking_everything(flow), technician, advises=False))


def _linked(flow: Flow, case: Case, said: Told) -> Told | None:
    """With two faults, one of them named and the other not: what the job after that repair tells."""
    left = tuple(fault for fault in case.faults if not fault.names & said.names)
    if len(case.faults) < 2 or len(left) != 1:
        return None
    walk = walk_through(flow, case.technician(left), advises=False)
    assert walk.conclusion is not None
    return told(walk.flow, walk.conclusion)


_BYTE = {True: 1, False: 0, None: 2}


def _signs(walk: Walk) -> bytes:
    return bytes(_BYTE[sign.when.evaluate(walk.facts)] for sign in walk.flow.signs.values())
