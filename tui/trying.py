"""The app that walks a draft of a flow: it reads the flow, shows walk or problems, and reads it again."""

from __future__ import annotations

import asyncio
import os
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from textual import work
from textual.screen import Screen

from engine.flow.suggest import counted
from engine.job.draft.files import Watch
from engine.job.draft.opening import Draft, DraftErrors, OpenDraft, open_draft
from engine.job.session import Session
from engine.job.store import Store
from engine.job.walk import WalkError
from tui.app import LoadstepApp
from tui.screens.finding import FindingScreen
from tui.screens.problems import ProblemsScreen
from tui.screens.trying import TryScreen

POLL = 0.3
"""Seconds between two looks at the files; a save counts once two looks in a row saw the same."""


class TryApp(LoadstepApp):
    """Walks `draft`; nothing of it is kept. With `watch` the flow is read again whenever it is saved.

    `folder` is the person's data folder, for the settings.
    """

    def __init__(
        self,
        draft: Draft,
        folder: Path,
        *,
        watch: bool = False,
        clock: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        super().__init__(Store.scratch(), learner=False, clock=clock, folder=folder)
        self._draft, self._watching = draft, watch
        self._watch = Watch()
        self._paths: set[Path] = set()
        self._shown: OpenDraft | None = None

    def get_default_screen(self) -> Screen[Any]:
        return ProblemsScreen()

    def on_mount(self) -> None:
        self.read_again()
        if self._watching:
            self.set_interval(POLL, self._look)

    def on_unmount(self) -> None:
        self.store.close()

    @work(exclusive=True, group="read")
    async def read_again(self) -> None:
        """Read the draft as it is saved now, and go on with it."""
        self._shown = None
        await self._read(self.session)

    @work(exclusive=True, group="read")
    async def walk_again(self) -> None:
        """The walk from its beginning, with none of the answers so far."""
        self._shown = None
        await self._read(None)

    @work(exclusive=True, group="read")
    async def _read_saved(self) -> None:
        await self._read(self.session)

    def _look(self) -> None:
        if self._watch.saved():
            self._read_saved()

    async def _read(self, before: Session | None) -> None:
        known = self._watch.marks({*self._paths, self._draft.flow})
        self._watch.begin(known)
        paths: set[Path] = set()
        try:
            opened = await asyncio.to_thread(open_draft, self._draft, paths)
            if not opened.same_as(self._shown):  # something else in the folder was saved, else
                await self._show_walk(opened, await self._session(opened, before), before)
        except DraftErrors as errors:
            await self._show_problems(errors.lines)
        except WalkError as error:
            await self._show_problems((f"{self._draft.flow}: {error}",))
        self._paths = paths
        self._watch.begin({**self._watch.marks(paths), **known})

    async def _session(self, opened: OpenDraft, before: Session | None) -> Session:
        if before is not None:
            await self._keep_typed()
        events = before.events if before is not None else ()
        return await Session.of_draft(self.store, opened, events, self.clock)

    async def _keep_typed(self) -> None:
        screen = self._walk_screen
        if screen is not None:
            await screen.keep_draft()

    @property
    def _walk_screen(self) -> TryScreen | None:
        return next((screen for screen in self.screen_stack if isinstance(screen, TryScreen)), None)

    async def _show_walk(self, opened: OpenDraft, session: Session, before: Session | None) -> None:
        told = tuple(str(problem) for problem in opened.stale)
        if before is not None:
            told = (_told(before, session), *told)
        self.session, self._shown = session, opened
        at_finding = isinstance(self.screen, FindingScreen)
        screen = self._walk_screen
        if screen is None:
            screen = TryScreen(session, opened.offered)
            await self.push_screen(screen)
        else:
            await self._back_to(screen)
            screen.take(session, opened.offered)
        screen.tell(*told, *session.notices)
        if at_finding and session.walk.conclusion is not None:
            screen.action_finding()

    async def _show_problems(self, lines: tuple[str, ...]) -> None:
        self._shown = None
        await self._keep_typed()
        bottom = self.screen_stack[0]
        await self._back_to(bottom)
        if isinstance(bottom, ProblemsScreen):
            then = "It is read again when it is saved." if self._watching else "Ctrl+R reads it again."
            kept = " The answers so far are kept." if self.session is not None else ""
            # places are told from the flow's folder: a long path in front of each would hide what is wrong
            folder = f"{self._draft.flow.parent}{os.sep}"
            short = [line.removeprefix(folder) for line in lines]
            bottom.show(f"{counted(len(lines), 'problem')} in {self._draft.flow}", short, then + kept)

    async def _back_to(self, screen: Screen[Any]) -> None:
        """Close what lies over `screen`: dialogs about a flow that is not there any more."""
        walk = self._walk_screen
        if walk is not None:
            self.workers.cancel_group(walk, "interlude")
        while self.screen is not screen:
            await self.pop_screen()


def _told(before: Session, now: Session) -> str:
    """What became of the answers when the flow was read again."""
    had, has = len(before.walk.answered), len(now.walk.answered)
    if has >= had:
        return "The flow was read again; all answers still fit."
    return f"The flow was read again; {has} of {had} answers lead up to here, the rest waits for its step."
