"""A question with a few numbered answers, in a box over the screen: hold, predict, stop, finish."""

from __future__ import annotations

from collections.abc import Sequence
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
        self._title, self._sentences, self._answers = title, tuple(sentences), tuple(answers)

    def compose(self) -> ComposeResult:
        with Vertical(id="box"):
            yield Static(self._title, id="box-title", markup=False)
            with VerticalScroll(id="box-text"):
                yield LineView()
            yield PickList(id="answers")
            yield Static("Digit or arrows and Enter, Esc to go back", id="box-hint", markup=False)

    def on_mount(self) -> None:
        self.query_one(LineView).show(self._lines)
        answers = self.query_one(PickList)
        answers.show(Pick(each) for each in self._answers)
        answers.mark(0)

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
        self.dismiss(self.query_one(PickList).cursor)

    def action_back(self) -> None:
        self.dismiss(None)

    def action_mark_next(self) -> None:
        self._mark(+1)

    def action_mark_previous(self) -> None:
        self._mark(-1)

    def _mark(self, by: int) -> None:
        answers = self.query_one(PickList)
        answers.mark(((answers.cursor or 0) + by) % len(self._answers))

    def _lines(self, width: int) -> list[Content]:
        lines: list[Content] = []
        for sentence in self._sentences:
            lines += [Content("")] if lines else []
            for part in sentence.splitlines():
                lines += hanging(Content(part), width)
        return lines
