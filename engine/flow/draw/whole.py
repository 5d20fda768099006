"""A flow with the flows that it hands over to: one drawing shows them all."""

from __future__ import annotations

from engine.flow.model import Flow


def flows_of(flow: Flow) -> tuple[Flow, ...]:
    """The flow itself, then every flow a job begun with it may go on in, each once, in order of mention."""
    found = {flow.name: flow}
    waiting = [flow]
    for one in waiting:  # grows while it is gone through
        for name, other in one.hand_overs.items():
            if name not in found:
                found[name] = other
                waiting.append(other)
    return tuple(found.values())
