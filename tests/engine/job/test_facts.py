"""Facts: given before computed, immutable, worked out once."""

from __future__ import annotations

from unittest.mock import patch

import pytest

from engine.flow.computed.values import compute
from engine.job.facts import Facts


def test_an_unknown_name_is_none() -> None:
    empty = Facts()
    assert [empty.get(name) for name in ("low_side", "loaded.low_side", "", "a.b.c", ".")] == [None] * 5


def test_a_changed_copy_leaves_the_original_alone() -> None:
    first = Facts({"loaded.low_side": 2e5})
    second = first.with_value("loaded.high_side", 12e5)
    third = second.with_value("loaded.low_side", None)
    assert dict(first.known()) == {"loaded.low_side": 2e5}
    assert dict(second.known()) == {"loaded.low_side": 2e5, "loaded.high_side": 12e5}
    assert dict(third.known()) == {"loaded.high_side": 12e5}


def test_what_was_worked_out_is_worked_out_anew_after_a_change() -> None:
    first = Facts({"loaded.low_side": 2e5, "loaded.high_side": 12e5})
    assert first.get("loaded.sides_apart") == 10e5
    assert first.with_value("loaded.high_side", 5e5).get("loaded.sides_apart") == 3e5
    assert first.with_value("loaded.high_side", None).get("loaded.sides_apart") is None


def test_a_computed_reading_is_worked_out_once() -> None:
    known = Facts({"loaded.low_side": 2e5, "loaded.high_side": 12e5})
    with patch("engine.job.facts.compute", wraps=compute) as computing:
        assert [known.get("loaded.sides_apart") for _ in range(3)] == [10e5] * 3
    assert computing.call_count == 1


def test_a_given_value_wins_over_a_computed_one() -> None:
    assert Facts({"loaded.settled": "no"}).get("loaded.settled") == "no"
    assert Facts().get("loaded.settled") is None


def test_without_a_set_forgets_that_set_only() -> None:
    known = Facts({"loaded.low_side": 1.0, "loaded_again.low_side": 2.0, "low_side": 3.0})
    assert dict(known.without_set("loaded").known()) == {"loaded_again.low_side": 2.0, "low_side": 3.0}


def test_the_mapping_it_was_made_from_may_change_afterwards() -> None:
    given = {"turns": "yes"}
    known = Facts(given)
    given["turns"] = "no"
    assert known.get("turns") == "yes"
    with pytest.raises(TypeError):
        known.known()["turns"] = "no"  # type: ignore[index]
