"""Walking a flow: `begin` it, then `advance` it by one answer at a time.

Both are pure: no clock, no file, no chance. Screen, replay, practice and trial all use them.
"""

from __future__ import annotations

from collections.abc import Mapping

from engine.flow.model import ITEM_BEGIN, Flow, Value
from engine.job.changed import changed
from engine.job.events import ANSWERED, SKIPPED
from engine.job.facts import Facts
from engine.job.record import records, refusal
from engine.job.route import enter, interrupt, leave, watch_that_fires
from engine.job.state import Answer, Prompt
from engine.job.walk_state import Walk, WalkError, carried_here, first_asked, prompts_of

__all__ = ["Walk", "WalkError", "advance", "begin", "carried_here", "prompts_of", "refusal"]


def begin(
    flow: Flow, at: str | None = None, given: Mapping[str, Value] | None = None, *, advises: bool = True
) -> Walk:
    """The walk at the first prompt of the flow, or at that of step `at` with `given` known before it.

    `given` goes by full name; all else that comes before `at` is unknown. Where nobody reads what to measure
    next, let it not advise. WalkError if there is no such step.
    """
    known = given or {}
    first = Walk(flow, Facts(known, flow.sets), asked=frozenset(known), advises=advises)
    return enter(first, at or flow.start)


def advance(walk: Walk, answer: Answer) -> Walk:
    """The walk after one answer to its prompt.

    Raises ValueError if the answer does not fit the prompt (`refusal` tells why beforehand), WalkError if the
    flow cannot be walked on.
    """
    problem = refusal(walk, answer)
    if problem is not None:
        raise ValueError(problem)
    step, prompt = walk.step, walk.prompt
    assert step is not None
    assert prompt is not None
    walk = records(walk, answer)
    if prompt.item in step.record and answer.kind == ANSWERED:
        watch = watch_that_fires(walk)
        if watch is not None:
            return interrupt(walk, watch)
    items = prompts_of(step)
    after = first_asked(walk, step, items[items.index(prompt.item) + 1 :])
    if after is None or (answer.kind == SKIPPED and prompt.item == ITEM_BEGIN):
        return leave(walk)
    return changed(walk, prompt=Prompt(step.id, prompt.visit, after))
