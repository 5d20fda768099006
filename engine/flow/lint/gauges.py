"""Gauges that go on and, on some way, never come off again."""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Callable, Container, Iterator

from engine.flow.check.checking import way_words
from engine.flow.graph import Edge, Edges
from engine.flow.lint.prose import forbids, sentences
from engine.flow.lint.rule import Found, Linting, Rule
from engine.flow.model import RESUME, Flow, Step
from engine.physics.quantity import Kind

_GEAR = r"\b(?<!exhaust )(?:gauges?|manifold|hoses?|couplers?)\b"
_NEAR, _FAR = r"[^.;,]{0,200}", r"[^.;]{0,200}"  # within a clause, within a sentence
_ANY_GEAR = re.compile(_GEAR, re.IGNORECASE)
_ON = re.compile(
    rf"\b(connect|attach|couple|fit|hook up|screw on|put on)(s|ed|ing|ting)?\b{_NEAR}{_GEAR}"
    rf"|\b(put|screw|hook)\b{_NEAR}{_GEAR}{_NEAR} (on|up)\b"
    rf"|{_GEAR}{_FAR}\b(connect|attach|couple|fit) (them|it|both)\b",
    re.IGNORECASE,
)
_OFF = re.compile(
    rf"\b(disconnect|unhook|uncouple|unscrew|remove|detach)(s|ed|ing|d)?\b{_NEAR}{_GEAR}"
    rf"|\btak(e|es|ing)\b{_NEAR}{_GEAR}{_NEAR}\boff\b|\btak(e|es|ing) off\b{_NEAR}{_GEAR}"
    rf"|{_GEAR}{_FAR}\b(take (them|it|both) off|remove (them|it|both))\b",
    re.IGNORECASE,
)


def connects(step: Step) -> bool:
    """What the step tells to do puts gauges on."""
    return any(_ON.search(text) and not _OFF.search(text) and not forbids(text) for text in _told(step))


def disconnects(step: Step) -> bool:
    """What the step tells to do takes gauges off."""
    return any(_OFF.search(text) and not forbids(text) for text in _told(step))


def reads_gauge(flow: Flow, step: Step) -> bool:
    """The step records a pressure that its reading calls a gauge's."""
    for name in step.record:
        reading = flow.readings[name]
        if (
            reading.kind is Kind.PRESSURE
            and "gauge" in f"{reading.name} {reading.label} {reading.how}".lower()
        ):
            return True
    return False


def _told(step: Step) -> Iterator[str]:
    """Sentences of texts that speak of gauges at all."""
    spoken = (text for text in (step.title, step.do) if _ANY_GEAR.search(text))
    return (sentence for text in spoken for sentence in sentences(text))


def _left_on(linting: Linting) -> Iterator[Found]:
    flow, edges = linting.flow, linting.edges
    off = {name for name, step in flow.steps.items() if disconnects(step)}
    ends = [name for name, step in flow.steps.items() if not edges[name] and step.hand_over is None]

    def stays_on(step: str, edge: Edge) -> bool:
        return step not in off and edge.target != RESUME

    putting = [name for name, step in flow.steps.items() if connects(step)]
    reading = [name for name, step in flow.steps.items() if reads_gauge(flow, step)]
    before = _ways(edges, [name for name in putting if name not in off], stays_on)
    before |= _ways(
        edges, [name for name in reading if name not in off and name not in before], stays_on, before
    )
    for end in ends:
        if end in before and end not in off:
            way = _way(before, end)
            what = f"gauges connected in step '{way[0]}' are still on where the walk ends: {way_words(way)}"
            place = linting.entry("steps", end).place(key=True)
            yield Found(place, what, "lead to a step that takes them off", (end, way[0]))


def _ways(
    edges: Edges,
    starts: list[str],
    take: Callable[[str, Edge], bool],
    known: Container[str] = (),
) -> dict[str, str | None]:
    """The step before each that can be come to from one of `starts`, but not through those `known`."""
    before: dict[str, str | None] = dict.fromkeys(starts)
    waiting = deque(starts)
    while waiting:
        step = waiting.popleft()
        for edge in edges[step]:
            if edge.target not in before and edge.target not in known and take(step, edge):
                before[edge.target] = step
                waiting.append(edge.target)
    return before


def _way(before: dict[str, str | None], end: str) -> list[str]:
    way = [end]
    while (step := before[way[-1]]) is not None:
        way.append(step)
    return way[::-1]


GAUGES_LEFT = Rule(
    "gauges-left-on",
    "Gauges that stay on leak, and who takes them off without being told how meets a line under pressure.",
    "After every conclusion lead to a step whose 'do' tells to take the gauges off.",
    _left_on,
)
