"""A flow as a graph: which step can lead to which, and by what."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from engine.flow.model import RESUME, Flow, Step

RULE, UNKNOWN, OTHERWISE = "rule", "unknown", "otherwise"
SKIP = "skip"  # `for`: not needed any more
SPENT = "spent"  # `at_most` reached
WATCH, AGAIN = "watch", "again"  # a watch rule, the first time and later


@dataclass(frozen=True, slots=True)
class Edge:
    """One way out of a step. `target` is a step or RESUME; `label` says in words what takes it."""

    target: str
    kind: str
    label: str = ""


Edges = Mapping[str, tuple[Edge, ...]]


def edges(flow: Flow) -> Edges:
    """Every way out of every step, watch rules included: they can interrupt any step that records."""
    watch = tuple(_watch_edges(flow))
    return {id: (*step_edges(step), *(watch if step.record else ())) for id, step in flow.steps.items()}


def step_edges(step: Step) -> Iterator[Edge]:
    """The ways out that the step itself declares."""
    if step.skip_to is not None:
        yield Edge(step.skip_to, SKIP, "not needed")
    if step.then is not None:
        yield Edge(step.then, SPENT, f"after {step.at_most} times")
    if step.resume:
        yield Edge(RESUME, OTHERWISE)
    if step.next is None:
        return
    for rule in step.next.rules:
        if rule.go is not None:
            yield Edge(rule.go, RULE, rule.when.text)
    if step.next.unknown is not None:
        yield Edge(step.next.unknown, UNKNOWN, "unknown")
    if step.next.otherwise is not None:
        yield Edge(step.next.otherwise, OTHERWISE, "otherwise" if step.next.rules else "")


def _watch_edges(flow: Flow) -> Iterator[Edge]:
    for watch in flow.watch:
        yield Edge(watch.go, WATCH, watch.when.text)
        if watch.again is not None:
            yield Edge(watch.again, AGAIN, f"again: {watch.when.text}")


def reachable(
    edges: Edges, starts: Iterable[str], take: Callable[[str, Edge], bool] = lambda step, edge: True
) -> set[str]:
    """Steps that can be come to from `starts` (themselves included) by the edges that `take` allows.

    RESUME is among them where some step resumes; it leads nowhere by itself.
    """
    found = set(starts)
    waiting = list(found)
    while waiting:
        step = waiting.pop()
        for edge in edges.get(step, ()):
            if edge.target not in found and take(step, edge):
                found.add(edge.target)
                waiting.append(edge.target)
    return found


def path(
    edges: Edges,
    start: str,
    goal: str,
    take: Callable[[str, Edge], bool] = lambda step, edge: True,
) -> list[str]:
    """Steps of a shortest way from `start` to `goal` by the edges that `take` allows; empty if there is none.

    A way from a step to itself takes at least one edge.
    """
    before: dict[str, str] = {}
    ring = [start]
    while ring and goal not in before:
        further = []
        for step in ring:
            for edge in edges.get(step, ()):
                if edge.target not in before and take(step, edge):
                    before[edge.target] = step
                    further.append(edge.target)
        ring = further
    if goal not in before:
        return [start] if start == goal else []
    way = [goal, before[goal]]
    while way[-1] != start:
        way.append(before[way[-1]])
    return way[::-1]
