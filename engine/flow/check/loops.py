"""Loops with no way out: a walk must end whatever is answered."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice, pairwise

from engine.flow.check.checking import MOST_TOLD, Checking, way_words
from engine.flow.graph import AGAIN, SPENT, WATCH, Edge, Edges, path
from engine.flow.model import RESUME


def check_loops(checking: Checking) -> None:
    """Reports every loop that goes on for ever.

    In the long run a step with `at_most` only leads to its `then`, and a watch rule only to its `again`; what
    is left of the graph then may have no loop.
    """
    lasting = _lasting(checking)
    for ring in islice(rings(lasting), MOST_TOLD):
        within = {step: tuple(e for e in lasting[step] if e.target in ring) for step in ring}
        first = next(step for step in checking.edges if step in ring)
        way = path(within, first, first)
        by_watch = any(
            edge.kind == AGAIN for step, to in pairwise(way) for edge in within[step] if edge.target == to
        )
        hint = "lead 'again' to a step that stops" if by_watch else "give one of them 'at_most' and 'then'"
        checking.entry(first).wrong(f"no way out of the loop {way_words(way)}", hint)


def _lasting(checking: Checking) -> Edges:
    return {
        step: tuple(edge for edge in edges if _lasts(edge, checking.flow.steps[step].at_most is not None))
        for step, edges in checking.edges.items()
    }


def _lasts(edge: Edge, limited: bool) -> bool:
    if edge.kind == WATCH or edge.target == RESUME:
        return False
    return edge.kind in (SPENT, AGAIN) or not limited


def rings(edges: Edges) -> Iterator[frozenset[str]]:
    """Groups of steps that each lead to all others of the group (strongly connected), or one to itself.

    Tarjan's algorithm (SIAM J. Comput. 1 (1972) 146), with a stack of its own instead of recursion.
    """
    number: dict[str, int] = {}
    lowest: dict[str, int] = {}
    pending: list[str] = []
    is_pending: set[str] = set()
    for root in edges:
        if root in number:
            continue
        work = [(root, iter(edges[root]))]
        number[root] = lowest[root] = len(number)
        pending.append(root)
        is_pending.add(root)
        while work:
            step, ways = work[-1]
            for edge in ways:
                target = edge.target
                if target not in number:
                    number[target] = lowest[target] = len(number)
                    pending.append(target)
                    is_pending.add(target)
                    work.append((target, iter(edges[target])))
                    break
                if target in is_pending:
                    lowest[step] = min(lowest[step], number[target])
            else:
                work.pop()
                if work:
                    lowest[work[-1][0]] = min(lowest[work[-1][0]], lowest[step])
                if lowest[step] == number[step]:
                    yield from _closed(step, pending, is_pending, edges)


def _closed(step: str, pending: list[str], is_pending: set[str], edges: Edges) -> Iterator[frozenset[str]]:
    group = [pending.pop()]
    while group[-1] != step:
        group.append(pending.pop())
    is_pending.difference_update(group)
    if len(group) > 1 or any(edge.target == step for edge in edges[step]):
        yield frozenset(group)
