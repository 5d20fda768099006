"""Which rules of a flow a walk took, so that those that no vehicle ever takes can be told."""

from __future__ import annotations

from collections.abc import Iterator

from engine.flow.model import RESUME, Flow, Rule
from engine.job.state import INTERRUPT, RESUMED, WENT, TrailEntry
from engine.job.walk import Walk

Way = tuple[str, str]
"""A step, and the condition of one of its rules; for a watch rule `watch` and its name."""

_WATCH = "watch"


def ways_of(flow: Flow) -> tuple[Way, ...]:
    """Every rule of the flow, in its order."""
    watched = [(_WATCH, watch.name) for watch in flow.watch]
    return (*watched, *((step, rule.when.text) for step, rule in _rules(flow)))


def ways_taken(walk: Walk) -> frozenset[Way]:
    """The rules that decided something on this walk.

    A rule that only rules out or holds back counts where it was the first to do so with a finding.
    """
    told = (*walk.ruled_out.values(), *walk.held_back.values())
    return frozenset(way for entry in walk.trail for way in _taken(walk.flow, entry)) | frozenset(
        (step, rule.when.text)
        for step, rule in _rules(walk.flow)
        if any(
            out.step == step
            and out.because == _because(rule)
            and out.finding in (*rule.rule_out, *rule.hold_back)
            for out in told
        )
    )


def _taken(flow: Flow, entry: TrailEntry) -> Iterator[Way]:
    if entry.how == INTERRUPT:
        yield from (
            (_WATCH, watch.name)
            for watch in flow.watch
            if entry.because == (watch.because or watch.when.text)
        )
    elif entry.how in (WENT, RESUMED):
        way = flow.steps[entry.step].next
        for rule in way.rules if way else ():
            led = rule.go == entry.to or (rule.go == RESUME and entry.how == RESUMED)
            # a step that resumes tells no reason of its own in the trail
            if led and entry.because in (_because(rule), *([""] if entry.how == RESUMED else [])):
                yield entry.step, rule.when.text


def _because(rule: Rule) -> str:
    return rule.because or rule.when.text


def _rules(flow: Flow) -> Iterator[tuple[str, Rule]]:
    for step in flow.steps.values():
        for rule in step.next.rules if step.next else ():
            yield step.id, rule
