"""Handing over: the walk goes on in another flow, with what is carried known and everything else to be asked.

The flow that goes on decides by its own rules, watches and signs. What the one before ruled out, was
interrupted in, or read without carrying it stays in the trail and in `before`, and decides nothing any more.
"""

from __future__ import annotations

from engine.flow.joined import joined
from engine.flow.model import Flow, Step
from engine.job.changed import changed
from engine.job.facts import Facts
from engine.job.walk_state import Walk, carried_here


def hand_over(walk: Walk, step: Step) -> Walk:
    """The walk in the flow that `step` hands over to, not yet at its start."""
    assert step.hand_over is not None
    flow = joined(walk.flow, walk.flow.hand_overs[step.hand_over])
    carried = frozenset(name for name in walk.asked if _goes_along(name, step))
    known = {name: value for name, value in walk.facts.known().items() if _goes_along(name, step)}
    return changed(
        walk,
        flow=flow,
        facts=Facts(known, sets=flow.sets),
        ruled_out={},
        held_back={},
        interrupted=False,
        resume_to=None,
        fired=frozenset(),
        asked=carried,
        unknown=tuple(name for name in walk.unknown if name in carried),
        before=walk,
        carried=carried,
    )


def _goes_along(name: str, step: Step) -> bool:
    """A reading of the job goes along by its name, one of a set by its set's."""
    set_name, dot, _ = name.rpartition(".")
    return (set_name if dot else name) in step.carry


def asked_anew(walk: Walk, step: Step, visit: int) -> Walk:
    """A step that is come back to asks again: its flow leads there to measure anew."""
    if visit == 1 or not carried_here(walk, step):
        return walk
    return changed(walk, carried=walk.carried.difference(carried_here(walk, step)))


def new_cautions(walk: Walk, step: Step) -> bool:
    """The step has cautions that nobody has acknowledged in this job: they hold though nothing is asked."""
    read = {name for shown in walk.cautions for name in shown.ids}
    return not read.issuperset(step.cautions)


def carried_from(walk: Walk) -> str:
    """Why a step asks nothing: what it reads is known from the flow before."""
    return f"known from: {_before(walk).title}"


def _before(walk: Walk) -> Flow:
    return walk.before.flow if walk.before is not None else walk.flow
