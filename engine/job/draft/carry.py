"""Which of the answers to one draft of a flow still fit the next."""

from __future__ import annotations

from collections.abc import Iterable
from math import isclose

from engine.flow.joined import flows_of
from engine.flow.model import Flow, Reading
from engine.job.entry import EntryError, read_entry
from engine.job.events import ANSWERED, CONCLUDED, FINISHED, INTERRUPTED, STARTED, Event
from engine.job.fold import answers
from engine.job.state import Answer
from engine.physics.quantity import canonical_unit

_OUTCOMES = (STARTED, INTERRUPTED, CONCLUDED, FINISHED)
"""What follows from the answers and the flow, and is found anew."""

_SAME = 1e-9


def fitting(events: Iterable[Event], flow: Flow) -> list[Event]:
    """The events that are kept for `flow`: all but outcomes, and answers that a reading now would not take.

    Answers to steps that are not there any more are kept as well; they lie dormant until such a step comes
    back, as it does when the author undoes a change.
    """
    kept = [event for event in events if event.kind not in _OUTCOMES]
    readings = dict(_readings(flow))
    dropped = {
        key
        for key, answer in answers(kept).items()
        if answer.kind == ANSWERED and not _fits(readings.get(_owner(key[0], key[2])), answer)
    }
    return [event for event in kept if event.kind != ANSWERED or event.key not in dropped]


def _readings(flow: Flow) -> Iterable[tuple[str, Reading]]:
    """The readings of the flow by name, and those of the flows it hands over to by FLOW/name."""
    yield from flow.readings.items()
    for other in flows_of(flow)[1:]:
        yield from ((f"{other.name}/{reading}", one) for reading, one in other.readings.items())


def _owner(step: str, item: str) -> str:
    """What `_readings` calls the reading `item` of a step: steps of other flows are called FLOW/step."""
    flow, slash, _ = step.rpartition("/")
    return f"{flow}{slash}{item}"


def _fits(reading: Reading | None, answer: Answer) -> bool:
    """Whether the reading, read again from what was typed, is the same; choices are compared by the walk."""
    if reading is None or reading.kind is None:
        return True
    if canonical_unit(answer.unit, reading.kind) is None:
        return False  # it is another quantity now
    try:
        value = read_entry(reading, answer.text, answer.unit).value
    except EntryError:
        return False
    if not (isinstance(value, float) and isinstance(answer.value, float)):
        return False
    return isclose(value, answer.value, rel_tol=_SAME, abs_tol=_SAME)
