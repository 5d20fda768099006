"""What a flow takes of its parts: what it cannot use is left out of the part, and told in its own file."""

from __future__ import annotations

import pytest

from engine.flow.model import Flow
from tests.engine.flow.small import changed
from tests.engine.flow.with_parts import MAIN, SHARED, load, told


@pytest.fixture(scope="module")
def flow() -> Flow:
    return load()


def test_signs_of_parts_that_could_never_speak_are_left_out(flow: Flow) -> None:
    # side: no such set is taken; dry: low_side is never asked; else: its finding is not there
    assert list(flow.signs) == ["heat", "own"]


def test_a_part_weighs_the_findings_that_the_flow_has(flow: Flow) -> None:
    assert flow.signs["heat"].weighs == {"bad": (5.0, 1.0)}
    assert flow.findings["fine"].rivals == {}
    assert flow.steps["done"].conclude == ("fine", "bad")


def test_ways_of_telling_that_can_never_be_told_are_left_out(flow: Flow) -> None:
    assert list(flow.findings) == ["fine", "bad", "warm", "inconclusive"]


def test_sets_that_no_step_takes_are_left_out_and_not_looked_into(flow: Flow) -> None:
    assert flow.sets == {}


def test_a_reading_nobody_asks_is_not_looked_into(flow: Flow) -> None:
    assert flow.readings["low_side"].ask_if is None


def test_findings_that_the_flow_lacks_are_not_ruled_out_and_keep_no_test(flow: Flow) -> None:
    look = flow.steps["look"]
    assert look.next is not None
    assert [rule.rule_out for rule in look.next.rules] == [("bad",)]
    assert look.for_ == ("bad",)


@pytest.mark.parametrize(
    ("new", "expected"),
    [
        ("when: loaded.low_side > 20 psi", "unknown set 'loaded', "),
        (
            "when: low_side > 20 psi",
            "'low_side' is used, but never asked, ask it in some step, or this can never be told",
        ),
    ],
)
def test_the_same_in_the_flow_itself_is_told(new: str, expected: str) -> None:
    main = changed(("when: tired is yes", new), text=MAIN)
    assert told(main) == [f"small.yaml:17: {expected}"]


def test_a_finding_misspelt_in_the_flow_is_told() -> None:
    main = changed(("weighs: {fine: 0.5}", "weighs: {fin: 0.5}"), text=MAIN)
    assert told(main) == ["small.yaml:17: unknown finding 'fin', did you mean 'fine'?"]


def test_a_sign_of_a_part_that_cannot_be_read_is_told() -> None:
    shared = changed(("when: hot is yes, says", "when: hot = yes, says"), text=SHARED)
    (only,) = told(shared=shared)
    assert only.startswith("parts/shared.yaml:14: '='")


def test_only_takes_the_entries_named() -> None:
    main = changed(
        ("- parts/shared.yaml", "- {part: parts/shared.yaml, only: [hot, wet, fine, inconclusive, dry]}"),
        text=MAIN,
    )
    flow = load(main)
    assert list(flow.findings) == ["fine", "inconclusive"]
    assert list(flow.signs) == ["own"]
    assert list(flow.readings) == ["hot", "wet", "tired"]


def test_only_names_what_is_there() -> None:
    main = changed(
        ("- parts/shared.yaml", "- {part: parts/shared.yaml, only: [hot, wet, fine, inconclusiv]}"), text=MAIN
    )
    assert (
        told(main)[0]
        == "small.yaml:8: there is no 'inconclusiv' in 'parts/shared.yaml', did you mean 'inconclusive'?"
    )


def test_what_only_leaves_out_and_a_step_needs_is_told_with_the_remedy() -> None:
    main = changed(
        ("- parts/shared.yaml", "- {part: parts/shared.yaml, only: [hot, fine, inconclusive]}"), text=MAIN
    )
    assert told(main) == [
        "small.yaml:14: unknown reading 'wet', add it to 'only' of 'parts/shared.yaml' in 'use'"
    ]
