"""From 40 by 15 to 200 by 60, down to one cell and back: everything stays reachable, nothing is lost."""

from __future__ import annotations

import pytest
from textual.geometry import Region

from engine.job.store import Store
from tests.tui.reading import lines, shown
from tests.tui.walking import person
from tui.app import LoadstepApp
from tui.screens.start import StartScreen
from tui.widgets.board import Board
from tui.widgets.trail import TrailPane

SIZES = [(40, 15), (80, 24), (100, 30), (160, 50), (200, 60)]


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_what_is_asked_and_typed_is_always_in_view(store: Store, size: tuple[int, int]) -> None:
    async with person(store, size=size) as p:
        await p.type("2")
        text = p.seen
        for word in (
            "Look first",
            "Compressor drive",
            "2  Electric motor",
            "= Electric motor",
            "Accept",
            "F2",
        ):
            assert word in text
        await p.press("enter")
        await p.press("f2", "f2")
        assert p.at == ("base", 1, "(cautions)")
        assert "DANGER" in p.seen
        while "Read on" in p.seen:
            await p.press("enter")
            assert p.at == ("base", 1, "(cautions)")
        assert "I have read this" in p.seen
        assert "goggles." in p.seen


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_an_error_is_shown_whole(store: Store, size: tuple[int, int]) -> None:
    async with person(store, size=size) as p:
        await p.press("f2", "f2")
        await p.type("40 psi")
        said = " ".join(" ".join(line.split("│")[0].strip(" ▌▎█┃") for line in lines(p.app)).split())
        assert p.line.echo.removeprefix("! ") in said


@pytest.mark.parametrize(("width", "panes"), [(79, 1), (80, 3), (120, 3)])
async def test_panes_stand_beside_each_other_from_80_columns_on(store: Store, width: int, panes: int) -> None:
    async with person(store, size=(width, 24)) as p:
        shown_panes = [
            pane
            for pane in (p.walk.query_one("#card"), p.walk.query_one(Board), p.walk.query_one(TrailPane))
            if pane.region.area and p.walk.region.overlaps(pane.region) and pane.is_on_screen
        ]
        assert len(shown_panes) == panes


async def test_one_pane_at_a_time_on_a_narrow_terminal(store: Store) -> None:
    async with person(store, size=(60, 24)) as p:
        await p.to_baseline()
        assert "Take the baseline" in p.seen
        await p.press("f4")
        assert "I have read this" not in p.seen
        assert "Baseline" in p.seen
        await p.press("f4")
        assert "✓ Look first" in p.seen
        await p.press("f4")
        while "Read on" in p.seen:
            await p.press("enter")
            assert p.at == ("base", 1, "(cautions)")
        assert "I have read this" in p.seen
        assert "goggles." in p.seen


async def test_beside_the_step_f4_gives_one_pane_all_the_room(store: Store) -> None:
    async with person(store, size=(100, 30)) as p:
        board, trail = p.walk.query_one(Board), p.walk.query_one(TrailPane)
        both = board.region.height
        await p.press("f4")
        assert board.region.height > both
        assert trail.region == Region()
        await p.press("f4")
        assert board.region == Region()
        assert "▸ Look first" in p.seen


async def test_down_to_one_cell_and_back(store: Store) -> None:
    async with person(store, size=(100, 30)) as p:
        await p.type("2")
        before = p.seen
        for size in ((40, 15), (12, 4), (5, 30), (3, 3), (1, 1), (2, 60), (200, 1), (1, 1), (100, 30)):
            await p.pilot.resize_terminal(*size)
            await p.pilot.pause()
        assert p.seen == before
        await p.press("enter")
        assert p.at == ("arrive", 1, "contamination")


@pytest.mark.parametrize("key", ["f1", "f5", "f6", "ctrl+p", "f2"])
async def test_every_dialog_survives_one_cell(store: Store, key: str) -> None:
    async with person(store) as p:
        await p.press(key)
        for size in ((8, 6), (1, 1), (100, 30)):
            await p.pilot.resize_terminal(*size)
            await p.pilot.pause()
        assert p.app.is_running


async def test_the_stop_and_the_start_screen_survive_one_cell(store: Store) -> None:
    async with person(store, size=(40, 15)) as p:
        await p.to_raised(high="410")
        await p.pilot.resize_terminal(1, 1)
        await p.pilot.resize_terminal(40, 15)
        await p.pilot.pause()
        assert "STOP" in p.seen
        assert "I am doing this now" in p.seen
    app = LoadstepApp(store)
    async with app.run_test(size=(40, 15)) as pilot:
        before = shown(app)
        for size in ((1, 1), (40, 15)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        assert isinstance(app.screen, StartScreen)
        assert shown(app) == before
