"""What is trunk and what is branch, and that every step is drawn once and every way told."""

from __future__ import annotations

import pytest

from engine.flow.draw.layout import laid_out, letters
from engine.flow.draw.plan import BRANCH, ON, REFERENCE, PartRow, Plan, StepRow, WayRow
from engine.flow.graph import step_edges
from engine.flow.model import RESUME, Flow
from tests.engine.flow.draw.made import flow, main_flow, step, trunk_and_branches
from tests.engine.flow.small import load


def order(plan: Plan) -> list[tuple[str, int]]:
    return [(row.step.id, row.depth) for row in plan.rows if isinstance(row, StepRow)]


def ways(plan: Plan) -> set[tuple[str, str, str]]:
    return {(row.way.source, row.way.target, row.kind) for row in plan.rows if isinstance(row, WayRow)}


def test_the_longest_way_is_the_trunk_whatever_rule_takes_it() -> None:
    made = flow(
        step("look", [("low", "long"), ("", "stop")]),
        step("stop", conclude=("weak",)),
        step("long", "longer"),
        step("longer", conclude=("weak",)),
    )
    plan = laid_out(made)
    assert order(plan) == [("look", 0), ("stop", 1), ("long", 0), ("longer", 0)]
    assert plan.trunk == {"look", "long", "longer"}
    assert ("look", "stop", BRANCH) in ways(plan)
    assert ("look", "long", ON) in ways(plan)


def test_a_step_that_two_ways_lead_to_is_drawn_once_and_pointed_to() -> None:
    made = flow(
        step("a", [("x", "side"), ("", "b")]),
        step("b", [("x", "side"), ("", "c")]),
        step("c", conclude=("weak",)),
        step("side", conclude=("weak",)),
    )
    plan = laid_out(made)
    assert order(plan) == [("a", 0), ("side", 1), ("b", 0), ("c", 0)]
    assert ("b", "side", REFERENCE) in ways(plan)


def test_a_loop_is_a_way_back_and_a_shortcut_is_not() -> None:
    made = flow(
        step("a", [("x", "c"), ("", "b")]),
        step("b", [("again", "a"), ("", "c")]),
        step("c", conclude=("weak",)),
    )
    plan = laid_out(made)
    assert plan.back == {("b", "a")}
    assert ("a", "c", REFERENCE) in ways(plan)


def test_a_side_chain_stays_one_run_though_each_of_its_steps_can_leave_it() -> None:
    """Each step of the chain may also go back to the long trunk; the chain is not a staircase for that."""
    made = flow(
        step("start", [("x", "s1"), ("", "t1")]),
        step("s1", [("x", "t8"), ("", "s2")]),
        step("s2", [("x", "t8"), ("", "s3")]),
        step("s3", "t8"),
        *(step(f"t{n}", f"t{n + 1}") for n in range(1, 9)),
        step("t9", conclude=("weak",)),
    )
    assert {depth for id, depth in order(laid_out(made)) if id.startswith("s") and id != "start"} == {1}


def test_numbers_go_up_down_the_page() -> None:
    plan = laid_out(main_flow())
    numbers = [row.number for row in plan.rows if isinstance(row, StepRow)]
    assert numbers == list(range(1, len(numbers) + 1))


@pytest.mark.parametrize(
    "made", [main_flow(), load(), trunk_and_branches(300)], ids=["main", "small", "large"]
)
def test_every_step_is_drawn_once_and_every_way_told_once(made: Flow) -> None:
    plan = laid_out(made)
    steps = [row.step.id for row in plan.rows if isinstance(row, StepRow)]
    assert sorted(steps) == sorted(made.steps)
    told = [
        (row.way.source, row.way.target)
        for row in plan.rows
        if isinstance(row, WayRow) and row.way.source in made.steps
    ]
    assert len(told) == len(set(told))
    assert set(told) == {(step.id, edge.target) for step in made.steps.values() for edge in step_edges(step)}


@pytest.mark.parametrize("made", [main_flow(), trunk_and_branches(300)], ids=["main", "large"])
def test_each_run_follows_ways_of_the_flow(made: Flow) -> None:
    """What stands below a step at the same depth, with nothing shallower between, is one of its targets."""
    last: dict[int, str] = {}
    for row in laid_out(made).rows:
        if isinstance(row, PartRow):
            last = {}
        elif isinstance(row, WayRow) and row.kind == BRANCH:
            last[row.depth + 1] = f"branch to {row.way.target}"
        elif isinstance(row, StepRow):
            before = last.get(row.depth, "")
            if before.startswith("branch to "):
                assert before == f"branch to {row.step.id}"
            elif before:
                assert row.step.id in {edge.target for edge in step_edges(made.steps[before])}
            last = {depth: id for depth, id in last.items() if depth < row.depth} | {row.depth: row.step.id}


def test_what_is_watched_and_what_is_never_reached_have_parts_of_their_own() -> None:
    made = flow(
        step("a", "b"),
        step("b", conclude=("weak",)),
        step("stop", "b"),
        step("lost", "lost-too"),
        step("lost-too", "b"),
        watch=[("high_side >= 400 psi", "stop")],
    )
    rows = laid_out(made).rows
    parts = [row.title for row in rows if isinstance(row, PartRow)]
    assert parts == ["At any time", "Never reached"]
    assert order(laid_out(made)) == [("a", 0), ("b", 0), ("stop", 1), ("lost", 0), ("lost-too", 0)]


def test_resume_is_a_way_to_no_step() -> None:
    assert ("cool", RESUME, REFERENCE) in ways(laid_out(load()))


def test_letters_go_on_after_z() -> None:
    assert [letters(place) for place in (0, 1, 25, 26, 51, 52, 701, 702)] == [
        "A", "B", "Z", "AA", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip


def test_ten_thousand_steps_in_one_row_or_each_in_the_branch_of_the_last() -> None:
    row = flow(*(step(f"s{n}", f"s{n + 1}") for n in range(10_000)), step("s10000", conclude=("weak",)))
    assert len(laid_out(row).trunk) == 10_001
    # Each step leads to a long way, which one of them takes, and to the next step: branches within branches.
    stairs = flow(
        *(step(f"s{n}", [("x", f"s{n + 1}"), ("", f"e{n}")]) for n in range(3_000)),
        *(step(f"e{n}", "end") for n in range(3_000)),
        step("s3000", "end"),
        step("end", conclude=("weak",)),
    )
    assert len(laid_out(stairs).numbers) == 6_002
