"""A table made anew agrees with the shipped one in shape and words, and in numbers within the tolerance."""

from __future__ import annotations

from typing import Any

import pytest

from engine.physics.agree import agree

SHIPPED = {"name": "a", "rows": [[1.0, 2.0], [3.0, 4.0]], "count": 2}


def test_numbers_may_differ_by_the_tolerance_and_no_more() -> None:
    near = {"name": "a", "rows": [[1.009, 2.0], [3.0, 4.0]], "count": 2}
    assert agree(near, SHIPPED, abs_tol=0.01)
    assert not agree(near, SHIPPED, abs_tol=0.008)
    assert agree(near, SHIPPED, rel_tol=0.01, abs_tol=0.0)


@pytest.mark.parametrize(
    "made",
    [
        {"name": "b", "rows": SHIPPED["rows"], "count": 2},
        {"name": "a", "rows": [[1.0, 2.0]], "count": 2},
        {"name": "a", "rows": [[1.0], [3.0, 4.0]], "count": 2},
        {"name": "a", "rows": SHIPPED["rows"]},
        {"name": "a", "rows": SHIPPED["rows"], "count": 3},
        None,
    ],
)
def test_words_counts_and_shape_must_be_the_same(made: Any) -> None:
    assert not agree(made, SHIPPED, abs_tol=10.0)
