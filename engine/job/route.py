"""Where the walk goes: into a step, out of it, past what asks nothing, and off the way by a watch rule."""

from __future__ import annotations

from dataclasses import dataclass

from engine.flow.model import RESUME, Next, Rule, Step, Watch
from engine.job.changed import changed
from engine.job.conclusion import conclude
from engine.job.handing import asked_anew, carried_from, hand_over, new_cautions
from engine.job.hearing import listen
from engine.job.state import (
    CARRIED,
    HANDED_OVER,
    INTERRUPT,
    RESUMED,
    SKIPPED_FOR,
    SPENT,
    WENT,
    Conclusion,
    Prompt,
    RuledOut,
    TrailEntry,
)
from engine.job.walk_state import Walk, WalkError, carried_here, first_asked, nothing_to_read, prompts_of
from engine.job.weigh import alive

LONGEST_TRAIL = 2000
"""Steps passed in one job. Nobody walks so many, so the flow must be wrong."""


def enter(walk: Walk, target: str | None) -> Walk:
    """Goes to `target` and on, past junctions and steps not needed, to the next prompt or the end (None).

    Raises WalkError if that never comes, or a step does not exist.
    """
    while target is not None and walk.prompt is None:
        if len(walk.trail) >= LONGEST_TRAIL:
            raise WalkError(
                f"Flow '{walk.flow.name}' passes {LONGEST_TRAIL} steps and comes to no end near step "
                f"'{target}'; give a step of that loop an at_most."
            )
        walk, target = _step_in(walk, target)
    return walk


def _step_in(walk: Walk, target: str) -> tuple[Walk, str | None]:
    """Enters one step: with a prompt if it asks something, else already out of it with the next target."""
    step = _find(walk, target)
    visit = walk.visits.get(step.id, 0) + 1
    if step.at_most is not None and visit > step.at_most:
        because = f"taken {step.at_most} times already" if step.at_most > 1 else "taken once already"
        return _leave_for(walk, step, visit, SPENT, step.then, because)
    walk = changed(walk, visits={**walk.visits, step.id: visit})
    if step.for_ and step.skip_to is not None:
        hearing = listen(walk.flow, walk.facts, walk.hearing)
        walk = changed(walk, hearing=hearing)
        left = alive(walk.flow, hearing.heard, walk.ruled_out, step.for_)
        if len(left) <= 1:
            because = (
                f"only {left[0]} is still possible" if left else "none of its findings is still possible"
            )
            return _leave_for(walk, step, visit, SKIPPED_FOR, step.skip_to, because)
    walk = asked_anew(walk, step, visit)
    if nothing_to_read(walk, step):
        if not carried_here(walk, step):
            walk, because = _anew(walk, step), "none of its readings can be taken here"
            return _out_of(walk, step, visit, SKIPPED_FOR, because)
        if not new_cautions(walk, step):
            return _out_of(walk, step, visit, CARRIED, carried_from(walk))
    item = first_asked(walk, step, prompts_of(step))
    if item is None:
        return _out_of(walk, step, visit)
    return changed(_anew(walk, step), prompt=Prompt(step.id, visit, item)), step.id


def _find(walk: Walk, target: str) -> Step:
    step = walk.flow.steps.get(target)
    if step is None:
        raise WalkError(f"Flow '{walk.flow.name}' leads to step '{target}', which it does not have.")
    return step


def _anew(walk: Walk, step: Step) -> Walk:
    """Takes away what the step is about to record, so that values of two visits never mix.

    A step with `settle` takes away the whole set, when the set is begun.
    """
    if step.set is None or step.settle is not None or first_asked(walk, step, step.record) is None:
        return walk
    facts = walk.facts
    for item in step.record:
        facts = facts.with_value(f"{step.set}.{item}", None)
    return changed(walk, facts=facts)


def leave(walk: Walk) -> Walk:
    """Ends the present step's visit and goes on to the next prompt, or to the end of the walk."""
    assert walk.prompt is not None
    out, target = _out_of(walk, walk.flow.steps[walk.prompt.step], walk.prompt.visit)
    return enter(out, target)


