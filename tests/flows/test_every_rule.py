"""Every rule of every step of the main flow is taken by at least one committed walk."""

from __future__ import annotations

from collections.abc import Iterator

from engine.flow.model import Flow, Next, Step
from engine.job.state import INTERRUPT, SKIPPED_FOR, SPENT, WENT
from engine.job.walk import Walk
from tests.flows.walking import EXAMPLES, WALKS, main_flow, walks_of

Way = tuple[str, str, str]
"""step, how, and what tells the way: a rule's reason, 'unknown', 'otherwise', a finding out or held back."""


def test_every_rule_is_taken() -> None:
    taken = {way for file in (WALKS, *EXAMPLES) for walk in walks_of(file) for way in ways_taken(walk)}
    missing = sorted(set(ways_of(main_flow())) - taken)
    assert missing == []


def ways_of(flow: Flow) -> Iterator[Way]:
    for step in flow.steps.values():
        yield from _ways_of_step(step)
    for watch in flow.watch:
        yield (INTERRUPT, watch.because or watch.when.text, "")


def _ways_of_step(step: Step) -> Iterator[Way]:
    if step.for_:
        yield (step.id, SKIPPED_FOR, "")
    if step.at_most is not None:
        yield (step.id, SPENT, "")
    if step.next is not None:
        yield from _ways_of_next(step.id, step.next)


def _ways_of_next(step: str, way: Next) -> Iterator[Way]:
    for rule in way.rules:
        if rule.go is not None:
            yield (step, WENT, rule.because or rule.when.text)
        for finding in rule.rule_out:
            yield (step, "ruled out", f"{finding}: {rule.because or rule.when.text}")
        for finding in rule.hold_back:
            yield (step, "held back", f"{finding}: {rule.because or rule.when.text}")
    if any(rule.go is not None for rule in way.rules) and way.unknown != way.otherwise:
        yield (step, WENT, "unknown")
    yield (step, WENT, "otherwise")


def ways_taken(walk: Walk) -> Iterator[Way]:
    for entry in walk.trail:
        if entry.how == INTERRUPT:
            yield (INTERRUPT, entry.because, "")
        elif entry.how != WENT:
            yield (entry.step, entry.how, "")
        elif entry.because.startswith("cannot be told: "):
            yield (entry.step, WENT, "unknown")
            way = walk.flow.steps[entry.step].next
            if way is not None and way.unknown == way.otherwise:
                yield (entry.step, WENT, "otherwise")  # one way written twice, as the language asks
        else:
            yield (entry.step, WENT, entry.because or "otherwise")
    for out in walk.ruled_out.values():
        yield (out.step, "ruled out", f"{out.finding}: {out.because}")
    for held in walk.held_back.values():
        yield (held.step, "held back", f"{held.finding}: {held.because}")
