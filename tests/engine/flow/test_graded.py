"""Graded signs: a reading weighed by its size."""

from __future__ import annotations

import pytest

from engine.flow.model import Flow, Sign
from tests.engine.flow.small import FLOW, load, only_problem

_AT = "  rise:\n    reads: loaded.high_side - baseline.high_side\n    at: [8 psi, 1 bar, 30 psi]\n"
_SAYS = "    says: the rise of the high side\n"


def _with(body: str) -> str:
    return FLOW.replace("\nsigns:\n", f"\nsigns:\n{body}", 1)


def _steps(flow: Flow) -> list[Sign]:
    return [sign for sign in flow.signs.values() if sign.graded == "rise"]


def _heard(steps: list[Sign], high_pa: float) -> list[bool | None]:
    facts = {"baseline.high_side": 1.0e6, "loaded.high_side": 1.0e6 + high_pa}
    return [sign.when.evaluate(facts) for sign in steps]


def test_its_steps_are_signs_that_exclude_each_other() -> None:
    steps = _steps(load(_with(_AT + _SAYS + "    weighs: {fine: [0.2, 1, 2, 5], weak: falls}\n")))
    assert [sign.name for sign in steps] == ["rise.1", "rise.2", "rise.3", "rise.4"]
    assert {sign.written_as for sign in steps} == {"rise"}
    assert _heard(steps, 50e3) == [True, False, False, False]  # 7.3 psi
    assert _heard(steps, 100e3) == [False, False, True, False]  # 1 bar belongs to the step above it
    assert _heard(steps, 500e3) == [False, False, False, True]
    assert steps[0].when.evaluate({"loaded.high_side": 1.0e6}) is None


def test_odds_by_step_and_as_a_ramp() -> None:
    steps = _steps(load(_with(_AT + _SAYS + "    weighs: {fine: [0.2, 1, 2, 5], weak: falls}\n")))
    assert [sign.weighs["fine"] for sign in steps] == [(0.2, 1.0), (1.0, 1.0), (2.0, 1.0), (5.0, 1.0)]
    # from fair for it to fair against it, evenly by factor: 5, 5^(1/3), 5^(-1/3), 1/5
    assert [sign.weighs["weak"][0] for sign in steps] == pytest.approx(
        [5.0, 5 ** (1 / 3), 5 ** (-1 / 3), 0.2]
    )


def test_odds_beside_are_written_in_the_same_way() -> None:
    column = "    beside: {weak: [3, 1, 1, 0.5], stuck: rises}\n"
    steps = _steps(load(_with(_AT + _SAYS + "    weighs: {fine: rises}\n" + column)))
    assert {step.directed for step in steps} == {frozenset({"fine"})}, (
        "in weighs; beside has no direction to keep"
    )
    assert [sign.beside["weak"] for sign in steps] == [(3.0, 1.0), (1.0, 1.0), (1.0, 1.0), (0.5, 1.0)]
    assert [sign.beside["stuck"][0] for sign in steps] == pytest.approx(
        [0.2, 5 ** (-1 / 3), 5 ** (1 / 3), 5.0]
    )


def test_each_step_says_its_range() -> None:
    steps = _steps(load(_with(_AT + _SAYS + "    weighs: {fine: rises}\n")))
    assert [sign.says for sign in steps] == [
        "the rise of the high side is under 8 psi",
        "the rise of the high side is from 8 psi to 1 bar",
        "the rise of the high side is from 1 bar to 30 psi",
        "the rise of the high side is 30 psi or more",
    ]


@pytest.mark.parametrize(
    ("body", "what", "hint"),
    [
        (
            "  rise:\n    reads: loaded.high_side\n    when: duty > 1 percent\n    at: [8 psi]\n"
            + _SAYS
            + "    weighs: {fine: rises}\n",
            "sign 'rise' needs one of 'when' and 'reads'",
            "write the condition under 'when', or a reading under 'reads' and values under 'at'",
        ),
        (
            "  rise:\n    reads: loaded.high_side\n" + _SAYS + "    weighs: {fine: rises}\n",
            "'reads' needs 1 to 12 values, here are 0",
            "write under 'at' the values that part its range",
        ),
        (
            "  rise:\n    reads: loaded.high_side\n    at: [30 psi, 1 bar]\n"
            + _SAYS
            + "    weighs: {fine: rises}\n",
            "'1 bar' is not above '30 psi'",
            "write the values in rising order",
        ),
        (
            "  rise:\n    reads: loaded.high_side\n    at: [30 psi]\n"
            + _SAYS
            + "    weighs: {fine: [1, 2, 3]}\n",
            "3 odds for 'fine'",
            "write 2, one for each step that 'at' makes",
        ),
        (
            "  rise:\n    reads: loaded.high_side\n    at: [30 psi]\n"
            + _SAYS
            + "    weighs: {fine: strong}\n",
            "'strong' for 'fine'",
            "write 2 odds in a list, or rises, or falls",
        ),
        (
            "  rise:\n    reads: loaded.duty\n    at: [30 psi]\n" + _SAYS + "    weighs: {fine: rises}\n",
            "'30 psi': that is a gauge pressure; this asks for a percentage",
            "",
        ),
    ],
)
def test_what_is_wrong_is_said(body: str, what: str, hint: str) -> None:
    found = only_problem(_with(body))
    assert what in found.what
    assert hint in found.hint
