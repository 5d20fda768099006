"""The jobs screen on a real store: what it lists, how it narrows, and what its keys begin."""

from __future__ import annotations

import re
import shutil
import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from engine.flow.library import Source
from engine.job.events import CONCLUDED, STARTED, Event
from engine.job.session import Session
from engine.job.store import JobSummary, NewJob, Store, StoredBundle
from tests.tui.bare import BareApp
from tests.tui.conftest import SMALL
from tui import themes
from tui.job_lines import matching, outcome, pick_of
from tui.screens.finding import FindingScreen
from tui.screens.jobs import MOST, JobsScreen
from tui.screens.sheet import SheetScreen
from tui.widgets.pick_list import PickList

BEGUN = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


def put_job(store: Store, vehicle: str = "", minutes: int = 0, finding: str | None = None) -> int:
    at = BEGUN + timedelta(minutes=minutes)
    bundle = StoredBundle("0" * 64, "small.yaml", {"small.yaml": b""})
    new = NewJob("small", "A small job", 1, bundle, "0", "0", "0", at, vehicle=vehicle)
    job = store.create_job(new, Event(STARTED, at, "small"))
    if finding is not None:
        store.append(job, 2, Event(CONCLUDED, at, "small", detail={"finding": finding})).result()
    return job


async def walked(store: Store, source: Source, loaded_high: str = "250", close: bool = True) -> Session:
    """A job of the small flow, walked to its end (or, without `close`, to the conclusion)."""
    session = await Session.start(store, source, vehicle="Blue van")
    for text in ("belt", "none"):
        await session.answer(text, "")
    await session.answer("25", "degC")
    await session.acknowledge()
    for text in ("40", "150"):
        await session.answer(text, "psi")
    await session.acknowledge()
    await session.begin_set()
    await session.settle(True, 180.0)
    for text in ("30", loaded_high):
        await session.answer(text, "psi")
    assert session.conclusion is not None
    if close:
        await session.done()
    return session


@pytest.fixture
def own_flow(store: Store) -> Source:
    """The small flow among the person's own, so that a verification can find it."""
    folder = store.file.parent / "flows"
    folder.mkdir()
    path = Path(shutil.copy(SMALL, folder / "small.yaml"))
    return Source("own:small", path)


def told(app: BareApp) -> str:
    return str(app.screen.query_one("#jobs-told").render())


def listed(app: BareApp) -> list[str]:
    """Number and vehicle of each line; the time between them depends on where the test runs."""
    lines = [pick.text.split(maxsplit=3) for pick in app.screen.query_one(PickList).picks]
    return [f"{number} {vehicle}" for number, _, _, vehicle in lines]


async def test_jobs_stand_newest_first_with_vehicle_finding_and_how_far(store: Store) -> None:
    put_job(store, "Blue van", minutes=0, finding="weak-compressor")
    put_job(store, "Red hatchback", minutes=5)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)):
        assert listed(app) == ["2 Red hatchback", "1 Blue van"]
        details = [pick.detail for pick in app.screen.query_one(PickList).picks]
        assert details == ["open, 0 steps taken", "weak compressor, closing steps left"]
        assert told(app) == "2 of 2 jobs"


async def test_typing_narrows_to_the_jobs_that_hold_every_word(store: Store) -> None:
    put_job(store, "Blue van", finding="undercharge")
    put_job(store, "Blue hatchback", minutes=1)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"blue")
        await pilot.pause()
        assert len(listed(app)) == 2
        await pilot.press("space", *"UNDER")
        await pilot.pause()
        assert listed(app) == ["1 Blue van"]
        assert told(app) == "1 of 2 jobs"
        await pilot.press("x")
        await pilot.pause()
        assert listed(app) == []
        assert told(app) == "No job holds these words. Delete some of them."


async def test_enter_resumes_the_marked_open_job(store: Store) -> None:
    first = put_job(store, "One")
    put_job(store, "Two", minutes=1)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "enter")
        await pilot.pause()
        assert app.results == [first]


async def test_up_from_the_first_goes_round_to_the_last(store: Store) -> None:
    first = put_job(store, "One")
    put_job(store, "Two", minutes=1)
    put_job(store, "Three", minutes=2)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("up", "enter")
        await pilot.pause()
        assert app.results == [first]


async def test_a_click_opens_a_job(store: Store) -> None:
    first = put_job(store, "One")
    put_job(store, "Two", minutes=1)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.click(PickList, offset=(6, 1))
        await pilot.pause()
        assert app.results == [first]


async def test_escape_leaves_without_a_job(store: Store) -> None:
    put_job(store)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("escape")
        await pilot.pause()
        assert app.results == [None]


async def test_without_jobs_a_sentence_says_how_one_is_begun(store: Store) -> None:
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "enter", "f5", "f6")
        await pilot.pause()
        assert told(app).startswith("No jobs yet.")
        assert app.results == []


async def test_a_finished_job_shows_its_finding_again(store: Store, own_flow: Source) -> None:
    await walked(store, own_flow)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        assert listed(app) == ["1 Blue van"]
        await pilot.press("enter")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert isinstance(app.screen, FindingScreen)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)


async def test_the_sheet_of_the_marked_job_is_written_in_the_data_folder(
    store: Store, own_flow: Source
) -> None:
    session = await walked(store, own_flow)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f5")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert isinstance(app.screen, SheetScreen)
        await pilot.press("enter")
        await app.workers.wait_for_complete()
        text = (store.file.parent / "sheets" / f"job-{session.job}.html").read_text(encoding="utf-8")
        assert "Blue van" in text
        assert "It answers to load" in text
        assert "250 psi" in text


