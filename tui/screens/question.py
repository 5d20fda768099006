"""A question with a few numbered answers, in a box over the screen: hold, predict, stop, finish."""

from __future__ import annotations

from collections.abc import Sequence
from time import monotonic
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from tui.actions import DIALOG, bindings
from tui.widgets.lines import LineView, hanging
from tui.widgets.pick_list import Pick, PickList

UNREAD = 0.7
"""Seconds in which nobody can have read a STOP: Enter does not dismiss it yet."""


class Question(ModalScreen[int | None]):
    """Dismisses with the index of the answer that was picked; with None on Esc.

    A digit picks at once; Enter picks the marked answer. With `grave` it looks like the STOP it is.
    """

    WHERE = DIALOG
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(DIALOG)]

    def __init__(
        self, title: str, sentences: Sequence[str], answers: Sequence[str], *, grave: bool = False
    ) -> None:
        super().__init__(classes="-grave" if grave else "")
        self._shown_at = monotonic()
        self._title, self._sentences, self._answers = title, tuple(sentences), tuple(answers)

    def compose(self) -> ComposeResult:
        with Vertical(id="box"):
            yield Static(self._title, id="box-title", markup=False)
            with VerticalScroll(id="box-text", can_focus=False):
                yield LineView()
            yield PickList(id="answers")
            hint = "Digit, or arrows and Enter; Esc goes back" if len(self._answers) > 1 else "Enter"
            yield Static(hint, id="box-hint", markup=False)

    def on_mount(self) -> None:
        self.query_one(LineView).show(self._lines)
        answers = self.query_one(PickList)
        answers.show(Pick(each) for each in self._answers)
        answers.mark(0)
        self._shown_at = monotonic()

    def on_key(self, event: events.Key) -> None:
        if event.character is not None and event.character.isascii() and event.character.isdigit():
            index = int(event.character) - 1
            if 0 <= index < len(self._answers):
                event.stop()
                self.dismiss(index)

    @on(PickList.Picked)
    def _picked(self, event: PickList.Picked) -> None:
        event.stop()
        self.dismiss(event.index)

    def action_accept(self) -> None:
        # The second of two quick Enters was meant for the entry, not for a STOP that has not been read yet.
        if self.has_class("-grave") and monotonic() - self._shown_at < UNREAD:
            return
        self.dismiss(self.query_one(PickList).cursor)

    def action_back(self) -> None:
        self.dismiss(None)

    def action_mark_next(self) -> None:
        self._mark(+1)

    def action_mark_previous(self) -> None:
        self._mark(-1)

    def _mark(self, by: int) -> None:
        """Move the mark; a text with one answer only is scrolled instead."""
        answers = self.query_one(PickList)
        if len(self._answers) == 1:
            self.query_one("#box-text").scroll_relative(y=by, animate=False)
        answers.mark(((answers.cursor or 0) + by) % len(self._answers))

    def _lines(self, width: int) -> list[Content]:
        lines: list[Content] = []
        for sentence in self._sentences:
            style = "bold" if self.has_class("-grave") else ""
            lines += [Content("")] if lines else []
            for part in sentence.splitlines():
                lines += hanging(Content.styled(part, style), width)
        return lines
