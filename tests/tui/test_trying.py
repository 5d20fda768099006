"""Trying a draft on the screen: offered values, saving, problems in place of the step, what is kept."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.pilot import Pilot

from engine.job.draft.opening import Draft
from engine.job.session import Session
from tests.engine.job.draft.test_draft import FACTS, change
from tests.tui.conftest import SMALL
from tests.tui.reading import shown
from tui.screens.finding import FindingScreen
from tui.screens.problems import ProblemsScreen
from tui.screens.trying import TryScreen
from tui.trying import TryApp
from tui.widgets.entry_line import EntryLine


class Author:
    """Sits before the screen with an editor in another window."""

    def __init__(self, app: TryApp, pilot: Pilot[None], flow: Path) -> None:
        self.app, self.pilot, self.flow = app, pilot, flow

    @property
    def session(self) -> Session:
        assert self.app.session is not None
        return self.app.session

    @property
    def at(self) -> tuple[str, str]:
        prompt = self.session.walk.prompt
        return (prompt.step, prompt.item) if prompt is not None else ("", "")

    @property
    def typed(self) -> str:
        return self.app.screen.query_one(EntryLine).text

    async def press(self, *keys: str) -> None:
        for key in keys:
            await self.pilot.press(key)
            await self.pilot.pause(0.05)

    async def sees(self, text: str) -> None:
        for _ in range(200):
            if text in " ".join(shown(self.app).split()):  # wrapped or not
                return
            await self.pilot.pause(0.05)
        raise AssertionError(f"{text!r} is not on the screen:\n{shown(self.app)}")

    def save(self, old: str, new: str) -> None:
        """As an editor does that writes a new file and puts it in the place of the old one."""
        part = self.flow.with_suffix(".part")
        text = self.flow.read_text()
        assert old in text
        part.write_text(text.replace(old, new))
        part.replace(self.flow)


@pytest.fixture
def flow(tmp_path: Path) -> Path:
    path = tmp_path / "flows" / "small.yaml"
    path.parent.mkdir()
    path.write_text(Path(SMALL).read_text())
    (path.parent / "facts.yaml").write_text(FACTS)
    return path


@asynccontextmanager
async def author(
    flow: Path, *, watch: bool = True, step: str = "", facts: bool = False
) -> AsyncIterator[Author]:
    given = str(flow.parent / "facts.yaml") if facts else ""
    home = flow.parent.parent / "home"
    app = TryApp(Draft(flow, step, given), home, watch=watch)
    async with app.run_test(size=(100, 30)) as pilot:
        for _ in range(200):
            if app.session is not None or "problem" in shown(app):
                break
            await pilot.pause(0.02)
        await pilot.pause(0.05)
        yield Author(app, pilot, flow)
    assert not home.exists(), "a trial keeps nothing"


async def test_enter_takes_what_the_facts_offer_all_the_way_to_the_finding(flow: Path) -> None:
    async with author(flow, facts=True) as one:
        assert isinstance(one.app.screen, TryScreen)
        assert one.typed == "belt"
        await one.press("enter")
        assert (one.at, one.typed) == (("arrive", "contamination"), "")
        await one.press("1", "enter")
        assert (one.at, one.typed) == (("arrive", "ambient_temperature"), "25 degC")
        await one.press("enter", "enter")
        assert (one.at, one.typed) == (("base", "low_side"), "77 psi")
        await one.press("f3")  # in other units it still means what the file says
        await one.press("enter", "enter", "enter", "enter")
        assert one.at == ("raise", "(settle)")
        await one.press("enter")  # nothing is waited for
        assert one.at == ("raise", "low_side")
        await one.press("enter", "enter")
        assert isinstance(one.app.screen, FindingScreen)
        await one.sees("It answers to load")
        facts = one.session.walk.facts
        assert facts.get("loaded.settled") == "yes"
        assert facts.get("baseline.low_side") == pytest.approx(77 * 6894.757, rel=1e-4)


async def test_a_save_is_seen_and_the_answers_are_kept(flow: Path) -> None:
    async with author(flow) as one:
        await one.press("1", "enter", "1", "enter", "7", "7")
        one.save("Look first", "Look at it first")
        await one.sees("Look at it first")
        await one.sees("The flow was read again; all answers still fit.")
        assert one.at == ("arrive", "ambient_temperature")
        assert one.typed == "77"


async def test_problems_stand_in_place_of_the_step_until_they_are_mended(flow: Path) -> None:
    async with author(flow) as one:
        await one.press("1", "enter", "1", "enter", "7", "7")
        one.save("next: base", "next: bass")
        await one.sees("there is no step 'bass', did you mean 'base'?")
        await one.sees("small.yaml:")
        assert isinstance(one.app.screen, ProblemsScreen)
        await one.press("1", "enter")  # keys of the walk do nothing now
        assert len(one.session.walk.answered) == 2
        one.save("next: bass", "next: base")
        await one.sees("Ambient air")
        assert isinstance(one.app.screen, TryScreen)
        assert (one.at, one.typed) == (("arrive", "ambient_temperature"), "77")


async def test_a_draft_that_is_broken_from_the_start_is_walked_once_it_is_mended(flow: Path) -> None:
    change(flow, "start: arrive", "start: arive")
    async with author(flow) as one:
        assert isinstance(one.app.screen, ProblemsScreen)
        await one.sees("there is no step 'arive', did you mean 'arrive'?")
        one.save("start: arive", "start: arrive")
        await one.sees("Look first")
        assert one.at == ("arrive", "drive")


async def test_half_a_file_is_told_as_problems_and_the_whole_mends_it(flow: Path) -> None:
    async with author(flow) as one:
        whole = flow.read_text()
        flow.write_text(whole[: len(whole) // 2])
        await one.sees("problem")
        assert isinstance(one.app.screen, ProblemsScreen)
        flow.unlink()
        flow.write_text(whole)
        await one.sees("Look first")


async def test_a_part_that_is_saved_counts(flow: Path) -> None:
    part = flow.parent / "parts" / "own.yaml"
    part.parent.mkdir()
    part.write_text("cautions:\n  stands: {signal: NOTICE, text: Old words., source: made up}\n")
    change(flow, "start: arrive", "use: [parts/own.yaml]\nstart: arrive")
    change(flow, "ask: [drive", "cautions: [stands]\n    ask: [drive")
    async with author(flow) as one:
        await one.sees("Old words.")
        change(part, "Old words.", "New words.")
        await one.sees("New words.")
        change(part, "NOTICE", "NOTE")
        await one.sees("own.yaml:2:20:")
        assert isinstance(one.app.screen, ProblemsScreen)


async def test_dialogs_give_way_and_the_finding_comes_up_again(flow: Path) -> None:
    async with author(flow, step="weigh", facts=True) as one:
        await one.press("f7")
        assert isinstance(one.app.screen, FindingScreen)
        one.save("title: It answers to load", "title: It follows the load")
        await one.sees("It follows the load")
        assert isinstance(one.app.screen, FindingScreen)
        await one.press("f1")
        one.save("title: It follows the load", "title: [")
        await one.sees("problem")
        assert isinstance(one.app.screen, ProblemsScreen)


async def test_without_watch_a_key_reads_it_again(flow: Path) -> None:
    async with author(flow, watch=False) as one:
        one.save("Look first", "Look at it first")
        await one.pilot.pause(1.0)
        assert "Look at it first" not in shown(one.app)
        await one.press("ctrl+r")
        await one.sees("Look at it first")


async def test_it_begins_at_a_step(flow: Path) -> None:
    async with author(flow, step="raise", facts=True) as one:
        assert one.at == ("raise", "(cautions)")
        assert one.session.walk.facts.get("drive") == "belt"
        await one.press("enter", "enter", "enter")
        assert (one.at, one.typed) == (("raise", "low_side"), "30 psi")


async def test_a_step_to_begin_at_that_goes_is_a_problem(flow: Path) -> None:
    async with author(flow, step="raise") as one:
        text = flow.read_text()
        flow.write_text(text.replace("  raise:\n", "  lift:\n").replace("next: raise", "next: lift"))
        await one.sees("there is no step 'raise' to begin at")


async def test_facts_that_no_longer_fit_are_told(flow: Path) -> None:
    async with author(flow, facts=True) as one:
        one.save("belt: Belt,", "chain: Chain,")
        await one.sees("facts.yaml:3:10")
        assert one.typed == ""


async def test_a_step_that_can_only_resume_does_not_end_the_program(flow: Path) -> None:
    async with author(flow, step="cool") as one:
        await one.press("enter")
        await one.sees("The walk cannot go on here.")
        assert one.at == ("cool", "(done)")


async def test_the_end_offers_the_walk_again(flow: Path) -> None:
    async with author(flow, step="weigh", facts=True) as one:
        await one.press("enter")
        await one.sees("The walk is finished")
        await one.press("2")
        await one.sees("Caps on")
        assert one.at == ("caps", "(done)")
        await one.press("escape")
        await one.pilot.pause(0.1)
        assert not one.app.is_running


async def test_a_draft_has_no_sheet(flow: Path) -> None:
    async with author(flow, step="weigh", facts=True) as one:
        await one.press("f7", "s")
        await one.sees("This is a draft being tried.")


async def test_other_files_in_the_folder_change_nothing(flow: Path) -> None:
    async with author(flow) as one:
        before = one.session
        (flow.parent / ".small.yaml.swp").write_text("x")
        await one.pilot.pause(1.2)
        assert one.session is before