async def test_verification_begins_a_job_linked_to_the_marked_one(store: Store, own_flow: Source) -> None:
    session = await walked(store, own_flow)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f6")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert app.started == [("own:small", session.job)]
        assert app.results == [None]


async def test_a_store_of_a_newer_version_is_looked_at_but_not_gone_on_with(
    store: Store, own_flow: Source
) -> None:
    await walked(store, own_flow)
    await Session.start(store, own_flow, vehicle="Open one")
    folder = store.file.parent
    store.close()
    with sqlite3.connect(folder / "store.db") as newer:
        newer.execute("PRAGMA user_version = 999")
    with Store.open(folder) as read_only:
        assert read_only.mode == "read-only"
        app = BareApp(JobsScreen(read_only))
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("enter")
            await app.workers.wait_for_complete()
            await pilot.pause()
            assert told(app) == "Job 2 has no finding. Its sheet (F5) holds what was read."
            assert app.results == []
            await pilot.press("down", "enter")
            await app.workers.wait_for_complete()
            await pilot.pause()
            assert isinstance(app.screen, FindingScreen)


async def test_coming_back_from_a_finding_leaves_its_job_marked(store: Store, own_flow: Source) -> None:
    await walked(store, own_flow)
    put_job(store, "Newer", minutes=60 * 24 * 3650)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "enter")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert isinstance(app.screen, FindingScreen)
        await pilot.press("escape")
        await pilot.pause()
        assert app.screen.query_one(PickList).cursor == 1


async def test_a_job_without_a_finding_has_nothing_to_verify(store: Store, own_flow: Source) -> None:
    await Session.start(store, own_flow)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f6")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert told(app) == "This job has no finding yet: there is no repair to verify."
        assert app.started == []


async def test_a_flow_that_cannot_be_found_again_is_told_with_the_remedy(
    store: Store, tmp_path: Path
) -> None:
    path = Path(shutil.copy(SMALL, tmp_path / "small.yaml"))
    await walked(store, Source(str(path), path))
    path.unlink()
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(120, 24)) as pilot:
        await pilot.press("f6")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "The flow small is not among the shipped ones, your own or the shared ones." in told(app)
        assert "loadstep walk PATH" in told(app)


async def test_a_job_whose_files_are_damaged_is_told_and_leaves_the_list(store: Store) -> None:
    put_job(store, "Broken", finding="undercharge")
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(120, 24)) as pilot:
        await pilot.press("f6")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "job 1" in told(app).lower()
        assert listed(app) == ["1 Broken"]


async def test_more_jobs_than_are_drawn_are_found_by_typing(store: Store) -> None:
    for number in range(MOST + 3):
        put_job(store, f"vehicle{number:03}", minutes=number)
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)) as pilot:
        assert len(listed(app)) == MOST
        assert told(app) == f"{MOST + 3} of {MOST + 3} jobs, the newest {MOST} shown: type to narrow"
        await pilot.press(*"vehicle000")
        await pilot.pause()
        assert listed(app) == ["1 vehicle000"]


async def test_a_vehicle_note_is_literal(store: Store) -> None:
    put_job(store, "[red]van[/red]\x1b[2J\nsecond line")
    app = BareApp(JobsScreen(store))
    async with app.run_test(size=(80, 24)):
        assert listed(app) == ["1 [red]van[/red] second line"]


@pytest.mark.parametrize("theme", themes.NAMES)
async def test_it_survives_one_cell_and_back_in_every_theme(store: Store, theme: str) -> None:
    put_job(store, "Blue van")
    app = BareApp(JobsScreen(store), theme)
    async with app.run_test(size=(80, 24)) as pilot:
        for size in ((1, 1), (40, 15), (200, 60), (80, 24)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        assert listed(app) == ["1 Blue van"]
        await pilot.press("enter")
        await pilot.pause()
        assert app.results == [1]


def summary(**changes: object) -> JobSummary:
    parts: dict[str, object] = {
        "id": 3,
        "title": "A title",
        "flow": "small",
        "created": BEGUN,
        "last": BEGUN,
        "status": "open",
        "finding": None,
        "vehicle": "",
        "steps": 4,
        **changes,
    }
    return JobSummary(**parts)  # type: ignore[arg-type]


def test_a_job_without_a_vehicle_is_called_by_its_title() -> None:
    assert re.fullmatch(r"  3  2026-11-2\d \d\d:\d\d  A title", pick_of(summary()).text)


@pytest.mark.parametrize(
    ("status", "finding", "steps", "text"),
    [
        ("open", None, 4, "open, 4 steps taken"),
        ("open", None, 1, "open, 1 step taken"),
        ("concluded", "stroke-valve-stuck-low", 9, "stroke valve stuck low, closing steps left"),
        ("finished", "no-fault", 9, "no fault"),
        ("finished", None, 9, "finished without a finding"),
    ],
)
def test_what_came_of_a_job(status: str, finding: str | None, steps: int, text: str) -> None:
    assert outcome(summary(status=status, finding=finding, steps=steps)) == text


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("", True),
        ("TITLE 3", True),
        ("stuck-low", True),
        ("stuck low", True),
        ("small", True),
        ("undercharge", False),
    ],
)
def test_words_are_sought_in_number_title_flow_and_finding(words: str, found: bool) -> None:
    assert bool(matching([summary(finding="stroke-valve-stuck-low")], words)) is found
