"""Watch rules: what they interrupt, and that nothing they lead to goes unwatched or round in circles."""

from __future__ import annotations

from engine.flow.check.checking import Checking
from engine.flow.graph import AGAIN, WATCH, Edge, Edges, reachable
from engine.flow.model import RESUME, Watch


def check_watch(checking: Checking) -> None:
    """Each watch rule by itself."""
    records = any(step.record for step in checking.flow.steps.values())
    for watch, entry in zip(checking.flow.watch, checking.sections.watch, strict=True):
        if not records:
            entry.wrong(f"watch rule '{watch.name}' never comes true", "no step records into a set", "name")
        _check_again(checking, watch)


def _check_again(checking: Checking, watch: Watch) -> None:
    entry = next(e for e in checking.sections.watch if e.part.name == watch.name)
    after = reachable(checking.edges, [watch.go], _own_way)
    returns = RESUME in after or any(checking.flow.steps[step].record for step in after - {RESUME})
    if returns and watch.again is None:
        hint = "add 'again: STEP' for the second time it comes true"
        entry.wrong(f"after watch rule '{watch.name}' the walk goes on unwatched", hint, "go", key=True)
    if watch.again is not None and RESUME in reachable(checking.edges, [watch.again], _own_way):
        hint = "lead it to a step that stops"
        entry.wrong(f"'again' of watch rule '{watch.name}' resumes, so it comes back for ever", hint, "again")


def check_resume(checking: Checking) -> None:
    """`resume` where nothing was interrupted, and sets taken on the way back to an interrupted one."""
    plain = reachable(checking.edges, [checking.flow.start], _own_way)
    interrupts = [target for w in checking.flow.watch for target in (w.go, w.again) if target]
    for name in checking.flow.steps:
        resumes = any(edge.target == RESUME for edge in checking.edges[name])
        if name in plain and resumes:
            hint = "name the step to go to"
            checking.entry(name).wrong(f"'{name}' resumes, but nothing was interrupted there", hint, "next")
    back = reachable(_reversed(checking), [RESUME])
    for name in sorted(reachable(checking.edges, interrupts, _own_way) - plain - {RESUME}):
        if checking.flow.steps[name].record and name in back:
            hint = "use 'ask': a watch rule could interrupt it in turn"
            what = f"step '{name}' records into a set before it resumes another one"
            checking.entry(name).wrong(what, hint, "record", key=True)


def _reversed(checking: Checking) -> Edges:
    """The ways that steps themselves declare, turned round."""
    found: dict[str, tuple[Edge, ...]] = {}
    for step, edges in checking.edges.items():
        for edge in edges:
            if _own_way(step, edge):
                found[edge.target] = (*found.get(edge.target, ()), Edge(step, edge.kind))
    return found


def _own_way(step: str, edge: Edge) -> bool:
    return edge.kind not in (WATCH, AGAIN)
