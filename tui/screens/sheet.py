"""Writing the job sheet: the person confirms where, and is told where it is."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from tui.actions import NOTE, bindings
from tui.plain import plain
from tui.screens.question import Question
from tui.sheet_file import SheetFileError, chosen_path, write
from tui.widgets.tap import Tap

HINT = "End it in .html to print it or open it in a browser, in .md for Markdown. Enter writes it."


class SheetScreen(ModalScreen[Path | None]):
    """Asks for a path and writes what `made(markdown)` gives to it. Dismisses with the path, or with None."""

    WHERE = NOTE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(NOTE)]
    AUTO_FOCUS = "#sheet-path"
    DEFAULT_CSS = """
    SheetScreen { align: center middle; }
    SheetScreen #sheet-box {
        width: 90%; max-width: 90; height: auto; max-height: 100%;
        background: $surface; border: round $accent; padding: 0 1;
    }
    SheetScreen #sheet-title { text-style: bold; color: $text-accent; }
    SheetScreen #sheet-path { border: none; height: 1; padding: 0; margin: 1 0; background: $panel; }
    SheetScreen #sheet-hint { color: $quiet; height: auto; }
    SheetScreen #sheet-told { height: auto; text-style: bold; margin-top: 1; display: none; }
    SheetScreen #sheet-taps { height: 1; margin-top: 1; }
    SheetScreen Tap { margin-right: 2; }
    SheetScreen.-short #sheet-path { margin: 0; }
    SheetScreen.-short #sheet-taps { margin-top: 0; }
    """

    def __init__(self, suggested: Path, made: Callable[[bool], str]) -> None:
        """`made` is called with True for Markdown, False for HTML."""
        super().__init__()
        self._suggested, self._made = suggested, made
        self._written: Path | None = None

    def compose(self) -> ComposeResult:
        with Vertical(id="sheet-box"):
            yield Static("Write the job sheet to", id="sheet-title", markup=False)
            yield Input(str(self._suggested), id="sheet-path", select_on_focus=False)
            yield Static(HINT, id="sheet-hint", markup=False)
            yield Static(id="sheet-told", markup=False)
            with Horizontal(id="sheet-taps"):
                yield Tap("Write", "Enter", "screen.accept", id="sheet-write", classes="-main")
                yield Tap("Back", "Esc", "screen.back")

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_accept()

    @on(Input.Changed)
    def _changed(self) -> None:
        self._written = None
        self.query_one("#sheet-write", Tap).show("Write")

    def action_accept(self) -> None:
        """Write; once written, Enter closes."""
        if self._written is not None:
            self.dismiss(self._written)
        else:
            self._write()

    def action_back(self) -> None:
        self.dismiss(self._written)

    @work(exclusive=True)
    async def _write(self) -> None:
        try:
            path = chosen_path(self.query_one(Input).value)
            text = self._made(path.suffix.lower() == ".md")
            await self._write_asking(path, text)
        except SheetFileError as error:
            self._tell(str(error))

    async def _write_asking(self, path: Path, text: str) -> None:
        try:
            write(path, text)
        except FileExistsError:
            question = Question("There is such a file already", [plain(str(path))], ["Keep it", "Replace it"])
            if await self.app.push_screen_wait(question) != 1:
                self._tell("The file was kept as it is. Choose another name.")
                return
            write(path, text, replace=True)
        self._written = path
        self.query_one("#sheet-write", Tap).show("Close")
        self._tell(f"Written to {path}. Enter or Esc closes.")

    def _tell(self, sentence: str) -> None:
        told = self.query_one("#sheet-told", Static)
        told.update(plain(sentence))
        told.display = True
