"""The shipped flows: they load without a problem, and what they promise along their paths holds."""

from __future__ import annotations

import pytest

from engine.flow.check.weighed import never_told
from engine.flow.graph import AGAIN, WATCH, edges, reachable
from engine.flow.library import MAIN_FLOW, Source, find, shipped
from engine.flow.load import lint_problems, load_flow
from engine.flow.model import RESUME, Flow

SOURCES = shipped()


@pytest.fixture(scope="module", params=SOURCES, ids=[source.name for source in SOURCES])
def source(request: pytest.FixtureRequest) -> Source:
    found: Source = request.param
    return found


@pytest.fixture(scope="module")
def flow(source: Source) -> Flow:
    return load_flow(source)


def test_no_problems(source: Source) -> None:
    assert [str(problem) for problem in lint_problems(source.path)] == []


def test_every_shared_finding_can_be_told_by_the_main_flow() -> None:
    """The other flows conclude some of them; those of their own are held to it by loading."""
    assert never_told(load_flow(find(MAIN_FLOW))) == ()


def test_a_finding_is_reachable_from_every_step_before_the_conclusion(flow: Flow) -> None:
    graph = edges(flow)
    concluding = {name for name, step in flow.steps.items() if step.concludes}
    closing = reachable(graph, [edge.target for name in concluding for edge in graph[name]])
    concluding |= {name for name, step in flow.steps.items() if step.hand_over}  # that flow is held to it too
    for name in flow.steps.keys() - closing:
        way = reachable(graph, [name], lambda at, edge: edge.kind not in (WATCH, AGAIN))
        assert way & concluding or RESUME in way, f"no finding from {name}"


def test_no_exposed_step_is_without_its_cautions(flow: Flow) -> None:
    for step in flow.steps.values():
        for exposure in step.exposure:
            belonging = {c.id for c in flow.cautions.values() if c.exposure == exposure}
            assert belonging, f"{step.id}: nothing warns of {exposure}"
            assert belonging <= set(step.cautions), step.id


def test_cautions_stand_gravest_first(flow: Flow) -> None:
    order = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    for step in flow.steps.values():
        ranks = [order.index(flow.cautions[name].signal) for name in step.cautions]
        assert ranks == sorted(ranks), step.id


SAFETY_AND_IDENTITY = {
    "drive",
    "refrigerant",
    "refrigerant_purity",
    "contamination",
    "soaked",
    "stroke_control",
    "shaft_turns_by_hand",
    "hub_turns",
    "compressor_noise",
}


def test_steps_of_safety_and_identity_are_never_skipped(flow: Flow) -> None:
    for step in flow.steps.values():
        if step.for_:
            assert not SAFETY_AND_IDENTITY.intersection(step.ask), step.id
