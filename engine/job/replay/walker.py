"""Answering a walk from facts given beforehand: the same walk as on the screen, with nobody at it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE, Flow
from engine.job.entry import Entry
from engine.job.events import ACKNOWLEDGED, ANSWERED, CANNOT_MEASURE, DONE, SET_BEGUN, SETTLED
from engine.job.state import Answer, Prompt
from engine.job.walk import Walk, advance, begin

_MOST_PROMPTS = 100_000
"""A checked flow ends long before; this turns a flaw of the checker into an error instead of a hang."""


@dataclass(frozen=True, slots=True)
class Given:
    """What the file gives: entries by full name, and by set the seconds waited where it was read early."""

    entries: Mapping[str, Entry]
    waited: Mapping[str, float] = field(default_factory=dict)


def replay(flow: Flow, given: Given) -> Walk:
    """The finished walk of `flow` answered from `given`.

    What is not given is answered "cannot measure"; cautions are acknowledged, steps done, settle times kept
    except in the sets of `given.waited`.
    """
    walk = begin(flow)
    for _ in range(_MOST_PROMPTS):
        if walk.prompt is None:
            return walk
        walk = advance(walk, _answer(walk, walk.prompt, given))
    raise RuntimeError(f"the walk of {flow.name} did not end after {_MOST_PROMPTS} prompts")


_ALWAYS = {ITEM_CAUTIONS: ACKNOWLEDGED, ITEM_BEGIN: SET_BEGUN, ITEM_DONE: DONE}
"""What a file cannot say: cautions count as read, sets as begun, steps as done."""


def _answer(walk: Walk, prompt: Prompt, given: Given) -> Answer:
    if prompt.item in _ALWAYS:
        return Answer(_ALWAYS[prompt.item], prompt.key)
    if prompt.item == ITEM_SETTLE:
        return _settled(walk, prompt, given)
    entry = given.entries.get(walk.full_name(prompt.item))
    if entry is None:
        return Answer(CANNOT_MEASURE, prompt.key)
    return Answer(ANSWERED, prompt.key, entry.value, entry.text, entry.unit)


def _settled(walk: Walk, prompt: Prompt, given: Given) -> Answer:
    step = walk.flow.steps[prompt.step]
    needed = step.settle or 0.0
    waited = given.waited.get(step.set or "", needed)
    return Answer(SETTLED, prompt.key, detail={"waited": waited, "kept": waited >= needed})
