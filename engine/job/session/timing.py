"""Clocks of a walk, read from event times: a lid that was closed meanwhile counts."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from engine.flow.model import ITEM_BEGIN, ITEM_SETTLE
from engine.job.events import HELD, Event
from engine.job.walk import Walk

HOLDS_FOR = timedelta(minutes=20)
"""How long a set may stay open before it is asked whether its state still holds."""


def settle_begun(walk: Walk) -> datetime | None:
    """When the settle time that is being waited for began, or None if none is."""
    prompt = walk.prompt
    if prompt is None or prompt.item != ITEM_SETTLE:
        return None
    begun = walk.answered.get((prompt.step, prompt.visit, ITEM_BEGIN))
    return begun.at if begun is not None else None


def settle_left(walk: Walk, now: datetime) -> float:
    """Seconds of settle time left at the present prompt, 0 if none is waited for."""
    begun, step = settle_begun(walk), walk.step
    if begun is None or step is None or step.settle is None:
        return 0.0
    return max(0.0, step.settle - since(begun, now))


def set_age(walk: Walk, events: Iterable[Event], now: datetime) -> float | None:
    """Seconds since the set being read was begun, or was last said to hold; None if no set is being read."""
    begun = _set_begun(walk)
    if begun is None:
        return None
    held = [
        event.at for event in events if event.kind == HELD and _same_set(walk, event) and event.at > begun
    ]
    return since(max([begun, *held]), now)


def since(then: datetime, now: datetime) -> float:
    """Seconds from `then` to `now`; a clock that was set back makes them 0, never negative."""
    return max(0.0, (now - then).total_seconds())


def _set_begun(walk: Walk) -> datetime | None:
    """When the set being read was begun, or, without a settle time, when its first reading was taken."""
    step, prompt = walk.step, walk.prompt
    if step is None or prompt is None or step.set is None or prompt.item not in step.record:
        return None
    begun = [
        answer.at
        for (name, _, item), answer in walk.answered.items()
        if item == ITEM_BEGIN and walk.flow.steps[name].set == step.set
    ]
    read = [
        answer.at
        for (name, visit, item), answer in walk.answered.items()
        if (name, visit) == (prompt.step, prompt.visit) and item in step.record
    ]
    return begun[-1] if begun else next(iter(read), None)


def _same_set(walk: Walk, event: Event) -> bool:
    step = walk.flow.steps.get(event.step)
    return step is not None and step.set == walk.current_set
