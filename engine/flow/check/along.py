"""What holds on the way through a flow, as bits carried along its edges until nothing changes any more.

Steps are taken in an order in which all that leads to a step comes before it, as far as there is one: without
loops each step is then looked at once, and a flow of thousands of steps takes time in proportion.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from heapq import heappop, heappush

from engine.flow.graph import Edges
from engine.flow.model import RESUME

Onward = Callable[[str, int], Iterable[tuple[str, int]]]
"""From a step and the bits that hold on entering it: where they go on to, and as what."""


def carry(edges: Edges, start: str, onward: Onward, merge: Callable[[int, int], int]) -> dict[str, int]:
    """Bits on entering each step that can be come to, none at the start.

    `merge` joins what two ways bring: `and` for what surely holds, `or` for what may. What `onward` sends to
    RESUME is sent on from there last of all.
    """
    order = _order(edges, start)
    entering = {start: 0}
    waiting, queued = [(order[start], start)], {start}
    while waiting:
        step = heappop(waiting)[1]
        queued.discard(step)
        for target, bits in onward(step, entering[step]):
            merged = merge(entering[target], bits) if target in entering else bits
            if target not in entering or merged != entering[target]:
                entering[target] = merged
                if target not in queued:
                    queued.add(target)
                    heappush(waiting, (order[target], target))
    return entering


def _order(edges: Edges, start: str) -> dict[str, int]:
    """Steps numbered so that an edge leads to a higher number, those that close a loop apart."""
    left: list[str] = []
    seen = {start}
    work = [(start, iter(edges.get(start, ())))]
    while work:
        step, ways = work[-1]
        for edge in ways:
            if edge.target not in seen:
                seen.add(edge.target)
                work.append((edge.target, iter(edges.get(edge.target, ()))))
                break
        else:
            work.pop()
            left.append(step)
    order = {step: number for number, step in enumerate(reversed(left))}
    return {**order, RESUME: len(order)}
