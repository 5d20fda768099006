"""What a walk is made of: prompts, answers, the trail and the conclusion. Frozen data, lookups only."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from engine.flow.model import Value
from engine.job.events import Key


@dataclass(frozen=True, slots=True)
class Prompt:
    """What is asked now. `item` is a reading's name or one of the ITEM_ words of `engine.flow.model`."""

    step: str
    visit: int
    item: str

    @property
    def key(self) -> Key:
        return (self.step, self.visit, self.item)


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer to a prompt; `kind` is one of `engine.job.events.ANSWERS`. `value` None means unknown."""

    kind: str
    key: Key
    value: Value | None = None
    text: str = ""
    unit: str = ""
    at: datetime | None = None
    detail: Mapping[str, Any] = field(default_factory=dict)


# What a trail entry says happened.
WENT, SKIPPED_FOR, INTERRUPT, RESUMED, SPENT = "went", "not-needed", "interrupted", "resumed", "spent"
CARRIED, HANDED_OVER = "carried", "handed-over"

PASSED_OVER = frozenset({SKIPPED_FOR, SPENT, CARRIED})
"""The walk came past the step and asked nothing there."""


@dataclass(frozen=True, slots=True)
class TrailEntry:
    """One step passed on the way, and why the walk left it where it did.

    `how` is WENT (a rule, unknown or otherwise), SKIPPED_FOR (`for:` had no more than one alive),
    INTERRUPT (a watch rule), RESUMED, SPENT (`at_most` reached), CARRIED (all it reads was known from the
    flow before) or HANDED_OVER (another flow goes on). `because` is the rule's text or reason.
    """

    step: str
    visit: int
    how: str
    to: str | None
    because: str = ""


@dataclass(frozen=True, slots=True)
class RuledOut:
    """A finding that a rule took out of question, or held back, and why."""

    finding: str
    step: str
    because: str


@dataclass(frozen=True, slots=True)
class Shown:
    """The cautions of one step visit as they were acknowledged."""

    step: str
    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Spoken:
    """One sign's part in a finding, told as it was heard.

    `odds` is the factor the sign contributed; above 1 speaks for the finding.
    """

    sign: str
    says: str
    odds: float


@dataclass(frozen=True, slots=True)
class Ranked:
    """A candidate with its probability and its evidence, strongest first."""

    finding: str
    probability: float
    for_: tuple[Spoken, ...]
    against: tuple[Spoken, ...]


@dataclass(frozen=True, slots=True)
class NextMeasurement:
    """The missing reading (full name) that would part these two findings best."""

    reading: str
    separates: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Conclusion:
    """What the walk concluded at a step.

    `finding` is a finding's id or `inconclusive`. With `proved_by` (a step) there is no ranking by
    probability. `ranked` holds the candidates that were not ruled out, best first, at most eight. `outside`
    names a finding beyond the candidates that beats the best of them by the flow's `outside` odds. `also` is
    a second finding, `also_for` the signs that speak for it beside the first, strongest first.
    `interrupted` is true when a watch rule cut the procedure short. `held_back` is what the ranking would
    have told, had what proves it been shown; the finding is then open.
    """

    finding: str
    step: str
    proved_by: str | None = None
    ranked: tuple[Ranked, ...] = ()
    ruled_out: tuple[RuledOut, ...] = ()
    also: str | None = None
    also_for: tuple[Spoken, ...] = ()
    outside: str | None = None
    next_measurement: NextMeasurement | None = None
    interrupted: bool = False
    held_back: RuledOut | None = None
