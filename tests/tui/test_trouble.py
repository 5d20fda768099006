"""Store trouble is a sentence, and the walk goes on where it can."""

from __future__ import annotations

import sqlite3
from concurrent.futures import Future
from pathlib import Path

import pytest

from engine.job import events as kinds
from engine.job.session import Session
from engine.job.store import Store, StoreFull
from tests.tui.reading import sentences
from tests.tui.walking import Clock, person
from tui.app import LoadstepApp
from tui.screens.question import Question
from tui.screens.start import StartScreen


async def test_a_full_disk_is_told_and_the_walk_goes_on(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with person(store) as p:

        def full(job: int, number: int, event: kinds.Event):  # type: ignore[no-untyped-def]
            future: Future[int] = Future()
            future.set_exception(StoreFull("The disk is full. Free some space on it."))
            return future

        monkeypatch.setattr(store, "append", full)
        await p.enter("1")
        assert p.at == ("arrive", 1, "contamination")
        said = sentences(p.app)
        assert "The last entry is not on disk yet: do not close loadstep." in said
        assert "The disk is full. Free some space on it." in said
        monkeypatch.undo()
        await p.enter("1")
        assert "The disk is full" not in p.seen
        job, count = p.session.job, len(p.events)
    assert len(store.events(job)) == count


async def test_another_window_went_on_with_the_job(store: Store) -> None:
    async with person(store) as p:
        other = await Session.resume(store, p.session.job)
        await other.answer("electric", "")
        await p.enter("1")
        assert "Another window has gone on with job 1" in sentences(p.app)
        assert p.at == ("arrive", 1, "contamination")
        assert p.session.walk.facts.get("drive") == "electric"
        await p.enter("1")
        assert p.at == ("arrive", 1, "ambient_temperature")


async def test_a_store_held_by_another_program(store: Store) -> None:
    async with person(store) as p:
        with sqlite3.connect(store.file, isolation_level=None) as other:
            other.execute("BEGIN IMMEDIATE")
            await p.type("1")
            await p.press("enter")
            assert await p.sees("Another program is holding")
            assert p.at == ("arrive", 1, "contamination")
            other.execute("ROLLBACK")
        await p.enter("1")
        assert "Another program" not in p.seen
        assert p.session.unsaved == 0


async def test_a_flow_with_problems_is_told_line_by_line(store: Store, tmp_path: Path) -> None:
    flow = tmp_path / "broken.yaml"
    flow.write_text("format: 1\nflow: broken\nstrat: here\n")
    app = LoadstepApp(store, flow=str(flow))
    async with app.run_test(size=(120, 40)) as pilot:
        for _ in range(100):
            await pilot.pause(0.02)
            if isinstance(app.screen, Question):
                break
        text = sentences(app)
        assert "This flow cannot be walked" in text
        problem = "broken.yaml:3:1: unknown key 'strat', did you mean 'start'?"
        assert problem.replace(" ", "") in text.replace(" ", "")  # the path may be broken anywhere
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, StartScreen)


@pytest.mark.parametrize("flow", ["no_such_flow", "missing.yaml"])
async def test_a_flow_that_is_not_there(store: Store, flow: str) -> None:
    app = LoadstepApp(store, flow=flow)
    async with app.run_test(size=(100, 30)) as pilot:
        for _ in range(100):
            await pilot.pause(0.02)
            if isinstance(app.screen, Question):
                break
        assert flow in sentences(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, StartScreen)


async def test_a_job_is_resumed_where_it_was_with_its_settle_time(store: Store) -> None:
    clock = Clock()
    async with person(store, clock=clock) as p:
        await p.to_raised()
        await p.press("enter", "enter")
        assert p.at == ("raise", 1, "(settle)")
        job = p.session.job
    clock.move(100)  # the lid was closed meanwhile
    async with person(store, job=job, clock=clock) as p:
        assert p.at == ("raise", 1, "(settle)")
        assert "1:20 left of 3:00" in p.seen
