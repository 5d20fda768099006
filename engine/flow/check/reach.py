"""Steps that no walk comes to."""

from __future__ import annotations

from engine.flow.check.checking import MOST_TOLD, Checking
from engine.flow.graph import reachable


def check_reach(checking: Checking) -> None:
    """Reports the first step of every part of the flow that is cut off, not each one behind it."""
    edges = checking.edges
    lost = set(edges) - reachable(edges, [checking.flow.start])
    for _ in range(MOST_TOLD):
        if not lost:
            return
        led_to = {edge.target for step in lost for edge in edges[step] if edge.target != step}
        first = next((step for step in edges if step in lost and step not in led_to), None)
        first = first or next(step for step in edges if step in lost)  # a ring, each leads to the other
        behind = reachable(edges, [first]) & lost
        also = f", nor what only it leads to ({len(behind) - 1} more)" if len(behind) > 1 else ""
        checking.entry(first).wrong(f"step '{first}' is never reached{also}", "lead to it, or delete it")
        lost -= behind
