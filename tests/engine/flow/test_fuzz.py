"""Random input never crashes what reads, lints or draws it. Many more examples: `tests.bench.fuzz`."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from tests.engine.flow.fuzz_conditions import Reasoned, check_any_text, check_reasoning
from tests.engine.flow.fuzz_flows import check_file
from tests.engine.flow.fuzz_targets import TARGETS, Target
from tests.engine.flow.small import changed, only_problem

BOUNDED = settings(
    max_examples=100, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)


@pytest.mark.parametrize("target", TARGETS, ids=lambda target: target.name)
def test_random_input(target: Target) -> None:
    @BOUNDED
    @given(target.given)
    def tried(value: object) -> None:
        target.check(value)

    tried()


@pytest.mark.parametrize("text", ["a is", "known", "not", "- - -", "\u3000"])
def test_texts_that_once_were_no_clean_error(text: str) -> None:
    check_any_text(text)


# --- what random input found, kept as it was found


def test_a_mapping_where_candidates_belong() -> None:
    problem = only_problem(changed(("conclude: all", "conclude: {}")))
    assert problem.what.startswith("'conclude' should be a list")
    check_file(changed(("conclude: all", "conclude: {}")).encode())


def test_a_reading_compared_with_itself() -> None:
    check_reasoning(Reasoned("p < p", [{}]))
    check_reasoning(Reasoned("p <= p", [{}, {"p": 1.0}]))
