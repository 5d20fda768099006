"""One state of a walk over a flow: what is asked now, and what the answers have led to so far."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE, Flow, Reading, Step
from engine.job.events import Key
from engine.job.facts import Facts
from engine.job.hearing import Hearing
from engine.job.state import Answer, Conclusion, Prompt, RuledOut, Shown, TrailEntry


class WalkError(Exception):
    """The flow cannot be walked as written (a way that never ends, a step that is not there)."""


@dataclass(frozen=True)
class Walk:
    """One state of a walk. `prompt` is None once it is finished.

    `trail` holds the steps left so far. `answered` holds the answers on the path, in order. `asked` are full
    names of readings answered in any way, `unknown` those of them whose last answer was "cannot measure".
    `resume_to` is the step a watch rule interrupted; `interrupted` stays true until the walk resumes there.
    Once a flow has handed over, `flow` is the one that goes on, `before` the walk as it was then, and
    `carried` are full names that need not be asked again; `asked` and `unknown` then count from there.
    `advises`: a conclusion says what to measure next, which takes a sixth of a walk's time. `hearing` is what
    the signs said when it was last asked which findings are left.
    """

    flow: Flow
    facts: Facts
    prompt: Prompt | None = None
    trail: tuple[TrailEntry, ...] = ()
    ruled_out: Mapping[str, RuledOut] = field(default_factory=dict)
    held_back: Mapping[str, RuledOut] = field(default_factory=dict)
    cautions: tuple[Shown, ...] = ()
    visits: Mapping[str, int] = field(default_factory=dict)
    conclusion: Conclusion | None = None
    interrupted: bool = False
    resume_to: str | None = None
    fired: frozenset[str] = frozenset()
    answered: Mapping[Key, Answer] = field(default_factory=dict)
    asked: frozenset[str] = frozenset()
    unknown: tuple[str, ...] = ()
    before: Walk | None = None
    carried: frozenset[str] = frozenset()
    advises: bool = True
    hearing: Hearing | None = None

    @property
    def job_flow(self) -> Flow:
        """The flow that the job began with."""
        return self.flow if self.before is None else self.before.job_flow

    @property
    def ever_asked(self) -> frozenset[str]:
        """Full names of readings asked in this flow or in one that handed over to it."""
        return self.asked if self.before is None else self.asked | self.before.ever_asked

    def at(self, step: str) -> Walk:
        """The walk in the flow that a step on the way belongs to: before a hand-over it was another one."""
        if self.before is not None and step in self.before.flow.steps:
            return self.before.at(step)
        return self

    def keys_of(self, name: str) -> tuple[Key, ...]:
        """Where the reading of that full name was answered on the path, in order."""
        item = name.rpartition(".")[2]
        return tuple(
            key for key in self.answered if key[2] == item and self.flow.full_name(key[0], item) == name
        )

    def key_of(self, name: str) -> Key | None:
        """Where it was answered last, None if nowhere."""
        return next(reversed(self.keys_of(name)), None)

    @property
    def step(self) -> Step | None:
        """The step whose prompt this is."""
        return self.flow.steps[self.prompt.step] if self.prompt else None

    @property
    def reading(self) -> Reading | None:
        """The reading asked for, or None if the prompt asks for none."""
        return self.flow.readings.get(self.prompt.item) if self.prompt else None

    @property
    def current_set(self) -> str | None:
        """The set that this step takes, if any."""
        return self.step.set if self.step else None

    @property
    def status(self) -> str:
        """`asking`, `concluded` (closing steps are left) or `finished`."""
        if self.prompt is None:
            return "finished"
        return "asking" if self.conclusion is None else "concluded"

    def full_name(self, item: str) -> str:
        """The fact that an item of the present step is kept as: `loaded.low_side`, or the bare name."""
        return self.flow.full_name(self.prompt.step, item) if self.prompt else item


def first_asked(walk: Walk, step: Step, items: Iterable[str]) -> str | None:
    """The first of a step's items that is asked as things stand: not a reading whose `ask_if` is false, nor
    what was carried from another flow."""
    return next((item for item in items if _is_asked(walk, step, item)), None)


def nothing_to_read(walk: Walk, step: Step) -> bool:
    """Whether the step is there for readings of which none is asked as things stand."""
    readings = (*step.ask, *step.record)
    return bool(readings) and first_asked(walk, step, readings) is None


def carried_here(walk: Walk, step: Step) -> tuple[str, ...]:
    """Full names that the step would ask, had they not been carried from another flow.

    A set is carried whole or taken anew: what was read at different times is never mixed in one.
    """
    recorded = tuple(f"{step.set}.{item}" for item in step.record)
    whole = recorded if recorded and all(name in walk.carried for name in recorded) else ()
    return (*(name for name in step.ask if name in walk.carried), *whole)


def _is_asked(walk: Walk, step: Step, item: str) -> bool:
    if walk.carried and _is_carried(walk, step, item):
        return False
    reading = walk.flow.readings.get(item)
    return reading is None or reading.ask_if is None or reading.ask_if.evaluate(walk.facts) is not False


def _is_carried(walk: Walk, step: Step, item: str) -> bool:
    """The reading was carried, or the beginning and settling of a set that was."""
    here = carried_here(walk, step)
    if item in (ITEM_BEGIN, ITEM_SETTLE):
        return bool(step.record) and f"{step.set}.{step.record[0]}" in here
    return (f"{step.set}.{item}" if item in step.record else item) in here


def prompts_of(step: Step) -> tuple[str, ...]:
    """The items a visit of the step may ask for, in order: cautions, begin and settle, readings, or done."""
    readings = (*step.ask, *step.record)
    cautions = (ITEM_CAUTIONS,) if step.cautions else ()
    timed = (ITEM_BEGIN, ITEM_SETTLE) if step.settle is not None else ()
    done = (ITEM_DONE,) if step.do and not readings else ()
    return (*cautions, *timed, *readings, *done)
