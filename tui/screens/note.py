"""A line of free text for the job sheet."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from tui.actions import NOTE, bindings

LONGEST = 500
"""Characters a note may hold."""


class NoteDialog(ModalScreen[str]):
    """Dismisses with the note, or with nothing on Esc."""

    WHERE = NOTE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(NOTE)]

    def compose(self) -> ComposeResult:
        with Vertical(id="box"):
            yield Static("A note for the job sheet", id="box-title", markup=False)
            yield Input(id="note", max_length=LONGEST, compact=True)
            yield Static("Enter to keep, Esc to go back", id="box-hint", markup=False)

    @on(Input.Submitted)
    def _keep(self, event: Input.Submitted) -> None:
        self.dismiss(event.value.strip())

    def action_accept(self) -> None:
        self.dismiss(self.query_one(Input).value.strip())

    def action_back(self) -> None:
        self.dismiss("")
