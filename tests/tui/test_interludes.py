"""What comes between two prompts: STOP, a prediction, whether a set still holds, the end."""

from __future__ import annotations

import pytest

from engine.job import events as kinds
from engine.job.store import Store
from tests.tui.reading import shown
from tests.tui.walking import Person, person
from tui.screens import question
from tui.screens.question import UNREAD, Question


async def to_the_stop(p: Person) -> None:
    await p.to_raised(high="410")


async def test_a_watch_rule_stops_with_its_reason_and_what_to_do(store: Store) -> None:
    async with person(store) as p:
        await to_the_stop(p)
        assert isinstance(p.app.screen, Question)
        text = p.seen
        for word in ("■ STOP", "The high side is at its limit.", "A/C off at once", "Switch the A/C off"):
            assert word in text
        assert kinds.INTERRUPTED in [event.kind for event in p.events]
        await p.pilot.pause(UNREAD + 0.1)
        await p.press("enter")
        assert not isinstance(p.app.screen, Question)
        assert p.at == ("cool", 1, "(done)")
        assert "■ STOP  The high side is at its limit." in p.seen


async def test_the_second_of_two_quick_enters_does_not_pass_the_stop(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(question, "UNREAD", 60.0)  # a slow machine makes no quick Enter a slow one
    async with person(store) as p:
        await p.to_baseline()
        await p.enter("", "31")
        await p.type("410")
        await p.pilot.press("enter", "enter", "enter")
        await p.pilot.pause(0.1)
        assert isinstance(p.app.screen, Question)
        assert p.at == ("cool", 1, "(done)")


async def test_after_the_stop_the_step_is_taken_again_and_the_banner_is_gone(store: Store) -> None:
    async with person(store) as p:
        await to_the_stop(p)
        await p.pilot.pause(UNREAD + 0.1)
        await p.press("enter", "enter")
        assert p.at == ("base", 2, "(cautions)")
        assert "visit 2" in p.seen
        assert "STOP" not in p.card
        # Read at the first visit: the reminder is enough, but Enter is asked for again.
        assert "Exposed again." in p.card
        assert "▲ DANGER" in p.card
        assert "catches sleeves" not in p.card


async def test_a_learner_predicts_before_the_load_is_set(store: Store) -> None:
    async with person(store, learner=True) as p:
        await p.to_raised()
        await p.press("enter")
        assert isinstance(p.app.screen, Question)
        assert "1 of 2. Load raised: which way will Low-side gauge go" in p.seen
        assert "against Baseline" in p.seen.replace("\n", " ") or "Baseline?" in p.seen
        await p.press("2")
        assert "2 of 2." in p.seen
        await p.press("up", "up", "enter")  # from the first line round to the last but one
        assert p.at == ("raise", 1, "(begin)")
        predicted = [event for event in p.events if event.kind == kinds.PREDICTED]
        assert [event.detail for event in predicted] == [{"low_side": "down", "high_side": "down"}]
        assert not isinstance(p.app.screen, Question)
        # Asked once a visit.
        await p.press("enter")
        assert p.at == ("raise", 1, "(settle)")
        await p.press("f8")
        assert not isinstance(p.app.screen, Question)


async def test_a_prediction_may_be_left_open(store: Store) -> None:
    async with person(store, learner=True) as p:
        await p.to_raised()
        await p.press("enter", "1", "escape")
        predicted = [event.detail for event in p.events if event.kind == kinds.PREDICTED]
        assert predicted == [{"low_side": "up"}]


async def test_without_the_learner_option_nothing_is_predicted(store: Store) -> None:
    async with person(store) as p:
        await p.to_raised()
        await p.press("enter")
        assert not isinstance(p.app.screen, Question)


async def open_for_21_minutes(p: Person) -> None:
    await p.to_raised()
    await p.press("enter", "enter")
    p.clock.move(180)
    await p.press("enter")
    assert not isinstance(p.app.screen, Question)
    p.clock.move(21 * 60 - 180)
    assert await p.sees("has been open for 21 minutes")


async def test_a_set_open_for_long_is_asked_about_and_may_hold(store: Store) -> None:
    async with person(store) as p:
        await open_for_21_minutes(p)
        assert "Load raised has been open for 21 minutes." in p.seen
        await p.press("1")
        assert kinds.HELD in [event.kind for event in p.events]
        await p.pilot.pause(0.7)
        assert not isinstance(p.app.screen, Question)
        assert p.at == ("raise", 1, "low_side")


async def test_a_set_that_drifted_is_taken_again_from_its_beginning(store: Store) -> None:
    async with person(store) as p:
        await open_for_21_minutes(p)
        await p.press("2")
        assert p.at == ("raise", 1, "(begin)")


async def to_the_end(p: Person) -> None:
    await p.to_raised()
    await p.press("enter", "enter", "f2")
    await p.enter("35", "200")
    await p.press("enter", "enter")


async def test_the_end_offers_finding_sheet_and_verification(store: Store) -> None:
    async with person(store) as p:
        await to_the_end(p)
        assert "The job is finished" in p.seen
        await p.press("2")
        assert "It answers to load" in shown(p.app)
        await p.press("escape")
        assert "The job is finished" in p.seen
        await p.press("escape")
        assert "finished" in p.seen
        await p.press("enter")
        assert "Write the sheet" in p.seen


async def test_the_finding_can_be_seen_again(store: Store) -> None:
    async with person(store) as p:
        await p.to_raised()
        await p.press("enter", "enter", "f2")
        await p.enter("35", "200")
        await p.press("enter", "f7")
        assert type(p.app.screen).__name__ == "FindingScreen"


async def test_the_end_begins_the_job_that_verifies_the_repair(store: Store) -> None:
    async with person(store) as p:
        await to_the_end(p)
        first = p.session.job
        await p.press("3")
        for _ in range(100):
            await p.pilot.pause(0.02)
            if p.app.session is not None and p.session.job != first:
                break
        await p.pilot.pause()
        # The small flow is known by its path only: the verification walks the files kept with the job.
        second = store.job(p.session.job)
        assert (second.flow, second.after) == ("small", first)
        assert p.at == ("arrive", 1, "drive")
        assert store.bundle(second.id).files == store.bundle(first).files
