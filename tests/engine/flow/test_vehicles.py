"""`vehicles:` in the head of a flow: which compressors it is for."""

from __future__ import annotations

from tests.engine.flow.small import FLOW, load, only_problem


def test_without_it_a_flow_is_for_a_stroke_solenoid() -> None:
    assert load(FLOW).vehicles == "solenoid"


def test_it_is_read() -> None:
    assert load(FLOW.replace("\nstart:", "\nvehicles: fixed\nstart:", 1)).vehicles == "fixed"


def test_another_word_is_refused_with_those_there_are() -> None:
    problem = only_problem(FLOW.replace("\nstart:", "\nvehicles: electric\nstart:", 1))
    assert "solenoid, internal or fixed" in problem.what
