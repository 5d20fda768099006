"""What every check gets: the flow, its graph, and the place of each step for what it finds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from engine.flow.assemble.sections import Entry, Sections
from engine.flow.graph import Edges, edges
from engine.flow.model import Flow
from engine.flow.problem import Problems
from engine.flow.schema import StepPart

_LONGEST_WAY = 6


@dataclass(frozen=True)
class Checking:
    """One flow under check."""

    flow: Flow
    sections: Sections
    problems: Problems

    @cached_property
    def edges(self) -> Edges:
        """The flow as a graph."""
        return edges(self.flow)

    def entry(self, step: str) -> Entry[StepPart]:
        """Where a step stands."""
        entry: Entry[StepPart] = self.sections.entries["steps"][step]
        return entry


MOST_TOLD = 100
"""Problems that one check looks for; as many as a report shows."""

Check = Callable[[Checking], None]


def way_words(steps: list[str]) -> str:
    """`a > b > c`, the middle of a long way left out."""
    if len(steps) > _LONGEST_WAY:
        steps = [*steps[:2], "…", *steps[-(_LONGEST_WAY - 3) :]]
    return " > ".join(steps)
