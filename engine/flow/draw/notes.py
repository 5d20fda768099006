"""What a drawing says about a step below its title: load, cautions, readings, loops, and how it ends."""

from __future__ import annotations

from collections.abc import Iterator

from engine.flow.draw.cells import Piece
from engine.flow.draw.ways import RESUMES
from engine.flow.draw.wording import Wording, short
from engine.flow.model import SIGNALS, Flow, Step
from engine.flow.suggest import counted

LOAD, CAUTION, READINGS, LOOP, END = "load", "caution", "readings", "loop", "end"
"""The tags of what is told: what it is about."""

_ARROWS = {"raised": "↑", "lowered": "↓", "moderate": "→", "rest": "○"}
_FEW = 2
"""Findings named where more are only counted."""


def notes(flow: Flow, step: Step, wording: Wording) -> list[Piece]:
    """Everything to be told about `step`, most urgent first."""
    return [
        *_load(flow, step, wording),
        *_cautions(flow, step),
        *_readings(step, wording),
        *_loops(step, wording),
        *_ending(flow, step, wording),
    ]


def _load(flow: Flow, step: Step, wording: Wording) -> Iterator[Piece]:
    """The load change: a step with a settle time brings the vehicle into another state."""
    state = flow.sets.get(step.set or "")
    if state is not None and step.settle is not None:
        arrow = _ARROWS.get(state.load, "")
        load = f"{arrow} LOAD {state.load.upper()}"
        yield f"{load}: {wording.set_label(state.name)}, settle {duration(step.settle)}", LOAD


def _cautions(flow: Flow, step: Step) -> Iterator[Piece]:
    found = [flow.cautions[id].signal for id in step.cautions if id in flow.cautions]
    told = [f"{signal} {found.count(signal)}" for signal in SIGNALS if signal in found]
    if told:
        yield f"{'!' if told[0].startswith('NOTICE') else '▲'} {', '.join(told)}", CAUTION
    if step.exposure:
        yield short(f"exposed: {', '.join(step.exposure)}"), CAUTION


def _readings(step: Step, wording: Wording) -> Iterator[Piece]:
    if step.is_junction and step.hand_over is None:
        yield "◇ decides, asks nothing", READINGS
    told = [f"asks {len(step.ask)}"] if step.ask else []
    if step.record:
        told.append(
            f"reads {len(step.record)}" + (f" into {wording.set_label(step.set)}" if step.set else "")
        )
    if told:
        yield ", ".join(told), READINGS
    rules = step.next.rules if step.next else ()
    out = {finding for rule in rules for finding in rule.rule_out}
    held = {finding for rule in rules for finding in rule.hold_back}
    if out:
        yield f"can rule out {counted(len(out), 'finding')}", READINGS
    if held:
        yield f"can hold back {counted(len(held), 'finding')}", READINGS


def _loops(step: Step, wording: Wording) -> Iterator[Piece]:
    if step.for_:
        yield f"only while in question: {_named(step.for_, wording)}", LOOP
    if step.at_most is not None:
        yield f"↻ at most {counted(step.at_most, 'time')}", LOOP


def _ending(flow: Flow, step: Step, wording: Wording) -> Iterator[Piece]:
    if step.proved is not None:
        yield f"■ PROVED: {wording.finding(step.proved)}", END
    elif step.conclude:
        yield f"■ CONCLUDES: {_named(step.conclude, wording)}", END
    if step.hand_over is not None:
        yield _handing_over(flow, step)
    elif step.resume:
        yield RESUMES, LOOP
    elif step.end or step.next is None:
        yield "■ END of the job", END


def _handing_over(flow: Flow, step: Step) -> Piece:
    other = flow.hand_overs.get(step.hand_over or "")
    title = short(other.title if other else step.hand_over or "")
    along = f", carrying {len(step.carry)} of its readings and sets" if step.carry else ""
    return (f"⇒ GOES ON IN: {title}{along}", END)


def _named(findings: tuple[str, ...], wording: Wording) -> str:
    if len(findings) > _FEW:
        return f"any of {len(findings)} findings"
    return " or ".join(wording.finding(each) for each in findings)


def duration(seconds: float) -> str:
    """`3 min`, `45 s`, `1 min 30 s`."""
    minutes, rest = divmod(round(seconds), 60)
    return " ".join(filter(None, (f"{minutes} min" if minutes else "", f"{rest} s" if rest else ""))) or "0 s"
