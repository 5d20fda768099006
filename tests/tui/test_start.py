"""The start screen: resume first, then new jobs, then the past; units, learner and notices at hand."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from engine.flow.index import titles
from engine.job.events import STARTED, Event
from engine.job.store import NewJob, Store, StoredBundle
from tests.tui.conftest import SMALL
from tests.tui.reading import sentences, shown
from tui import settings
from tui.app import LoadstepApp
from tui.screens.start import StartScreen
from tui.widgets.pick_list import PickList

BEGUN = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


def put_job(store: Store, title: str, at: datetime, vehicle: str = "") -> int:
    new = NewJob(
        "small", title, 1, StoredBundle("0" * 64, "small.yaml", {"small.yaml": b""}), "0", "0", "0", at
    )
    return store.create_job(new, Event(STARTED, at, "small"))


async def test_first_the_flow_and_the_past_jobs(store: Store) -> None:
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)):
        assert isinstance(app.screen, StartScreen)
        picks = app.screen.query_one(PickList).picks
        assert [pick.heading for pick in picks] == ["NEW JOB", *[""] * (len(titles()) - 1), "LOOK BACK"]
        text = shown(app)
        assert titles()[0].title in text
        assert "psi degF" in text
        assert "learner off" in text


async def test_open_jobs_come_first_the_newest_on_top(store: Store) -> None:
    put_job(store, "An older job", BEGUN)
    newer = put_job(store, "A newer [bold]job[/]\x1b[31m", BEGUN + timedelta(hours=1))
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)):
        picks = app.screen.query_one(PickList).picks
        assert [pick.text for pick in picks[:2]] == ["A newer [bold]job[/]", "An older job"]
        assert picks[0].heading == "RESUME"
        assert picks[0].detail.startswith(f"job {newer}, last 2026-11-25 ")
        assert "A newer [bold]job[/]" in shown(app)


async def test_only_the_newest_open_jobs_are_offered(store: Store) -> None:
    for number in range(7):
        put_job(store, f"Job number {number}", BEGUN + timedelta(minutes=number))
    app = LoadstepApp(store)
    async with app.run_test():
        picks = app.screen.query_one(PickList).picks
        assert [pick.text for pick in picks if pick.text.startswith("Job")] == [
            f"Job number {number}" for number in (6, 5, 4, 3)
        ]


async def test_units_learner_and_theme_are_kept(store: Store) -> None:
    app = LoadstepApp(store)
    async with app.run_test() as pilot:
        theme = app.theme
        await pilot.press("f3", "l", "f9")
        assert "kPa degC · learner on" in shown(app)
        assert app.theme != theme
    again = LoadstepApp(store)
    assert (again.units.name, again.settings.learner, again.theme) == ("kPa degC", True, app.theme)
    assert settings.load(store.file.parent).theme == app.theme


async def test_arrows_go_round_and_tell_what_the_line_is_about(store: Store) -> None:
    put_job(store, "Open job", BEGUN)
    app = LoadstepApp(store)
    async with app.run_test(size=(100, 30)) as pilot:
        assert "0 steps taken" in shown(app)
        await pilot.press("down")
        assert titles()[0].about[:30] in shown(app)
        await pilot.press("up", "up")
        assert "Every job kept on this computer." in shown(app)


async def test_what_the_store_has_to_say_is_shown(tmp_path: Path) -> None:
    (tmp_path / "home").mkdir()
    (tmp_path / "home" / "README.txt").touch()
    store = Store.open(tmp_path / "home")
    store.notices.append("The store is only read.")
    try:
        app = LoadstepApp(store)
        async with app.run_test():
            assert "! The store is only read." in shown(app)
    finally:
        store.close()


async def test_past_jobs_by_letter_and_by_mouse(store: Store) -> None:
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p")
        assert type(app.screen).__name__ == "JobsScreen"
        await pilot.press("escape")
        assert isinstance(app.screen, StartScreen)
        await pilot.click(PickList, offset=(8, len(titles()) + 3))
        await pilot.pause()
        assert type(app.screen).__name__ == "JobsScreen"


async def test_a_digit_opens_the_line_that_carries_it(store: Store) -> None:
    app = LoadstepApp(store)
    async with app.run_test(size=(100, 40)) as pilot:
        assert "    10  " not in shown(app)  # no key types it
        await pilot.press("2")
        assert titles()[1].title in shown(app)
        assert type(app.screen).__name__ == "WalkScreen"


async def test_the_help_lists_every_key_of_the_screen(store: Store) -> None:
    app = LoadstepApp(store)
    async with app.run_test(size=(100, 40)) as pilot:
        await pilot.press("f1")
        text = shown(app)
        for key in ("Enter", "F3", "F9", "Ctrl+P", "Ctrl+Q"):
            assert key in text
        await pilot.press("f1", "escape")
        assert isinstance(app.screen, StartScreen)


def test_the_start_path_loads_no_flow_no_parser_and_no_property_library(tmp_path: Path) -> None:
    code = (
        "import asyncio, sys\n"
        "from pathlib import Path\n"
        "from engine.job.store import Store\n"
        "from tui.app import LoadstepApp\n"
        "async def main():\n"
        "    with Store.open(Path(sys.argv[1])) as store:\n"
        "        app = LoadstepApp(store)\n"
        "        async with app.run_test() as pilot:\n"
        "            await pilot.press('f3', 'down')\n"
        "            assert app.screen.query('PickList')\n"
        "asyncio.run(main())\n"
        "heavy = ('pydantic', 'yaml', 'CoolProp', 'jinja2', 'engine.flow.')\n"
        "print(sorted(name for name in sys.modules if name.startswith(heavy)))\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True, check=True, timeout=60
    )
    # these look at files without a parser
    light = ["glance", "index", "places", "plain", "words", "words.language"]
    assert run.stdout.strip() == str([f"engine.flow.{name}" for name in light])


async def test_flows_of_other_places_come_last_and_say_where_they_are_from(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    small = Path(SMALL).read_text(encoding="utf-8")
    own, shared = store.file.parent / "flows", tmp_path / "autumn"
    for folder in (own, shared):
        folder.mkdir()
        (folder / "small.yaml").write_text(small, encoding="utf-8")
    (own / "stroke_by_load.yaml").write_text(small.replace("flow: small", "flow: stroke_by_load"))
    monkeypatch.setenv("LOADSTEP_FLOWS", str(shared))
    app = LoadstepApp(store)
    async with app.run_test(size=(100, 40)) as pilot:
        await app.workers.wait_for_complete()
        picks = app.screen.query_one(PickList).picks
        assert [pick.heading for pick in picks[-3:]] == ["YOUR OWN FLOWS", "", "SHARED FLOWS"]
        assert [pick.heading for pick in picks[:-3]][-1] == "LOOK BACK"
        await pilot.press("up")
        assert f"It is shared: {shared / 'small.yaml'}." in sentences(app)
        await pilot.press("up")
        assert "A shipped flow has this name, too; that one is listed by itself." in sentences(app)
        await pilot.press("enter")
        await app.workers.wait_for_complete()
        assert app.session is not None
        assert app.session.flow.title == "Does the small system answer to load?"  # not the shipped one
