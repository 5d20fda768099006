"""Signs that can never speak and findings that are never told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from engine.flow.assemble.grading import step_name
from engine.flow.assemble.sections import Entry
from engine.flow.check.checking import Checking
from engine.flow.check.needs import Needs, lacking
from engine.flow.model import INCONCLUSIVE, Condition, Flow


def check_spoken(checking: Checking) -> None:
    """Conditions outside `next` whose readings no step ever asks, so that they stay unknown for ever."""
    needs = Needs(checking.flow)
    for sign in checking.flow.signs.values():
        if not sign.graded or sign.name == step_name(sign.graded, 1):
            entry = checking.sections.entries["signs"][sign.written_as]
            _check_condition(entry, "reads" if sign.graded else "when", sign.when, needs, ())
    for name, finding in checking.flow.findings.items():
        if finding.told_when is not None:
            entry = checking.sections.entries["findings"][name]
            _check_condition(entry, "told_when", finding.told_when, needs, ())
    sets = sorted({step.set for step in checking.flow.steps.values() if step.set})
    for watch, entry in zip(checking.flow.watch, checking.sections.watch, strict=True):
        _check_condition(entry, "when", watch.when, needs, sets)


def _check_condition(
    entry: Entry[Any], key: str, condition: Condition, needs: Needs, sets: Sequence[str]
) -> None:
    for used in condition.names:
        ways = [used, *(f"{one}.{used}" for one in sets if "." not in used)]
        groups = [next((g for g in needs.of(way) if not g.names & needs.asked), None) for way in ways]
        if None in groups:
            continue
        what = f"{lacking(used, groups[0])} never asked" if groups[0] else ""
        place = entry.place(key, offset=max(condition.text.find(used), 0))
        entry.problems.add(place, what, "ask it in some step, or this can never be told")


def check_told(checking: Checking) -> None:
    """Findings of the flow's own file that no step concludes or proves.

    A part may be shared by flows that conclude different findings; of its findings only those count that a
    step of this flow rules out or keeps a test for.
    """
    named = set(_named(checking.flow))
    for name in never_told(checking.flow):
        entry = checking.sections.entries["findings"][name]
        if name in named or checking.sections.is_own(entry):
            hint = "name it in a 'conclude' or a 'proved', or delete it"
            entry.wrong(f"finding '{name}' is never concluded", hint)


def never_told(flow: Flow) -> tuple[str, ...]:
    """Findings that no walk can end in."""
    steps = flow.steps.values()
    told = {name for step in steps for name in step.conclude}
    told |= {step.proved for step in steps if step.proved is not None}
    if any(step.conclude for step in steps):
        told.add(INCONCLUSIVE)
    return tuple(
        name for name, finding in flow.findings.items() if name not in told and finding.same_as not in told
    )


def _named(flow: Flow) -> Iterator[str]:
    for step in flow.steps.values():
        yield from step.for_
        for rule in step.next.rules if step.next else ():
            yield from (*rule.rule_out, *rule.hold_back)
