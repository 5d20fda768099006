"""The walk screen: one step at a time beside the board and the trail."""

from __future__ import annotations

from collections.abc import Awaitable, Coroutine
from datetime import datetime
from typing import TYPE_CHECKING, Any, ClassVar, cast

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.screen import Screen
from textual.widgets import Input
from textual.worker import Worker

from engine.job.session import Session, SessionChanged
from engine.job.store.errors import StoreError
from tui import interludes
from tui.actions import bindings
from tui.answering import Refused, accept, pass_over
from tui.asking import Asking, Mode, asking
from tui.units import Units
from tui.widgets.entry_line import EntryLine
from tui.widgets.entry_panel import EntryPanel
from tui.widgets.key_bar import KeyBar
from tui.widgets.step_card import StepCard
from tui.widgets.walk_view import WalkView

if TYPE_CHECKING:
    from tui.app import LoadstepApp

TICK = 0.5
"""Seconds between two looks at the clock."""


class WalkScreen(Screen[None]):
    """Shows the walk of `session` and hands each answer to it. The walk moves once the answer is on disk."""

    WHERE = "walk"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(WHERE)]
    AUTO_FOCUS = None

    def __init__(self, session: Session) -> None:
        super().__init__()  # without an id: the next job may come up while this one is still leaving
        self.session = session
        self._asking: Asking = asking(session.walk, Units())
        self._clock_ran = False
        self._interlude: Worker[None] | None = None

    def compose(self) -> ComposeResult:
        yield WalkView()
        yield KeyBar(self.WHERE)

    def on_mount(self) -> None:
        self._redraw(self.session.draft_text())
        self.tell(*self.loadstep.store.notices, *self.session.notices)
        self.set_interval(TICK, self._tick)
        self.between(interludes.follow(self, None))

    @property
    def loadstep(self) -> LoadstepApp:
        """The app, by its own type."""
        return cast("LoadstepApp", self.app)

    @property
    def now(self) -> datetime:
        """The time that settle times are judged by."""
        return self.loadstep.clock()

    # What the person does

    async def action_accept(self) -> None:
        mode = self._asking.mode
        if mode is Mode.ENTRY:
            self.query_one(EntryLine).submit()
        elif mode is Mode.FINISHED:
            self.between(self.finish())
        elif mode is Mode.READ_CAUTIONS and not self.query_one(StepCard).all_seen:
            self.query_one(StepCard).scroll_page_down(animate=False)
        else:
            await self.record(accept(self.session, self.now))

    async def action_cannot(self) -> None:
        await self.record(pass_over(self.session, self.now))

    async def action_undo(self) -> None:
        before = self.session.walk
        await self.record(self.session.undo(), typed_again=True)
        if self.session.walk is before:
            self.tell("There is nothing to take back.")

    def action_change(self) -> None:
        from tui.changing import change

        self.between(change(self))

    def action_panes(self) -> None:
        self.query_one(WalkView).turn_panes()

    def action_mark_next(self) -> None:
        if not self.query_one(EntryLine).step_choice(+1):
            self.query_one(StepCard).scroll_down(animate=False)

    def action_mark_previous(self) -> None:
        if not self.query_one(EntryLine).step_choice(-1):
            self.query_one(StepCard).scroll_up(animate=False)

    def action_note(self) -> None:
        self.between(interludes.write_note(self))

    def action_finding(self) -> None:
        if self.session.walk.conclusion is None:
            self.tell("There is no finding yet.")
        else:
            self.between(interludes.show_finding(self))

    def action_picture(self) -> None:
        from tui.screens.cycle import CycleScreen

        self.app.push_screen(CycleScreen(self.session.walk, self.loadstep.units))

    def action_drawing(self) -> None:
        from engine.job.drawn import path_overlay
        from tui.screens.drawing import DrawingScreen

        walk = self.session.walk
        self.app.push_screen(DrawingScreen(walk.job_flow, path_overlay(walk)))

    async def action_back(self) -> None:
        await self.record(self.session.draft(self.query_one(EntryLine).text))
        self.loadstep.session = None
        self.dismiss()

    def on_key(self, event: events.Key) -> None:
        """Digits and letters go to the entry, wherever the focus is."""
        if event.is_printable and self._asking.mode is Mode.ENTRY:
            event.stop()
            self.query_one(EntryLine).type_on(event)

    @on(EntryLine.Accepted)
    async def _accepted(self, event: EntryLine.Accepted) -> None:
        # A second Enter may come before the next prompt is drawn: it belongs to the prompt it was typed at.
        prompt = self.session.walk.prompt
        if prompt is not None and prompt.key == event.key:
            await self.record(self.session.answer(event.text, event.unit))

    @on(EntryLine.Rested)
    async def _rested(self, event: EntryLine.Rested) -> None:
        prompt = self.session.walk.prompt
        if prompt is not None and prompt.key == event.key:
            await self.record(self.session.draft(event.text))

    # What the screen does

    def show_units(self, units: Units) -> None:
        """Draw everything in other units; what is half typed stays, and is read in the new unit."""
        self._redraw(None)

    def tell(self, *sentences: str) -> None:
        """Show sentences above the key bar until the next answer; none takes them away."""
        self.query_one(WalkView).tell(*sentences)

    async def finish(self) -> None:
        """What is offered once the walk is finished."""
        await interludes.finish(self)

    def between(self, interlude: Coroutine[Any, Any, None]) -> None:
        """Run what shows dialogs between two prompts, one at a time."""
        self._interlude = self.run_worker(interlude, group="interlude")

    async def record(self, doing: Awaitable[object], *, typed_again: bool = False) -> None:
        """Have the session record something, then show where that led; trouble is told, and loses nothing."""
        before = self.session.walk
        trouble = ""
        try:
            await doing
        except (Refused, SessionChanged, StoreError) as error:
            trouble = str(error)
        moved = self.session.walk is not before
        if moved or trouble:
            self.tell(*([trouble] if trouble else []), *self.session.notices)
        if moved:
            self._redraw(interludes.text_to_show(self.session, before, typed_again))
            self.between(interludes.follow(self, before))

    def _redraw(self, text: str | None) -> None:
        """Draw the walk anew; `text` is put into the entry, None leaves what is typed there."""
        units = self.loadstep.units
        self._asking = asking(self.session.walk, units)
        self._clock_ran = False
        self.query_one(WalkView).show(self.session, self._asking, units, text)
        self.set_focus(self.query_one(Input) if self._asking.mode is Mode.ENTRY else None)
        self._tick()

    def _tick(self) -> None:
        """Move the settle bar, and ask about a set that has been open for long."""
        now = self.now
        if self._asking.mode is Mode.SETTLE:
            left = self.session.settle_left(now)
            self.query_one(EntryPanel).show_settling(left, self._asking.settle)
            if left <= 0 and self._clock_ran:
                self.app.bell()
            self._clock_ran = left > 0
        busy = self._interlude is not None and not self._interlude.is_finished
        if not busy and self.is_current and self.session.needs_hold(now):
            self.between(interludes.hold(self))
