"""The end of a walk: it comes with a finding, and after it only doing remains."""

from __future__ import annotations

from engine.flow.check.checking import Checking
from engine.flow.graph import reachable


def check_ends(checking: Checking) -> None:
    """A step with `end: true` that can be come to before anything was concluded."""
    steps = checking.flow.steps
    before = reachable(checking.edges, [checking.flow.start], lambda step, edge: not steps[step].concludes)
    for name in steps:
        if name in before and steps[name].end:
            hint = "lead to a step with 'conclude' or 'proved' before"
            checking.entry(name).wrong(
                f"the walk can end at '{name}' without a finding", hint, "end", key=True
            )


def check_closing(checking: Checking) -> None:
    """Steps after a conclusion only say what to do: nothing asked then could change the finding."""
    steps = checking.flow.steps
    origin: dict[str, str] = {}
    for name, step in steps.items():
        if step.concludes:
            targets = {edge.target for edge in checking.edges[name]}
            for after in reachable(checking.edges, targets, lambda at, _: at not in origin):
                origin.setdefault(after, name)
    for name, conclusion in origin.items():
        if name in steps:
            _check_closing_step(checking, name, conclusion)
        else:
            checking.entry(conclusion).wrong(f"after '{conclusion}' a step resumes", "end with 'end: true'")


def _check_closing_step(checking: Checking, name: str, conclusion: str) -> None:
    step, entry = checking.flow.steps[name], checking.entry(name)
    if step.hand_over is not None:
        hint = "hand over before the conclusion"
        what = f"step '{name}' hands over after '{conclusion}' has concluded"
        entry.wrong(what, hint, "hand_over", key=True)
    for key in ("ask", "record"):
        if getattr(step, key):
            hint = "ask before the conclusion"
            entry.wrong(f"step '{name}' asks after '{conclusion}' has concluded", hint, key, key=True)
    if step.concludes:
        key = "proved" if step.proved else "conclude"
        hint = "a walk concludes once"
        entry.wrong(f"step '{name}' concludes after '{conclusion}' has concluded", hint, key, key=True)
