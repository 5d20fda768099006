"""The path of a job as it is laid over the drawing of the flow it began with."""

from __future__ import annotations

from collections import Counter

from engine.flow.draw.overlay import Overlay
from engine.flow.draw.ways import watch_source
from engine.flow.joined import flows_of
from engine.job.state import INTERRUPT, PASSED_OVER, TrailEntry
from engine.job.walk import Walk


def path_overlay(walk: Walk, whose: str = "this job") -> Overlay:
    """The steps that the walk was at, the moves between them, and where it stands; `whose` names the job."""
    visits = Counter(entry.step for entry in walk.trail if entry.how not in PASSED_OVER)
    moves = Counter((_source(walk, entry), entry.to) for entry in walk.trail if entry.to is not None)
    here = walk.step.id if walk.step is not None else None
    if here is not None:
        visits[here] += 1
    return Overlay(_caption(walk, whose), visits, moves, here=here)


def _source(walk: Walk, entry: TrailEntry) -> str:
    """What the move is drawn as a way of: the step, or the watch rule that interrupted it."""
    if entry.how == INTERRUPT:
        for flow in flows_of(walk.job_flow):
            for watch in flow.watch:
                why = watch.because or watch.when.text
                if entry.because == why and entry.to in (watch.go, watch.again):
                    return watch_source(flow, watch)
    return entry.step


def _caption(walk: Walk, whose: str) -> str:
    if walk.prompt is None:
        return f"The path of {whose}: ✓ steps and ways it took. It is finished."
    return f"The path of {whose}: ✓ steps and ways it took, ▸ where it stands."
