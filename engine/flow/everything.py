"""A flow with every step asked, also those that no finding still in question needs."""

from __future__ import annotations

from dataclasses import replace

from engine.flow.model import Flow


def asking_everything(flow: Flow) -> Flow:
    """The flow, and those it hands over to, without `for:`: no step is left out because its findings are no
    longer in question."""
    steps = {name: replace(step, for_=(), skip_to=None) for name, step in flow.steps.items()}
    targets = {name: asking_everything(target) for name, target in flow.hand_overs.items()}
    return replace(flow, steps=steps, hand_overs=targets)
