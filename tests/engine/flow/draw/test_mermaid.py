"""Mermaid text: every node and way is there, and no label can break out of its quotes."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from engine.flow.draw.layout import laid_out
from engine.flow.draw.mermaid import escaped, mermaid_lines
from engine.flow.draw.overlay import Overlay
from engine.flow.graph import step_edges
from engine.flow.model import Flow
from tests.engine.flow.draw.made import flow, main_flow, step
from tests.engine.flow.small import load

# The part of the flowchart syntax that is written: nothing but these lines may come out.
_LABEL = r"\"[^\"\n]*\""
_NODE = rf"(n\d+|out\d+|watched)(\[{_LABEL}\]|\(\[{_LABEL}\]\)|\{{{_LABEL}\}})"
_LINE = re.compile(
    rf"flowchart TD|%% [^{{}}\n]*|  {_NODE}|  (n\d+|watched) (-->|-\.->)(\|{_LABEL}\|)? (n\d+|out\d+)"
    r"|  linkStyle \d+(,\d+)* [\w:#,-]+|  classDef \w+ [\w:#, -]+|  class n\d+(,n\d+)* \w+"
)

HOSTILE = (
    'a "b" <script>alert(1)</script> %%{init: {}}%% `c` | ]) }} --> n1;\n end # &quot; $$x$$ 1. - \x1b[31m'
)


@pytest.mark.parametrize("made", [main_flow(), load()], ids=["main", "small"])
def test_all_nodes_and_ways(made: Flow) -> None:
    lines = list(mermaid_lines(laid_out(made)))
    assert all(_LINE.fullmatch(line) for line in lines)
    nodes = [line for line in lines if re.match(r"  n\d+[\[({]", line)]
    assert len(nodes) == len(made.steps)
    ways = [line for line in lines if re.match(r"  n\d+ -->", line)]
    targets = {(step.id, edge.target) for step in made.steps.values() for edge in step_edges(step)}
    assert len(ways) == len(targets)


def test_hostile_labels_stay_labels() -> None:
    made = flow(step("a", [(HOSTILE, "b"), ("", "c")], title=HOSTILE), step("b"), step("c"), title=HOSTILE)
    lines = list(mermaid_lines(laid_out(made), Overlay(HOSTILE, {"a": 1}, {("a", "b"): 1}, vehicles=3)))
    assert [line for line in lines if not _LINE.fullmatch(line)] == []


@pytest.mark.parametrize("letter", list('"#&;<>`%{}[]|\\$*_~-.:!?=+@^/'))
def test_what_means_something_to_mermaid_is_an_entity(letter: str) -> None:
    assert escaped(f"a{letter}b") == f"a#{ord(letter)};b"


def test_a_job_and_a_trial_are_laid_over_it() -> None:
    made = flow(step("a", [("x", "b"), ("", "c")]), step("b"), step("c"))
    path = list(mermaid_lines(laid_out(made), Overlay("", {"a": 1, "c": 1}, {("a", "c"): 1}, here="c")))
    assert "  class n1 passed" in path
    assert "  class n3 here" in path
    assert "  linkStyle 1 stroke:#0a6b5d,stroke-width:4px" in path
    traffic = list(mermaid_lines(laid_out(made), Overlay("", {"a": 7, "c": 7}, {("a", "c"): 7}, vehicles=7)))
    assert any("(7)" in line for line in traffic if line.endswith(" n3"))
    assert "  class n2 never" in traffic


def test_a_target_outside_the_flow_is_a_node_of_its_own() -> None:
    made = flow(step("a", "nowhere"), step("b", "nowhere"))
    lines = list(mermaid_lines(laid_out(replace(made, start="a"))))
    assert lines.count('  out1(["nowhere"])') == 1
    assert "  n1 --> out1" in lines
    assert "  n2 --> out1" in lines
