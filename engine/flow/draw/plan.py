"""What a drawing of a flow is made of: its rows in reading order.

Rows are named tuples, since a drawing has some for each step and a tuple is made in a third of the time.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from engine.flow.model import Flow, Step

ON, BRANCH, REFERENCE = "on", "branch", "reference"
"""A way goes straight on to the next row of its run, opens a branch drawn below it, or points to a step that
is drawn elsewhere (or nowhere: RESUME, and whatever lies outside the flow)."""


Guides = tuple[bool, ...]
"""Of each branch that a row lies in, the outermost first: whether the run it left goes on further down."""


class Way(NamedTuple):
    """All that leads from one step to one target: `reasons` in words, none where it always goes there."""

    source: str
    target: str
    reasons: tuple[str, ...]


class StepRow(NamedTuple):
    """A step of `flow`.

    `depth` counts the branches it lies in; `guides` says of each whether it goes on further down.
    `last`: nothing of its run comes below it, neither a step nor a way.
    """

    flow: Flow
    step: Step
    number: int
    depth: int
    guides: Guides
    last: bool


class WayRow(NamedTuple):
    """A way out of the step above, at the depth of that step. `letter` is empty for the way that goes on.

    `last`: nothing of the run comes below it, but for the branch itself.
    """

    way: Way
    kind: str
    letter: str
    depth: int
    guides: Guides
    last: bool


class PartRow(NamedTuple):
    """Where another part of the drawing begins: what is watched, or what no way leads to."""

    title: str
    about: str = ""


Row = StepRow | WayRow | PartRow


@dataclass(frozen=True, slots=True)
class Plan:
    """A flow as rows, with the flows that it hands over to.

    `steps` are those of all of them; `numbers` gives each step's number, which goes up down the page. `trunk`
    holds the steps that the longest way from each start comes past, `back` the ways (source, target) that
    lead to a step before.
    """

    rows: tuple[Row, ...]
    flows: tuple[Flow, ...]
    steps: Mapping[str, Step]
    numbers: Mapping[str, int]
    trunk: frozenset[str]
    back: frozenset[tuple[str, str]]
