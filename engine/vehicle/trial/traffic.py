"""How the walks of a trial ran through the flow: visits a step, and moves from step to step."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from engine.flow.joined import flows_of
from engine.flow.model import Flow
from engine.job.state import PASSED_OVER
from engine.job.walk import Walk

Move = tuple[str, str]
"""From one step to the next."""


@dataclass(frozen=True, slots=True)
class Traffic:
    """Counts of one walk or of many. `visits` leaves out steps passed over, `moves` does not.

    `vehicles` counts those that were at a step at least once.
    """

    visits: Mapping[str, int] = field(default_factory=dict)
    vehicles: Mapping[str, int] = field(default_factory=dict)
    moves: Mapping[Move, int] = field(default_factory=dict)


def traffic_of(walk: Walk) -> Traffic:
    """What one finished walk adds."""
    visits = Counter(entry.step for entry in walk.trail if entry.how not in PASSED_OVER)
    moves = Counter((entry.step, entry.to) for entry in walk.trail if entry.to is not None)
    return Traffic(dict(visits), dict.fromkeys(visits, 1), dict(moves))


def together(flow: Flow, walked: Iterable[Traffic]) -> Traffic:
    """The sum, in the order of the steps of the flow and of those it hands over to.

    So the same walks always give the same bytes.
    """
    visits, vehicles, moves = Counter[str](), Counter[str](), Counter[Move]()
    for one in walked:
        visits.update(one.visits)
        vehicles.update(one.vehicles)
        moves.update(one.moves)
    steps = [step for one in flows_of(flow) for step in one.steps]
    place = {step: number for number, step in enumerate(steps)}
    return Traffic(
        {step: visits[step] for step in steps if visits[step]},
        {step: vehicles[step] for step in steps if vehicles[step]},
        {move: moves[move] for move in sorted(moves, key=lambda move: (place[move[0]], place[move[1]]))},
    )
