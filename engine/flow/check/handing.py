"""What one flow carries into another: what both call by one name has to be one thing."""

from __future__ import annotations

from engine.flow.assemble.sections import Entry
from engine.flow.joined import agreeing, same_conditions, same_meaning
from engine.flow.model import Flow
from engine.flow.schema import StepPart
from engine.flow.suggest import did_you_mean, listed, shown

_MOST_NAMED = 3


def carried(entry: Entry[StepPart], flow: Flow, target: Flow) -> tuple[str, ...]:
    """What the step carries into `target`, with every mistake about it noted."""
    _check_names(entry, flow, target)
    if entry.part.carry == "all":
        return agreeing(flow, target)
    names = entry.part.carry or []
    for number, name in enumerate(names):
        _check_carried(entry, flow, target, name, number)
    return tuple(names)


def _check_names(entry: Entry[StepPart], flow: Flow, target: Flow) -> None:
    """One job, one sheet: a name cannot mean one thing in its first half and another in its second."""
    other = [
        name
        for name, reading in flow.readings.items()
        if name in target.readings and not same_meaning(reading, target.readings[name])
    ]
    if other:
        names = listed(map(shown, other[:_MOST_NAMED]), "and")
        mean = "means" if len(other) == 1 else "mean"
        what = f"{names} {mean} something else in flow {shown(target.name)}"
        entry.wrong(what, "take such readings from one part, or rename one", "hand_over")


def _check_carried(entry: Entry[StepPart], flow: Flow, target: Flow, name: str, number: int) -> None:
    for one in (flow, target):
        if name not in one.readings and name not in one.sets:
            what = f"there is no reading or set {shown(name)} in flow {shown(one.name)}"
            entry.wrong(what, did_you_mean(name, [*one.readings, *one.sets]), "carry", number)
            return
    if name in flow.readings and name in target.readings:
        return
    if name not in flow.sets or name not in target.sets:
        what = f"{shown(name)} is a set in one of the flows and a reading in the other"
        entry.wrong(what, "rename one", "carry", number)
    elif not same_conditions(flow.sets[name], target.sets[name]):
        what = f"set {shown(name)} is taken in other conditions in flow {shown(target.name)}"
        hint = "let 'load', 'speed' and 'fixed' agree, or leave it out to take it anew"
        entry.wrong(what, hint, "carry", number)
