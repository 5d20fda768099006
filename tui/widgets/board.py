"""The board: the sets of a job side by side, with what follows from them."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content

from engine.job.compare import BoardModel, board
from engine.job.walk import Walk
from tui.units import Units
from tui.widgets.board_lines import EARLIER, LATER, board_lines, fact_lines, narrow_fact_lines, shown_sets
from tui.widgets.lines import LineView

NOTHING_YET = (
    "No set of readings yet. At rest, baseline, load raised and load lowered will stand here side by side, "
    "with what follows from them."
)

ROOMY = 60
"""Below this width the facts that are not needed with every reading stand below the table."""


class Board(VerticalScroll):
    """Shows a walk's sets. Where not all fit, left and right move along them while it has the focus."""

    DEFAULT_CSS = "Board { width: 1fr; height: 1fr; padding: 0 0 0 1; scrollbar-size-vertical: 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "earlier", "Earlier sets", show=False),
        Binding("right", "later", "Later sets", show=False),
    ]

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(id=id, classes=classes)
        self._model = BoardModel((), (), ())
        self._units = Units()
        self._first: int | None = None  # leftmost set wanted; None follows the set being taken

    def compose(self) -> ComposeResult:
        yield LineView()

    def show(self, walk: Walk, units: Units) -> None:
        """Draw the board of `walk`; a set newly begun comes into view."""
        model = board(walk)
        if [column.current for column in model.columns] != [column.current for column in self._model.columns]:
            self._first = None
        self._model, self._units = model, units
        self._redraw()

    def on_click(self, event: events.Click) -> None:
        """A click on the corner of the table, `◂ 2 of 5 ▸`, moves along the sets."""
        view = self.query_one(LineView)
        place = event.get_content_offset(view)
        line = view.text.split("\n")[place.y] if place is not None and place.y < view.size.height else ""
        if place is not None and line.startswith(EARLIER):
            end = line.index(LATER)
            if place.x <= end + 1:
                self._move(-1 if place.x <= end // 2 else +1)

    def action_earlier(self) -> None:
        self._move(-1)

    def action_later(self) -> None:
        self._move(+1)

    def _move(self, by: int) -> None:
        if not self._model.columns:
            return
        width = self.query_one(LineView).content_size.width
        shown = shown_sets(self._model, self._units, width, self._first)
        self._first = max(0, min(shown[0] + by, len(self._model.columns) - len(shown)))
        self._redraw()

    def _redraw(self) -> None:
        self.query_one(LineView).show(self._lines)

    def _lines(self, width: int) -> list[Content]:
        facts = fact_lines(self._model, self._units, width)
        if not self._model.columns:
            return [*facts, *([Content("")] if facts else []), *Content(NOTHING_YET).wrap(width)]
        table = board_lines(self._model, self._units, width, self._first)
        if width >= ROOMY:
            return [*facts, Content(""), *table]
        head, rest = narrow_fact_lines(self._model, self._units, width)
        return [*head, *table, Content(""), *rest]
