"""What follows from a move of the walk and is written down with it: a stop, the conclusion, the end."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from engine.flow.model import Watch
from engine.job.events import CONCLUDED, FINISHED, INTERRUPTED, WITHDRAWN, Event
from engine.job.plain import conclusion_from_plain, conclusion_to_plain
from engine.job.session.versions import Versions
from engine.job.state import INTERRUPT, Conclusion, TrailEntry
from engine.job.walk import Walk

SAME_PROBABILITY = 0.01
"""Two versions that differ by less than one hundredth tell the reader the same."""


def outcomes(before: Walk, after: Walk, at: datetime, versions: Versions) -> list[Event]:
    """The events that follow from the move `before` -> `after`."""
    passed = after.trail[len(before.trail) :]
    found = [_interrupted(before, after, entry, at) for entry in passed if _stops(entry)]
    if after.conclusion is not None and after.conclusion != before.conclusion:
        found.append(_concluded(after, after.conclusion, at, versions))
    if after.prompt is None and before.prompt is not None:
        found.append(_finished(after, at))
    return found


def missing_outcomes(walk: Walk, events: Iterable[Event], at: datetime, versions: Versions) -> list[Event]:
    """What `outcomes` would have written had the program not been cut off right after the last answer."""
    kept = list(events)
    found = []
    if walk.conclusion is not None and stored_conclusion(kept) is None:
        found.append(_concluded(walk, walk.conclusion, at, versions))
    if walk.prompt is None and not _is_finished(kept):
        found.append(_finished(walk, at))
    return found


def stored_conclusion(events: Iterable[Event]) -> Conclusion | None:
    """The conclusion as it was written down, unless an answer before it was taken back since."""
    event = stored_conclusion_event(events)
    return conclusion_from_plain(event.detail) if event is not None else None


def stored_conclusion_event(events: Iterable[Event]) -> Event | None:
    """The event of `stored_conclusion`; it also carries the versions that concluded."""
    found: Event | None = None
    for event in events:
        if event.kind == CONCLUDED:
            found = event
        elif event.kind == WITHDRAWN and event.detail.get("status") == "asking":
            found = None
    return found


def differ(stored: Conclusion, now: Conclusion | None) -> bool:
    """Whether a reader would be told something else now."""
    if now is None:
        return True
    told, tells = _told(stored), _told(now)
    if told != tells:
        return True
    pairs = zip(stored.ranked, now.ranked, strict=True)
    return any(abs(one.probability - other.probability) > SAME_PROBABILITY for one, other in pairs)


def _told(conclusion: Conclusion) -> tuple[object, ...]:
    ranked = [one.finding for one in conclusion.ranked]
    ruled_out = {one.finding for one in conclusion.ruled_out}
    held = conclusion.held_back and conclusion.held_back.finding
    told = (conclusion.finding, conclusion.proved_by, conclusion.also, conclusion.outside, held)
    return (*told, ranked, ruled_out)


def _stops(entry: TrailEntry) -> bool:
    return entry.how == INTERRUPT


def _interrupted(before: Walk, walk: Walk, entry: TrailEntry, at: datetime) -> Event:
    watched = (*before.flow.watch, *walk.flow.watch)  # the stop may have handed over at once
    watch = next((watch for watch in watched if _says(watch) == entry.because), None)
    detail = {"watch": watch.name if watch else "", "because": entry.because, "to": entry.to}
    return Event(INTERRUPTED, at, walk.flow.name, entry.step, entry.visit, detail=detail)


def _says(watch: Watch) -> str:
    return watch.because or watch.when.text


def _concluded(walk: Walk, conclusion: Conclusion, at: datetime, versions: Versions) -> Event:
    detail = {
        **conclusion_to_plain(conclusion),
        "versions": {**versions.plain(), "flow_hash": walk.flow.hash},
    }
    return Event(CONCLUDED, at, walk.flow.name, conclusion.step, detail=detail)


def _finished(walk: Walk, at: datetime) -> Event:
    return Event(FINISHED, at, walk.flow.name)


def _is_finished(events: Iterable[Event]) -> bool:
    found = False
    for event in events:
        if event.kind == FINISHED:
            found = True
        elif event.kind == WITHDRAWN:
            found = False
    return found