def _out_of(
    walk: Walk, step: Step, visit: int, how: str = WENT, because: str = ""
) -> tuple[Walk, str | None]:
    """Concludes if the step does, decides by its `next`, and notes both the way and why."""
    if step.concludes:
        walk = changed(walk, conclusion=_conclude(walk, step))
    if step.hand_over is not None:
        after = hand_over(walk, step)
        return _leave_for(after, step, visit, HANDED_OVER, after.flow.start, after.flow.title)
    if step.resume:
        return _leave_for(walk, step, visit, WENT, RESUME, "")
    if step.end or step.next is None:
        return _leave_for(walk, step, visit, WENT, None, "")
    choice = choose(walk, step.next)
    walk = _without_those_out(walk, step, choice.true)
    if choice.target is None:
        raise WalkError(
            f"Step '{step.id}' of flow '{walk.flow.name}' leads nowhere; give its next an otherwise."
        )
    return _leave_for(walk, step, visit, how, choice.target, because or choice.because)


def _without_those_out(walk: Walk, step: Step, true: tuple[Rule, ...]) -> Walk:
    """Notes what the rules that are true rule out or hold back; the first reason given stays."""
    if not any(rule.rule_out or rule.hold_back for rule in true):
        return walk
    ruled_out, held_back = dict(walk.ruled_out), dict(walk.held_back)
    for rule in true:
        reason = rule.because or rule.when.text
        for finding in rule.rule_out:
            ruled_out.setdefault(finding, RuledOut(finding, step.id, reason))
        for finding in rule.hold_back:
            held_back.setdefault(finding, RuledOut(finding, step.id, reason))
    return changed(walk, ruled_out=ruled_out, held_back=held_back)


def _conclude(walk: Walk, step: Step) -> Conclusion:
    return conclude(
        walk.flow,
        walk.facts,
        step,
        walk.ruled_out,
        walk.held_back,
        interrupted=walk.interrupted,
        advises=walk.advises,
        hearing=walk.hearing,
    )


@dataclass(frozen=True, slots=True)
class Choice:
    """What a `next` decides: the target, the reason, and the rules found true on the way there."""

    target: str | None
    because: str
    true: tuple[Rule, ...]


def choose(walk: Walk, way: Next) -> Choice:
    """The first true rule with a target; else `unknown` if any of those was unknown; else `otherwise`.

    A rule without a target rules out if it is true and never decides the way, so its being unknown does not
    count.
    """
    true: list[Rule] = []
    untold: Rule | None = None
    for rule in way.rules:
        truth = rule.when.evaluate(walk.facts)
        if truth:
            true.append(rule)
            if rule.go is not None:
                return Choice(rule.go, rule.because or rule.when.text, tuple(true))
        elif truth is None and rule.go is not None and untold is None:
            untold = rule
    if untold is not None:
        return Choice(way.unknown, f"cannot be told: {untold.when.text}", tuple(true))
    return Choice(way.otherwise, "", tuple(true))


def _leave_for(
    walk: Walk, step: Step, visit: int, how: str, target: str | None, because: str
) -> tuple[Walk, str | None]:
    """Out of the step, noted in the trail; `resume` as a target becomes the interrupted step."""
    if target == RESUME:
        if walk.resume_to is None:
            raise WalkError(
                f"Step '{step.id}' of flow '{walk.flow.name}' resumes, but nothing was interrupted."
            )
        how, target = RESUMED, walk.resume_to
        walk = changed(walk, resume_to=None, interrupted=False)
    entry = TrailEntry(step.id, visit, how, target, because)
    return changed(walk, prompt=None, trail=(*walk.trail, entry)), target


def interrupt(walk: Walk, watch: Watch) -> Walk:
    """Leaves the present step at once for where a watch rule leads: first `go`, from then on `again`."""
    assert walk.prompt is not None
    step, target = walk.prompt.step, watch.again if watch.name in walk.fired else watch.go
    entry = TrailEntry(step, walk.prompt.visit, INTERRUPT, target, watch.because or watch.when.text)
    stopped = changed(
        walk,
        prompt=None,
        trail=(*walk.trail, entry),
        fired=walk.fired | {watch.name},
        interrupted=True,
        resume_to=step,
    )
    return enter(stopped, target)


def watch_that_fires(walk: Walk) -> Watch | None:
    """The first watch rule true now that still leads somewhere: one that fired only by its `again`."""
    for watch in walk.flow.watch:
        spent = watch.name in walk.fired and watch.again is None
        if not spent and watch.when.evaluate(walk.facts, walk.current_set):
            return watch
    return None
