"""One state of a walk over a flow: what is asked now, and what the answers have led to so far."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE, Flow, Reading, Step
from engine.job.events import Key
from engine.job.facts import Facts
from engine.job.state import Answer, Conclusion, Prompt, RuledOut, Shown, TrailEntry


class WalkError(Exception):
    """The flow cannot be walked as written (a way that never ends, a step that is not there)."""


@dataclass(frozen=True, slots=True)
class Walk:
    """One state of a walk. `prompt` is None once it is finished.

    `trail` holds the steps left so far. `answered` holds the answers on the path, in order. `asked` are full
    names of readings answered in any way, `unknown` those of them whose last answer was "cannot measure".
    `resume_to` is the step a watch rule interrupted; `interrupted` stays true until the walk resumes there.
    """

    flow: Flow
    facts: Facts
    prompt: Prompt | None = None
    trail: tuple[TrailEntry, ...] = ()
    ruled_out: Mapping[str, RuledOut] = field(default_factory=dict)
    cautions: tuple[Shown, ...] = ()
    visits: Mapping[str, int] = field(default_factory=dict)
    conclusion: Conclusion | None = None
    interrupted: bool = False
    resume_to: str | None = None
    fired: frozenset[str] = frozenset()
    answered: Mapping[Key, Answer] = field(default_factory=dict)
    asked: frozenset[str] = frozenset()
    unknown: tuple[str, ...] = ()

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
        step = self.step
        return f"{step.set}.{item}" if step and step.set and item in step.record else item


def first_asked(walk: Walk, items: Iterable[str]) -> str | None:
    """The first of a step's items that is asked as things stand: not a reading whose `ask_if` is false."""
    return next((item for item in items if _is_asked(walk, item)), None)


def nothing_to_read(walk: Walk, step: Step) -> bool:
    """Whether the step is there for readings of which none is asked as things stand."""
    readings = (*step.ask, *step.record)
    return bool(readings) and first_asked(walk, readings) is None


def _is_asked(walk: Walk, item: str) -> bool:
    reading = walk.flow.readings.get(item)
    return reading is None or reading.ask_if is None or reading.ask_if.evaluate(walk.facts) is not False


def prompts_of(step: Step) -> tuple[str, ...]:
    """The items a visit of the step may ask for, in order: cautions, begin and settle, readings, or done."""
    readings = (*step.ask, *step.record)
    cautions = (ITEM_CAUTIONS,) if step.cautions else ()
    timed = (ITEM_BEGIN, ITEM_SETTLE) if step.settle is not None else ()
    done = (ITEM_DONE,) if step.do and not readings else ()
    return (*cautions, *timed, *readings, *done)
