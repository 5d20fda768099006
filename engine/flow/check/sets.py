"""Sets that mean nothing: never taken, or taken under load before anything has settled."""

from __future__ import annotations

from engine.flow.check.checking import Checking

AT_REST = "rest"


def check_sets(checking: Checking) -> None:
    """A set of the flow's own file must be recorded, and one under load begun by a step with `settle`."""
    steps = checking.flow.steps.values()
    taken = {step.set for step in steps if step.record}
    timed = {step.set for step in steps if step.settle}
    for name, state in checking.flow.sets.items():
        entry = checking.sections.entries["sets"][name]
        if name not in taken:
            if checking.sections.is_own(entry):
                entry.wrong(
                    f"no step records into set '{name}'", f"add a step with 'set: {name}', or delete it"
                )
        elif state.load != AT_REST and name not in timed:
            hint = "add 'settle: 3 min' to the step that begins it"
            entry.wrong(f"set '{name}' is under load, but no step lets it settle", hint)
