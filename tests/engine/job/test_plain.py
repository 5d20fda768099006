"""Conclusions and answers survive JSON."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.job.plain import answer_from_plain, answer_to_plain, conclusion_from_plain, conclusion_to_plain
from engine.job.state import Answer, Conclusion, NextMeasurement, Ranked, RuledOut, Spoken

FULL = Conclusion(
    "weak",
    "weigh",
    ranked=(
        Ranked("weak", 0.8, (Spoken("low-rise", "little rise", 12.0),), (Spoken("cool", "cool", 0.5),)),
        Ranked("stuck", 0.2, (), ()),
    ),
    ruled_out=(RuledOut("fan", "look", "it ran"),),
    also="undercharge",
    also_for=(Spoken("oily", "oily joints", 3.0),),
    outside=None,
    next_measurement=NextMeasurement("loaded.high_side", ("weak", "stuck")),
    interrupted=True,
)


@pytest.mark.parametrize(
    "conclusion",
    [
        FULL,
        Conclusion("solenoid-open", "ohms", proved_by="ohms"),
        Conclusion("inconclusive", "w", outside="fan"),
    ],
)
def test_a_conclusion_comes_back_whole(conclusion: Conclusion) -> None:
    assert conclusion_from_plain(json.loads(json.dumps(conclusion_to_plain(conclusion)))) == conclusion


def test_the_keys_are_the_ones_that_are_read_elsewhere() -> None:
    plain = conclusion_to_plain(FULL)
    assert plain["finding"] == "weak"
    assert plain["ranked"][0]["for"] == [{"sign": "low-rise", "says": "little rise", "odds": 12.0}]
    assert plain["next_measurement"] == {"reading": "loaded.high_side", "separates": ["weak", "stuck"]}


def test_one_kept_before_second_findings_had_reasons_is_read() -> None:
    plain = conclusion_to_plain(FULL)
    del plain["also_for"]
    assert conclusion_from_plain(plain).also_for == ()


@pytest.mark.parametrize("damaged", [{}, {"finding": "weak"}, {**conclusion_to_plain(FULL), "ranked": 3}])
def test_a_damaged_conclusion_is_refused_by_name(damaged: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="no conclusion as a job keeps it"):
        conclusion_from_plain(damaged)


ANSWERS = st.builds(
    Answer,
    st.sampled_from(["answered", "cannot-measure", "settled"]),
    st.tuples(st.text(), st.integers(1, 9), st.text()),
    st.one_of(
        st.none(),
        st.floats(allow_nan=False, allow_infinity=False),
        st.text(),
        st.frozensets(st.text(), min_size=1),
    ),
    st.text(),
    st.text(),
    st.one_of(st.none(), st.datetimes(timezones=st.just(UTC))),
    st.dictionaries(st.text(), st.one_of(st.booleans(), st.integers(), st.text())),
)


@given(ANSWERS)
def test_an_answer_comes_back_whole(answer: Answer) -> None:
    assert answer_from_plain(json.loads(json.dumps(answer_to_plain(answer)))) == answer


def test_a_time_keeps_its_zone() -> None:
    at = datetime(2026, 3, 2, 9, 0, tzinfo=timezone(timedelta(hours=2)))
    back = answer_from_plain(answer_to_plain(Answer("done", ("a", 1, "(done)"), at=at)))
    assert back.at == at


@pytest.mark.parametrize("damaged", [{}, {"key": ["a", 1]}, {"key": 3}])
def test_a_damaged_answer_is_refused(damaged: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="no answer as a job keeps it"):
        answer_from_plain(damaged)
