"""The walk screen for a draft: nothing is waited for, values are offered, and the flow may change."""

from __future__ import annotations

from collections.abc import Awaitable, Mapping
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, ClassVar, cast

from textual.binding import BindingType

from engine.job.draft.offer import as_typed
from engine.job.entry import Entry
from engine.job.session import Session
from engine.job.walk import WalkError
from tui.actions import bindings
from tui.asking import Mode
from tui.interludes import show_finding
from tui.screens.question import Question
from tui.screens.walk import WalkScreen
from tui.widgets.entry_line import EntryLine

if TYPE_CHECKING:
    from tui.trying import TryApp


class TryScreen(WalkScreen):
    """Walks a draft. `offered` entries, by full name, stand in the entry line: Enter takes them."""

    WHERE = "try"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(WHERE)]

    def __init__(self, session: Session, offered: Mapping[str, Entry]) -> None:
        super().__init__(session)
        self._offered = offered

    @property
    def now(self) -> datetime:
        """Settle times are over at once: an author has no engine running."""
        wait = self._asking.settle if self._asking.mode is Mode.SETTLE else 0.0
        return super().now + timedelta(seconds=wait)

    def take(self, session: Session, offered: Mapping[str, Entry]) -> None:
        """Go on with the flow as it was saved last, in place of the one so far."""
        self.session, self._offered = session, offered
        self._redraw(session.draft_text())

    async def keep_draft(self) -> None:
        """Have what is half typed on record, so that it is there when the walk comes back."""
        typed = self.query_one(EntryLine).text
        if typed != self._offer():
            await super().record(self.session.draft(typed))

    async def finish(self) -> None:
        """Once the walk is finished: the finding again, the walk again, or the end."""
        answers = ["See the finding", "Walk it again from the beginning", "Leave"]
        told = [
            "This is the end of the draft. Nothing of the walk is kept; save the flow to have it read again."
        ]
        while True:
            picked = await self.app.push_screen_wait(Question("The walk is finished", told, answers))
            if picked == 0 and self.session.walk.conclusion is not None:
                await show_finding(self)
            elif picked == 1:
                self._try_app.walk_again()
                return
            elif picked == 2:
                self.app.exit()
                return
            elif picked is None:
                return

    async def record(self, doing: Awaitable[object], *, typed_again: bool = False) -> None:
        try:
            await super().record(doing, typed_again=typed_again)
        except WalkError as error:
            self.tell(f"The walk cannot go on here. {error}")

    def action_reload(self) -> None:
        self._try_app.read_again()

    async def action_back(self) -> None:
        self.app.exit()

    def _redraw(self, text: str | None) -> None:
        super()._redraw(self._offer() if text == "" else text)

    def _offer(self) -> str:
        """What the facts file gives for the reading that is asked for, as one would type it."""
        walk = self.session.walk
        entry = self._offered.get(walk.full_name(walk.prompt.item)) if walk.prompt is not None else None
        return as_typed(entry) if entry is not None else ""

    @property
    def _try_app(self) -> TryApp:
        return cast("TryApp", self.app)
