"""Flows that hand over to one another, as one: names of steps kept apart, what is known carried along.

A job is one job, whichever flow it goes on with. A flow that is handed over to keeps its own readings, signs,
findings, watch rules and limits; its steps are called `FLOW/step`, so that an answer to a step of one flow is
never taken for an answer to a step of another.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from engine.flow.model import RESUME, Flow, Next, Reading, SetState, Step, Watch


def within(flow: Flow, name: str) -> Flow:
    """The flow as others hand over to it: every step called `name/step`."""
    names = {step: f"{name}/{step}" for step in flow.steps} | {RESUME: RESUME}
    return replace(
        flow,
        start=names[flow.start],
        steps={names[id]: _renamed(step, names) for id, step in flow.steps.items()},
        watch=tuple(_renamed_watch(watch, names) for watch in flow.watch),
    )


def _renamed(step: Step, names: Mapping[str, str]) -> Step:
    return replace(
        step,
        id=names[step.id],
        skip_to=_name(step.skip_to, names),
        then=_name(step.then, names),
        next=_renamed_next(step.next, names) if step.next else None,
    )


def _renamed_next(way: Next, names: Mapping[str, str]) -> Next:
    rules = tuple(replace(rule, go=_name(rule.go, names)) for rule in way.rules)
    return Next(rules, _name(way.unknown, names), _name(way.otherwise, names))


def _renamed_watch(watch: Watch, names: Mapping[str, str]) -> Watch:
    return replace(watch, go=names[watch.go], again=_name(watch.again, names))


def _name(target: str | None, names: Mapping[str, str]) -> str | None:
    return target if target is None else names[target]


def joined(before: Flow, after: Flow) -> Flow:
    """What a job goes on with when `before` hands over to `after`: `after`, with all that the trail names."""
    return replace(
        after,
        readings={**before.readings, **after.readings},
        sets={**before.sets, **after.sets},
        cautions={**before.cautions, **after.cautions},
        steps={**before.steps, **after.steps},
        hash=before.hash,
    )


def flows_of(flow: Flow) -> tuple[Flow, ...]:
    """The flow itself, then every flow a job begun with it may go on in, each once, in order of mention."""
    found = {flow.name: flow}
    waiting = [flow]
    for one in waiting:  # grows while it is gone through
        for name, other in one.hand_overs.items():
            if name not in found:
                found[name] = other
                waiting.append(other)
    return tuple(found.values())


def with_all_names(flow: Flow) -> Flow:
    """The flow with the readings and sets of every flow that a job begun with it may come to."""
    readings, sets = dict(flow.readings), dict(flow.sets)
    for one in flows_of(flow)[1:]:
        readings = {**one.readings, **readings}
        sets = {**one.sets, **sets}
    return replace(flow, readings=readings, sets=sets)


def same_meaning(one: Reading, other: Reading) -> bool:
    """An answer to the one is an answer to the other."""
    words = [{choice.word for choice in reading.choices} for reading in (one, other)]
    return (one.kind, one.several, words[0]) == (other.kind, other.several, words[1])


def same_conditions(one: SetState, other: SetState) -> bool:
    """The one set was taken in the state that the other asks for."""
    return (one.load, one.speed, one.fixed) == (other.load, other.speed, other.fixed)


def agreeing(before: Flow, after: Flow) -> tuple[str, ...]:
    """What may be carried: readings of one name, which mean the same, and sets in the same conditions."""
    readings = [name for name in before.readings if name in after.readings]
    sets = [
        name
        for name, state in before.sets.items()
        if name in after.sets and same_conditions(state, after.sets[name])
    ]
    return (*readings, *sets)
