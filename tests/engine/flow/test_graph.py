"""The flow as a graph, as drawings and walks of every edge will use it."""

from __future__ import annotations

from engine.flow.check.loops import rings
from engine.flow.graph import (
    AGAIN,
    OTHERWISE,
    RULE,
    SKIP,
    SPENT,
    UNKNOWN,
    WATCH,
    Edge,
    edges,
    path,
    reachable,
)
from engine.flow.model import RESUME
from tests.engine.flow.small import load


def graph(**ways: str) -> dict[str, tuple[Edge, ...]]:
    return {step: tuple(Edge(target, RULE) for target in targets.split()) for step, targets in ways.items()}


def test_every_way_out_of_a_step() -> None:
    ways = edges(load())
    assert [(edge.target, edge.kind) for edge in ways["more-load"]] == [
        ("judge", SPENT),
        ("more-load", RULE),
        ("speed", UNKNOWN),
        ("speed", OTHERWISE),
        ("cool", WATCH),
        ("stop", AGAIN),
    ]
    assert [(edge.target, edge.kind) for edge in ways["speed"]] == [("judge", SKIP), ("judge", OTHERWISE)]
    assert [(edge.target, edge.kind) for edge in ways["cool"]] == [(RESUME, OTHERWISE)]
    assert ways["caps"] == ()


def test_labels_say_what_takes_an_edge() -> None:
    labels = {(edge.kind, edge.label) for edge in edges(load())["more-load"]}
    assert (RULE, "ambient_temperature < 18 degC and not known loaded.duty") in labels
    assert (SPENT, "after 2 times") in labels
    assert (WATCH, "high_side >= high_side_limit") in labels


def test_reachable() -> None:
    ways = graph(a="b c", b="d", c="", d="b", e="a")
    assert reachable(ways, ["a"]) == {"a", "b", "c", "d"}
    assert reachable(ways, ["a"], lambda step, edge: step != "b") == {"a", "b", "c"}
    assert reachable(ways, []) == set()


def test_a_shortest_path() -> None:
    ways = graph(a="b c", b="d", c="e", d="e", e="a")
    assert path(ways, "a", "e") == ["a", "c", "e"]
    assert path(ways, "a", "e", lambda step, edge: step != "c") == ["a", "b", "d", "e"]
    assert path(ways, "e", "e") == ["e", "a", "c", "e"]
    assert path(ways, "a", "x") == []


def test_rings_are_found_without_recursion() -> None:
    assert set(rings(graph(a="b", b="c", c="a d", d="e", e="d", f="f", g=""))) == {
        frozenset("abc"),
        frozenset("de"),
        frozenset("f"),
    }
    long = {f"s{n}": (Edge(f"s{(n + 1) % 50_000}", RULE),) for n in range(50_000)}
    (ring,) = rings(long)
    assert len(ring) == 50_000
