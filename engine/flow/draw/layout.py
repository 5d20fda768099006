"""Laying a flow out: the trunk down the page, each branch below the step it leaves, each step drawn once.

A step that several ways lead to is drawn where the first of them leaves, in reading order; the others point
to its number. Nothing here recurses, and every step and way is touched a fixed number of times, so the work
grows with the flow and no faster.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from engine.flow.draw.height import Heights, heights
from engine.flow.draw.plan import BRANCH, ON, REFERENCE, Guides, PartRow, Plan, Row, StepRow, Way, WayRow
from engine.flow.draw.ways import watched_ways, ways_out
from engine.flow.draw.wording import short
from engine.flow.joined import flows_of
from engine.flow.model import Flow, Step

DEEPEST = 40
"""Guides are kept for this many branches inside one another; nobody can follow more."""

WATCHED_TITLE = "At any time"
WATCHED_ABOUT = "Watched after every reading of a set; what is true interrupts the step."
UNREACHED_TITLE = "Never reached"
UNREACHED_ABOUT = "No way from the start leads to these steps."

Run = list[str]


def laid_out(flow: Flow) -> Plan:
    """A flow's drawing: trunk and branches, what is watched, what is left over; then flows it goes on in."""
    flows = flows_of(flow)
    work = _Work.of(flows)
    for place, one in enumerate(flows):
        if place:
            work.rows.append(
                PartRow(f"Goes on in: {short(one.title)}", f"{one.name}, revision {one.revision}")
            )
        work.draw_flow(one)
    return Plan(
        tuple(work.rows), flows, work.steps, work.numbers, frozenset(work.trunk), frozenset(work.heights.back)
    )


@dataclass(slots=True)
class _Work:
    """The drawing as far as it is made. `starts` are where flows start that are handed over to."""

    steps: dict[str, Step]
    owners: dict[str, Flow]
    ways: dict[str, tuple[Way, ...]]
    starts: frozenset[str]
    heights: Heights
    rows: list[Row] = field(default_factory=list)
    numbers: dict[str, int] = field(default_factory=dict)
    claimed: set[str] = field(default_factory=set)
    trunk: set[str] = field(default_factory=set)

    @classmethod
    def of(cls, flows: Sequence[Flow]) -> _Work:
        steps = {id: step for flow in flows for id, step in flow.steps.items()}
        owners = {id: flow for flow in flows for id in flow.steps}
        ways = {id: found for flow in flows for id, found in ways_out(flow).items()}
        starts = frozenset(flow.start for flow in flows[1:])
        leads = {
            id: tuple(way.target for way in found if way.target in steps and way.target not in starts)
            for id, found in ways.items()
        }
        roots = [root for flow in flows for root in _roots(flow) if root in steps]
        return cls(steps, owners, ways, starts, heights(leads, [*roots, *steps]))

    def draw_flow(self, flow: Flow) -> None:
        """The trunk of a flow, then what is watched, then what no way leads to."""
        if flow.start in self.steps:
            run = self.claim(flow.start)
            self.trunk.update(run)
            self.draw(run)
        self.draw_watched(flow)
        self.draw_unreached(flow)

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
        return target in self.steps and target not in self.claimed and target not in self.starts

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
            owner, drawn = self.owners[step], self.steps[step]
            self.rows.append(StepRow(owner, drawn, self.numbers[step], depth, guides, not ways))
            aside = [way for way in ways if way.target != following]
            if aside:
                yield from self._draw_aside(aside, depth, guides, ends=following is None)
            if len(aside) < len(ways):
                on = next(way for way in ways if way.target == following)
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

    def draw_watched(self, flow: Flow) -> None:
        watched = watched_ways(flow)
        if not watched:
            return
        self.rows.append(PartRow(WATCHED_TITLE, WATCHED_ABOUT))
        for run, depth, guides in self._draw_aside(watched, 0, (), ends=True):
            self.draw(run, depth, guides)

    def draw_unreached(self, flow: Flow) -> None:
        left = [step for step in flow.steps if step not in self.claimed]
        if not left:
            return
        self.rows.append(PartRow(UNREACHED_TITLE, UNREACHED_ABOUT))
        for step in _tallest_first(left, self.heights.of):
            if step not in self.claimed:
                self.draw(self.claim(step))


def _roots(flow: Flow) -> Iterator[str]:
    """Where a walk of the flow may come in, apart from the ways between its steps."""
    yield flow.start
    for watch in flow.watch:
        yield watch.go
        if watch.again is not None:
            yield watch.again


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
