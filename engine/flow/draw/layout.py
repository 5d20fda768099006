"""Laying a flow out: the trunk down the page, each branch below the step it leaves, each step drawn once.

A step that several ways lead to is drawn where the first of them leaves, in reading order; the others point
to its number. Nothing here recurses, and every step and way is touched a fixed number of times, so the work
grows with the flow and no faster.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from engine.flow.draw.height import Heights, heights
from engine.flow.draw.plan import BRANCH, ON, REFERENCE, PartRow, Plan, Row, StepRow, Way, WayRow
from engine.flow.draw.ways import targets, watched_ways, ways_out
from engine.flow.draw.wording import Wording
from engine.flow.model import Flow

DEEPEST = 40
"""Guides are kept for this many branches inside one another; nobody can follow more."""

WATCHED_TITLE = "At any time"
WATCHED_ABOUT = "Watched after every reading of a set; what is true interrupts the step."
UNREACHED_TITLE = "Never reached"
UNREACHED_ABOUT = "No way from the start leads to these steps."

Run = list[str]
Guides = tuple[bool, ...]


def laid_out(flow: Flow, wording: Wording | None = None) -> Plan:
    """A flow's drawing: the trunk and its branches, then what is watched, then what is left over."""
    work = _Work.of(flow, wording or Wording(flow))
    trunk = work.claim(flow.start) if flow.start in flow.steps else []
    work.draw(trunk)
    work.draw_watched()
    work.draw_unreached()
    return Plan(tuple(work.rows), work.numbers, frozenset(trunk), frozenset(work.heights.back))


@dataclass(slots=True)
class _Work:
    """The drawing as far as it is made."""

    flow: Flow
    ways: Mapping[str, tuple[Way, ...]]
    watched: list[Way]
    heights: Heights
    rows: list[Row] = field(default_factory=list)
    numbers: dict[str, int] = field(default_factory=dict)
    claimed: set[str] = field(default_factory=set)

    @classmethod
    def of(cls, flow: Flow, wording: Wording) -> _Work:
        ways, watched = ways_out(flow, wording), watched_ways(flow, wording)
        leads = {step: targets(ways, step) for step in ways}
        roots = [root for root in (flow.start, *(way.target for way in watched)) if root in ways]
        return cls(flow, ways, watched, heights(leads, [*roots, *ways]))

    def claim(self, first: str) -> Run:
        """The run that begins with `first`: from each step to the unclaimed one with the longest way left."""
        run: Run = []
        step: str | None = first
        while step is not None:
            self.claimed.add(step)
            run.append(step)
            free = [way.target for way in self.ways[step] if self._is_free(way.target)]
            # of equals the last one named: `otherwise` stands at the end
            step = max(reversed(free), key=self.heights.of.__getitem__, default=None)
        return run

    def _is_free(self, target: str) -> bool:
        return target in self.ways and target not in self.claimed

    def draw(self, run: Run, depth: int = 0, guides: Guides = ()) -> None:
        """The rows of a run with all its branches."""
        stack = [self._rows_of(run, depth, guides)]
        while stack:
            branch = next(stack[-1], None)
            if branch is None:
                stack.pop()
            else:
                stack.append(self._rows_of(*branch))

    def _rows_of(self, run: Run, depth: int, guides: Guides) -> Iterator[tuple[Run, int, Guides]]:
        """Adds the rows of one run; yields each branch to be drawn before it goes on."""
        for step, following in zip(run, [*run[1:], None], strict=True):
            ways = self.ways[step]
            self.numbers[step] = len(self.numbers) + 1
            self.rows.append(StepRow(self.flow.steps[step], self.numbers[step], depth, guides, not ways))
            aside = [way for way in ways if way.target != following]
            yield from self._draw_aside(aside, depth, guides, ends=following is None)
            on = next((way for way in ways if way.target == following and following is not None), None)
            if on is not None:
                self.rows.append(WayRow(on, ON, "", depth, guides, False))

    def _draw_aside(
        self, ways: list[Way], depth: int, guides: Guides, ends: bool
    ) -> Iterator[tuple[Run, int, Guides]]:
        """The ways that do not go on, by letters; yields the runs of those that open a branch."""
        for place, way in enumerate(ways):
            last = ends and place == len(ways) - 1
            branches = self._is_free(way.target)
            kind = BRANCH if branches else REFERENCE
            letter = letters(place) if way.reasons else ""
            self.rows.append(WayRow(way, kind, letter, depth, guides, last))
            if branches:
                yield self.claim(way.target), depth + 1, (*guides, not last)[:DEEPEST]

    def draw_watched(self) -> None:
        if not self.watched:
            return
        self.rows.append(PartRow(WATCHED_TITLE, WATCHED_ABOUT))
        for run, depth, guides in self._draw_aside(self.watched, 0, (), ends=True):
            self.draw(run, depth, guides)

    def draw_unreached(self) -> None:
        left = [step for step in self.ways if step not in self.claimed]
        if not left:
            return
        self.rows.append(PartRow(UNREACHED_TITLE, UNREACHED_ABOUT))
        for step in _tallest_first(left, self.heights.of):
            if step not in self.claimed:
                self.draw(self.claim(step))


def _tallest_first(steps: Iterable[str], height: Mapping[str, int]) -> list[str]:
    """Beginnings before what follows them, so that a piece that hangs together is drawn as one run."""
    return sorted(steps, key=lambda step: -height[step])


def letters(place: int) -> str:
    """A, B, ... Z, AA, AB, ... for 0, 1, ..."""
    text = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        text = chr(ord("A") + rest) + text
    return text
