"""The drawing on its screen: from the start, the walk and the past jobs, at every size."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.containers import VerticalScroll

from engine.flow.index import titles
from engine.flow.library import MAIN_FLOW, find
from engine.flow.load import load_path
from engine.job.store import Store
from tests.tui.reading import lines, shown
from tests.tui.walking import person
from tui.app import LoadstepApp
from tui.screens.drawing import DrawingScreen
from tui.screens.start import StartScreen
from tui.screens.walk import WalkScreen
from tui.widgets.lines import LineView

SIZES = [(40, 15), (80, 24), (160, 50)]


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_from_the_walk_the_step_is_in_view_and_marked(store: Store, size: tuple[int, int]) -> None:
    async with person(store, size=size) as p:
        await p.to_baseline()
        await p.press("ctrl+g")
        assert await p.sees("▸ 2  Take the baseline")
        assert isinstance(p.app.screen, DrawingScreen)
        assert "✓ 1  Look first" in p.app.screen.query_one("#drawing", LineView).text
        await p.press("escape")
        assert isinstance(p.app.screen, WalkScreen)
        assert p.at == ("base", 1, "(cautions)")


async def until(app: LoadstepApp, pilot: object, text: str) -> bool:
    """Whether the text comes up; the first drawing has to load what the start screen does without."""
    for _ in range(200):
        if text in shown(app):
            return True
        await pilot.pause(0.05)  # type: ignore[attr-defined]
    return False


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_from_the_start_the_marked_flow_is_drawn(store: Store, size: tuple[int, int]) -> None:
    app = LoadstepApp(store)
    async with app.run_test(size=size) as pilot:
        await pilot.press("d")
        assert await until(app, pilot, "Drawing")
        assert isinstance(app.screen, DrawingScreen)
        text = app.screen.query_one("#drawing", LineView).text
        for step in load_path(find(titles()[0].name).path).steps.values():
            assert step.title.split()[0] in text
        await pilot.press("escape")
        assert isinstance(app.screen, StartScreen)


async def test_from_the_start_an_open_job_is_drawn_with_its_path(store: Store) -> None:
    async with person(store) as p:
        await p.to_baseline()
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("d")
        assert await until(app, pilot, "▸ 2  Take the baseline")


async def test_past_jobs_have_nothing_to_draw_and_say_so(store: Store) -> None:
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("up", "d")
        assert "Mark a flow or a job to have it drawn." in shown(app)
        await pilot.press("up")
        assert "Mark a flow or a job" not in shown(app)


async def test_from_the_past_jobs_the_marked_job_is_drawn(store: Store) -> None:
    async with person(store) as p:
        await p.to_baseline()
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p")
        await pilot.pause()
        await pilot.press("f7")
        assert await until(app, pilot, "▸ 2  Take the baseline")


async def test_the_digits_of_a_number_go_to_its_step(store: Store) -> None:
    made = load_path(find(MAIN_FLOW).path)
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = DrawingScreen(made)
        await app.push_screen(screen)
        await pilot.pause()
        await pilot.press("3")
        assert "step 3" in lines(app)[0]
        await pilot.press("3")
        assert "step 33" in lines(app)[0]
        assert any(line.lstrip(" │").startswith("33  ") for line in lines(app))  # on the trunk or aside
        await pilot.press("9")  # there is no step 339: a new number begins
        assert "step 9" in lines(app)[0]
        await pilot.press("h")
        assert made.title in shown(app)
        await pilot.press("0")
        assert "there is no step 0" in lines(app)[0]
        await pilot.press("end")
        await pilot.pause()
        assert screen.query_one("#drawing-body", VerticalScroll).scroll_y > 100


async def test_down_to_one_cell_and_back(store: Store) -> None:
    async with person(store, size=(100, 30)) as p:
        await p.press("ctrl+g")
        before = p.seen
        for size in ((40, 15), (5, 30), (1, 1), (200, 3), (100, 30)):
            await p.pilot.resize_terminal(*size)
            await p.pilot.pause()
        assert p.seen == before


async def test_a_flow_that_is_gone_is_told(store: Store, tmp_path: Path) -> None:
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)) as pilot:
        app.draw_flow("not_there")
        assert await until(app, pilot, "This flow is not there")
    (tmp_path / "bad.yaml").write_text("format: 1\n", encoding="utf-8")
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)) as pilot:
        app.draw_flow(str(tmp_path / "bad.yaml"))
        assert await until(app, pilot, "This flow cannot be drawn")
        await pilot.press("enter")
    app = LoadstepApp(store)
    async with app.run_test(size=(80, 24)) as pilot:
        app.draw_job(77)
        assert await until(app, pilot, "This job cannot be drawn")
