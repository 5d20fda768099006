"""What happened in a job. A job is an append-only list of these; everything else is derived.

Plain dataclasses: the start screen reads events without loading a flow, pydantic or yaml.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

FORMAT = 1
"""Format number written with each event."""

STARTED = "started"
ANSWERED = "answered"
CANNOT_MEASURE = "cannot-measure"
SKIPPED = "skipped"  # a step that could not be done
ACKNOWLEDGED = "acknowledged"  # cautions read
SET_BEGUN = "set-begun"  # the load is set and the settle time runs; detail: load, load_before
SETTLED = "settled"  # detail: waited (s), kept (bool)
HELD = "held"  # a set open for long: its state still holds
DONE = "done"
DRAFT = "draft"  # half-typed text
PREDICTED = "predicted"  # detail: {reading: up|down|same}
INTERRUPTED = "interrupted"  # a watch rule stopped the step; detail: watch
WITHDRAWN = "withdrawn"  # takes back the answer of this step, visit and item
CONCLUDED = "concluded"  # detail: the whole conclusion
FINISHED = "finished"
NOTED = "noted"  # free text for the sheet

ANSWERS = frozenset({ANSWERED, CANNOT_MEASURE, SKIPPED, ACKNOWLEDGED, SET_BEGUN, SETTLED, DONE})
"""Kinds that answer a prompt and so move the walk."""

Key = tuple[str, int, str]
"""step, visit, item: what an answer belongs to."""


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that happened.

    `at` is timezone-aware UTC. `text` is kept as typed, `unit` is the unit it was read in, `value` the SI
    number (gauge pressures stay gauge), a choice word, or a sorted list of words.
    """

    kind: str
    at: datetime
    flow: str
    step: str = ""
    visit: int = 1
    item: str = ""
    text: str = ""
    unit: str = ""
    value: float | str | tuple[str, ...] | None = None
    detail: dict[str, Any] = field(default_factory=dict)
    format: int = FORMAT

    @property
    def key(self) -> Key:
        return (self.step, self.visit, self.item)
