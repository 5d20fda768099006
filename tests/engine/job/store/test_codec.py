"""Whatever an event can hold comes back as it was."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.job.events import Event
from engine.job.store.codec import decode, encode, read_time, write_time
from engine.job.store.errors import StoreDamaged
from tests.engine.job.store.helpers import event

details = st.dictionaries(
    st.text(max_size=8),
    st.one_of(st.booleans(), st.integers(-(10**9), 10**9), st.text(max_size=8)),
    max_size=3,
)
events = st.builds(
    Event,
    kind=st.text(min_size=1, max_size=10),
    at=st.datetimes(min_value=datetime(1970, 1, 1), timezones=st.just(UTC)),
    flow=st.text(max_size=10),
    step=st.text(max_size=10),
    visit=st.integers(1, 99),
    item=st.text(max_size=10),
    text=st.text(st.characters(), max_size=20),  # surrogates too
    unit=st.text(max_size=5),
    value=st.one_of(
        st.none(), st.floats(allow_nan=False, allow_infinity=False), st.text(max_size=9), st.tuples(st.text())
    ),
    detail=details,
)


@given(events)
def test_an_event_comes_back_as_it_was(given_event: Event) -> None:
    assert decode(encode(given_event)) == given_event


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_no_gauge_can_show_is_not_written(value: float) -> None:
    with pytest.raises(ValueError, match="JSON"):
        encode(event(value=value))


def test_times_are_written_in_utc_so_that_they_sort_as_text() -> None:
    summer = datetime(2026, 7, 1, 12, 0, tzinfo=timezone(timedelta(hours=2)))
    assert write_time(summer) == "2026-07-01T10:00:00.000000+00:00"
    assert read_time(write_time(summer)) == summer


def test_a_time_without_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        write_time(datetime(2026, 7, 1))


@pytest.mark.parametrize(
    "row",
    [
        (1, "answered", "yesterday", "s", 1, "", '{"flow":"f","text":"","unit":"","value":1,"detail":{}}'),
        (1, "answered", "2026-11-25T09:00:00+00:00", "s", 1, "", "{"),
        (1, "answered", "2026-11-25T09:00:00+00:00", "s", 1, "", "{}"),
    ],
)
def test_a_row_that_cannot_be_read_says_the_store_is_damaged(row: tuple[object, ...]) -> None:
    with pytest.raises(StoreDamaged, match="cannot be read"):
        decode(row)
