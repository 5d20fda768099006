"""Which findings a flow can come to: a trial draws only faults that go with one of them."""

from __future__ import annotations

from collections.abc import Iterator

from engine.flow.model import Flow, Step
from engine.job.weigh import base_of


def concludable(flow: Flow) -> frozenset[str]:
    """Findings that a step proves, or ranks with something to rank them by, here or in a flow handed over to.

    A candidate that no sign speaks for is in the list to be told apart from the others and cannot come out of
    it, unless it is the only one. What is weighed as another counts as that. A step that only ranks names
    nothing.
    """
    return concluded_here(flow).union(*(concludable(other) for other in flow.hand_overs.values()))


def concluded_here(flow: Flow) -> frozenset[str]:
    """Those of its own steps alone."""
    return frozenset(name for step in flow.steps.values() for name in _of_step(flow, step))


def _of_step(flow: Flow, step: Step) -> Iterator[str]:
    if step.proved is not None:
        yield base_of(flow, step.proved)
    if not step.ranks_only:
        alone = len(step.conclude) == 1
        yield from (name for name in step.conclude if alone or _spoken_for(flow, name))


def _spoken_for(flow: Flow, finding: str) -> bool:
    return any(max(sign.weighs[finding]) > 1.0 for sign in flow.signs.values() if finding in sign.weighs)
