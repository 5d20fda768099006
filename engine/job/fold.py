"""A job's events folded into its answers, and its answers into the walk: resume, undo and replay alike."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from engine.flow.model import Flow, Value
from engine.job.events import ANSWERS, WITHDRAWN, Event, Key
from engine.job.state import Answer
from engine.job.walk import Walk, advance, begin, refusal


def answers(events: Iterable[Event]) -> dict[Key, Answer]:
    """The last live answer to each prompt, in order of entry.

    An answer given again replaces the earlier one; a withdrawn one is gone. Answers that the walk does not
    come past are kept too: they lie dormant until it does. Events that answer no prompt (held, draft,
    predicted, noted) change nothing.
    """
    live: dict[Key, Answer] = {}
    for event in events:
        if event.kind == WITHDRAWN:
            live.pop(event.key, None)
        elif event.kind in ANSWERS:
            live.pop(event.key, None)
            live[event.key] = answer_of(event)
    return live


def answer_of(event: Event) -> Answer:
    """The answer that an event of one of the `ANSWERS` kinds records."""
    return Answer(event.kind, event.key, _value(event), event.text, event.unit, event.at, event.detail)


def _value(event: Event) -> Value | None:
    return frozenset(event.value) if isinstance(event.value, tuple) else event.value


def trail(flow: Flow, live: Mapping[Key, Answer]) -> Walk:
    """The walk from its start as far as the answers lead it; see `follow`."""
    return follow(begin(flow), live)


def follow(walk: Walk, live: Mapping[Key, Answer]) -> Walk:
    """The walk as far on as the answers lead it, dormant ones included where it comes past them.

    It stops at the first prompt without an answer, or whose answer does not fit it (a damaged event): that
    prompt is asked again.
    """
    while walk.prompt is not None:
        answer = live.get(walk.prompt.key)
        if answer is None or refusal(walk, answer) is not None:
            return walk
        walk = advance(walk, answer)
    return walk
