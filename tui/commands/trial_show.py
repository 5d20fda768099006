"""The whole job of one simulated vehicle: what was wrong, every answer in order, and what was concluded."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from engine.flow.model import Flow
from engine.job.events import ACKNOWLEDGED, CANNOT_MEASURE, DONE, SETTLED, SKIPPED
from engine.job.replay.run import Replayed
from engine.job.replay.walker import Given
from engine.job.state import Answer
from engine.job.walk import Walk
from engine.physics.quantity import show
from engine.vehicle.trial.job import walk_through
from engine.vehicle.trial.outcome import judge, told
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.worst import faults_in_words, show_command
from tui.commands.account import account
from tui.commands.output import wrapped


def show_job(plan: Plan, fleet: str, index: int) -> Iterator[str]:
    """Lines: the vehicle, the answers step by step, the outcome, and the conclusion as replay tells it.

    With two faults of which only one was named, the linked job after its repair follows.
    """
    case = plan.drawer.draw(plan.ask(fleet, index))
    name = f"vehicle {index} of fleet {fleet}, seed {plan.seed}"
    yield f"{name[0].upper()}{name[1:]}"
    yield f"  command: {show_command(plan, fleet, index)}"
    yield f"  flow: {plan.flow.name}, revision {plan.flow.revision}, hash {plan.flow.hash}"
    yield f"  truth: {faults_in_words(case.faults)}"
    for label, text in case.about.items():
        yield f"  {label}: {text}"
    walk = walk_through(plan.flow, case.technician(case.faults))
    yield from _job(walk, name)
    assert walk.conclusion is not None
    said = told(plan.flow, walk.conclusion)
    yield f"  Outcome: {str(judge(case.faults, said)).replace('_', ' ')}"
    left = tuple(fault for fault in case.faults if not fault.names & said.names)
    if len(case.faults) == 2 and len(left) == 1:
        yield ""
        yield f"The linked job, after that repair; left is {faults_in_words(left)}"
        yield from _job(walk_through(plan.flow, case.technician(left)), f"{name}, linked job")


def _job(walk: Walk, name: str) -> Iterator[str]:
    yield "  Answers:"
    for (step, visit), answers in groupby(walk.answered.values(), key=lambda one: one.key[:2]):
        again = f", visit {visit}" if visit > 1 else ""
        yield from wrapped(f"{walk.flow.steps[step].title} ({step}{again})", "    ", "      ")
        for answer in answers:
            yield from wrapped(_answer(walk.flow, answer), "      ", "        ")
    yield from account(Replayed(name, walk, Given({})))


_WORDS = {ACKNOWLEDGED: "cautions acknowledged", DONE: "done", SKIPPED: "skipped"}


def _answer(flow: Flow, answer: Answer) -> str:
    item = answer.key[2]
    reading = flow.readings.get(item)
    if reading is None:
        if answer.kind == SETTLED:
            kept = "settled" if answer.detail.get("kept", True) else "read too early"
            return f"{kept} after {answer.detail.get('waited', 0.0):.0f} s"
        return _WORDS.get(answer.kind, answer.kind.replace("-", " "))
    if answer.kind == CANNOT_MEASURE or answer.value is None:
        return f"{reading.label} ({item}): cannot be measured"
    value = answer.value
    if isinstance(value, frozenset):
        return f"{reading.label} ({item}): {', '.join(sorted(value))}"
    shown = (
        value if isinstance(value, str) or reading.kind is None else show(value, reading.kind, reading.unit)
    )
    return f"{reading.label} ({item}): {shown}"
