"""A person at the walk screen of the small flow, for tests."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta

from textual.pilot import Pilot

from engine.flow.model import ITEM_CAUTIONS
from engine.job.events import Event
from engine.job.session import Session
from engine.job.store import Store
from tests.tui.conftest import SMALL
from tests.tui.reading import shown
from tui.app import LoadstepApp
from tui.screens.walk import WalkScreen
from tui.widgets.entry_line import EntryLine
from tui.widgets.entry_panel import EntryPanel
from tui.widgets.step_card import StepCard

NAMED = {" ": "space", ".": "full_stop", ",": "comma", "-": "minus"}


class Clock:
    """Stands still until it is moved."""

    def __init__(self) -> None:
        self.now = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def move(self, seconds: float) -> None:
        self.now += timedelta(seconds=seconds)


class Person:
    """Types and reads at the app."""

    def __init__(self, app: LoadstepApp, pilot: Pilot[None], clock: Clock) -> None:
        self.app, self.pilot, self.clock = app, pilot, clock

    @property
    def session(self) -> Session:
        assert self.app.session is not None
        return self.app.session

    @property
    def events(self) -> list[Event]:
        return self.session.events

    @property
    def walk(self) -> WalkScreen:
        return next(screen for screen in self.app.screen_stack if isinstance(screen, WalkScreen))

    @property
    def card(self) -> str:
        return self.walk.query_one(StepCard).text

    @property
    def asked(self) -> str:
        return self.walk.query_one(EntryPanel).text

    @property
    def line(self) -> EntryLine:
        return self.walk.query_one(EntryLine)

    @property
    def at(self) -> tuple[str, int, str] | None:
        prompt = self.session.walk.prompt
        return prompt.key if prompt is not None else None

    @property
    def seen(self) -> str:
        return shown(self.app)

    async def sees(self, text: str) -> bool:
        """Whether the text comes up within the longest time that a busy machine may need."""
        for _ in range(100):
            if text in self.seen:
                return True
            await self.pilot.pause(0.05)
        return False

    async def press(self, *keys: str) -> None:
        for key in keys:
            await self.pilot.press(key)
            await self.pilot.pause()

    async def type(self, text: str) -> None:
        await self.press(*(NAMED.get(letter, letter) for letter in text))

    async def enter(self, *texts: str) -> None:
        """Type each text and accept it."""
        for text in texts:
            await self.type(text)
            await self.press("enter")
            await self.pilot.pause(0.02)

    async def read_cautions(self) -> None:
        """Press Enter until the cautions are read, screen by screen."""
        for _ in range(20):
            if self.at is None or self.at[2] != ITEM_CAUTIONS:
                return
            await self.press("enter")
        raise AssertionError("the cautions have no end")

    async def to_baseline(self) -> None:
        """Past the first step, to the cautions of the baseline."""
        await self.enter("1", "1", "77")

    async def to_raised(self, low: str = "31", high: str = "150") -> None:
        """Past the baseline, to the cautions of the raised load."""
        await self.to_baseline()
        await self.read_cautions()
        await self.enter(low, high)


@asynccontextmanager
async def person(
    store: Store,
    size: tuple[int, int] = (100, 30),
    learner: bool = False,
    job: int | None = None,
    clock: Clock | None = None,
) -> AsyncIterator[Person]:
    """A person in front of a job of the small flow, or of the job `job`."""
    clock = clock or Clock()
    app = LoadstepApp(store, None if job else SMALL, job, learner=learner, clock=clock)
    async with app.run_test(size=size) as pilot:
        for _ in range(100):
            if app.session is not None and isinstance(app.screen, WalkScreen):
                break
            await pilot.pause(0.02)
        await pilot.pause()
        yield Person(app, pilot, clock)
