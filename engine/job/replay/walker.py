"""Answering a walk from facts given beforehand: the same walk as on the screen, with nobody at it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE, Flow
from engine.job.entry import Entry
from engine.job.events import ACKNOWLEDGED, ANSWERED, CANNOT_MEASURE, DONE, SET_BEGUN, SETTLED
from engine.job.state import Answer, Prompt
from engine.job.walk import Walk, advance, begin

ASKED_AGAIN = "asked_again"
"""Stands beside the sets, over what readings of the job are answered when they are asked for again."""

_MOST_PROMPTS = 100_000
"""A checked flow ends long before; this turns a flaw of the checker into an error instead of a hang."""


@dataclass(frozen=True, slots=True)
class Given:
    """What the file gives: entries by full name, and by set the seconds waited where it was read early.

    `again` are entries for readings of the job that are asked for a second time, or once more.
    """

    entries: Mapping[str, Entry]
    waited: Mapping[str, float] = field(default_factory=dict)
    again: Mapping[str, Entry] = field(default_factory=dict)


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


def unused(walk: Walk, given: Given) -> Iterator[str]:
    """The names of what was given and never asked for, or not asked for again."""
    yield from (name for name in given.entries if name not in walk.ever_asked)
    yield from (f"{ASKED_AGAIN}.{name}" for name in given.again if len(walk.keys_of(name)) < 2)


_ALWAYS = {ITEM_CAUTIONS: ACKNOWLEDGED, ITEM_BEGIN: SET_BEGUN, ITEM_DONE: DONE}
"""What a file cannot say: cautions count as read, sets as begun, steps as done."""


def _answer(walk: Walk, prompt: Prompt, given: Given) -> Answer:
    if prompt.item in _ALWAYS:
        return Answer(_ALWAYS[prompt.item], prompt.key)
    if prompt.item == ITEM_SETTLE:
        return _settled(walk, prompt, given)
    name = walk.full_name(prompt.item)
    entry = given.entries.get(name)
    if name in walk.asked:
        entry = given.again.get(name, entry)
    if entry is None:
        return Answer(CANNOT_MEASURE, prompt.key)
    return Answer(ANSWERED, prompt.key, entry.value, entry.text, entry.unit)


def _settled(walk: Walk, prompt: Prompt, given: Given) -> Answer:
    step = walk.flow.steps[prompt.step]
    needed = step.settle or 0.0
    waited = given.waited.get(step.set or "", needed)
    return Answer(SETTLED, prompt.key, detail={"waited": waited, "kept": waited >= needed})
