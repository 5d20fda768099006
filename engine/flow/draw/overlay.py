"""What is laid over a drawing: the path of one job, or the traffic of many."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from engine.flow.draw.plan import StepRow, WayRow
from engine.flow.draw.ways import WATCHED


@dataclass(frozen=True, slots=True)
class Overlay:
    """Visits a step, and how often the walk moved from one step to the next.

    `caption` says in a sentence whose they are. `vehicles` is how many were tried, None for the path of one
    job; `here` the step a job stands at.
    """

    caption: str
    visits: Mapping[str, int] = field(default_factory=dict)
    moves: Mapping[tuple[str, str], int] = field(default_factory=dict)
    vehicles: int | None = None
    here: str | None = None

    @property
    def is_path(self) -> bool:
        return self.vehicles is None

    def at(self, row: StepRow) -> int:
        """Visits of the row's step."""
        return self.visits.get(row.step.id, 0)

    def along(self, row: WayRow) -> int | None:
        """How often the row's way was taken; None where a trial does not tell it: of watch rules."""
        if row.way.source.startswith(WATCHED) and not self.is_path:
            return None
        return self.moves.get((row.way.source, row.way.target), 0)
