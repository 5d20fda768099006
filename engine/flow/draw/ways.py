"""The ways out of each step, those to one target taken together and told in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from engine.flow.draw.plan import Plan, Way
from engine.flow.draw.wording import Wording, short
from engine.flow.graph import AGAIN, OTHERWISE, RULE, SKIP, SPENT, UNKNOWN, WATCH, Edge, step_edges
from engine.flow.model import RESUME, Flow, Step, Watch

WATCHED = "(watch)"
"""Begins the source of a way that a watch rule takes; no step is called so."""

RESUMES = "↩ back to the step that was interrupted"

MOST_REASONS = 8
"""Reasons told of one way; of a way with more the drawing would show little else."""

_FEWEST = {UNKNOWN: "it cannot be told", OTHERWISE: "otherwise", SKIP: "it is not needed"}


def ways_out(flow: Flow) -> dict[str, tuple[Way, ...]]:
    """The ways that each step itself declares, in order, for every step of the flow."""
    wording = Wording(flow)
    return {
        id: (*_together(id, tuple(step_edges(step)), wording), *_handing_over(flow, step))
        for id, step in flow.steps.items()
    }


def watched_ways(flow: Flow) -> list[Way]:
    """The ways that watch rules take, in order; the second time of a rule is a way of its own."""
    wording = Wording(flow)
    return [way for watch in flow.watch for way in _of_watch(flow, watch, wording)]


def watch_source(flow: Flow, watch: Watch) -> str:
    """What the ways of a watch rule come from."""
    return f"{WATCHED}{flow.name}/{watch.name}"


def _handing_over(flow: Flow, step: Step) -> Iterable[Way]:
    """To where the other flow starts."""
    if step.hand_over is not None and step.hand_over in flow.hand_overs:
        yield Way(step.id, flow.hand_overs[step.hand_over].start, ())


def _of_watch(flow: Flow, watch: Watch, wording: Wording) -> Iterable[Way]:
    edges = [Edge(watch.go, WATCH, watch.when.text)]
    if watch.again is not None:
        edges.append(Edge(watch.again, AGAIN, watch.when.text))
    for edge in edges:
        yield Way(watch_source(flow, watch), edge.target, (_reason(edge, wording),))


def _together(source: str, edges: Sequence[Edge], wording: Wording) -> list[Way]:
    """One way a target; where all edges lead to the same, nothing decides and there is no reason to tell."""
    by_target: dict[str, list[Edge]] = {}
    for edge in edges:
        by_target.setdefault(edge.target, []).append(edge)
    if len(by_target) == 1:
        return [Way(source, edges[0].target, ())]
    return [Way(source, target, _reasons(found, wording)) for target, found in by_target.items()]


def _reasons(found: list[Edge], wording: Wording) -> tuple[str, ...]:
    """Each reason once, `otherwise` last."""
    ordered = sorted(found, key=lambda edge: edge.kind in (UNKNOWN, OTHERWISE))
    return tuple(dict.fromkeys(_reason(edge, wording) for edge in ordered))


def _reason(edge: Edge, wording: Wording) -> str:
    if edge.kind == RULE:
        return wording.condition(edge.label)
    if edge.kind in (WATCH, AGAIN):
        return wording.condition(edge.label) + (", once more" if edge.kind == AGAIN else "")
    return edge.label if edge.kind == SPENT else _FEWEST[edge.kind]


def said(reasons: tuple[str, ...]) -> str:
    """Reasons as one phrase, nothing for none; very many are only counted.

    >>> said(("the lid is shut", "it cannot be told", "otherwise"))
    'if the lid is shut, if it cannot be told, or otherwise'
    """
    more = len(reasons) - MOST_REASONS
    if more > 0:
        reasons = (*reasons[:MOST_REASONS], f"one of {more} more rules holds")
    phrases = [each if each == "otherwise" or each.startswith("after ") else f"if {each}" for each in reasons]
    return (
        phrases[0] if len(phrases) == 1 else f"{', '.join(phrases[:-1])}, or {phrases[-1]}" if phrases else ""
    )


def where_to(plan: Plan, way: Way) -> str:
    """Where a way leads that is drawn elsewhere: by number and title, and whether it goes back."""
    if way.target == RESUME:
        return RESUMES
    number = plan.numbers.get(way.target)
    if number is None:
        return f"→ {short(way.target)}"
    sign = "↺ back to" if (way.source, way.target) in plan.back else "→ on at"
    return f"{sign} {number} {short(plan.steps[way.target].title)}"
