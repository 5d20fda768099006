"""Numbered lines to pick from, by digit, arrow or mouse: the choices of a reading, the jobs to resume."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from textual import events
from textual.content import Content
from textual.geometry import Region, Size
from textual.message import Message
from textual.widget import Widget

from tui.widgets.lines import LEAST, hanging


@dataclass(frozen=True, slots=True)
class Pick:
    """One line: `text`, with a quiet `detail` after it; `heading` starts a group above it."""

    text: str
    detail: str = ""
    heading: str = ""


class PickList(Widget):
    """Draws picks with their numbers. It does not take the focus: its screen decides what keys do.

    `cursor` is the line the arrows stand on (None: none), `ticked` the lines chosen, where several may be.
    """

    DEFAULT_CSS = "PickList { height: auto; width: 1fr; }"

    @dataclass
    class Picked(Message):
        """A line was clicked."""

        index: int

    def __init__(self, *, id: str | None = None, numbered: int | None = None) -> None:
        """`numbered`: how many lines carry a number; all by default."""
        super().__init__(id=id)
        self._picks: tuple[Pick, ...] = ()
        self._numbered = numbered
        self.cursor: int | None = None
        self.ticked: frozenset[int] | None = None

    @property
    def picks(self) -> tuple[Pick, ...]:
        return self._picks

    def show(self, picks: Iterable[Pick], several: bool = False) -> None:
        """Show other lines, none of them marked."""
        self._picks = tuple(picks)
        self.cursor, self.ticked = None, frozenset() if several else None
        self.display = bool(self._picks)
        self.refresh(layout=True)

    def mark(self, cursor: int | None, ticked: frozenset[int] = frozenset()) -> None:
        """Mark a line, and tick lines where several may be chosen."""
        new_ticked = None if self.ticked is None else ticked
        if (cursor, new_ticked) != (self.cursor, self.ticked):
            self.cursor, self.ticked = cursor, new_ticked
            self.refresh()
            self._bring_into_view()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self._drawn(width))

    def render(self) -> Content:
        return Content("\n").join(line for line, _ in self._drawn(self.content_size.width))

    def on_click(self, event: events.Click) -> None:
        row = event.get_content_offset(self)
        drawn = self._drawn(self.content_size.width)
        if row is not None and row.y < len(drawn) and drawn[row.y][1] is not None:
            self.post_message(self.Picked(drawn[row.y][1] or 0))

    def _drawn(self, width: int) -> list[tuple[Content, int | None]]:
        """Each line with the index of the pick it belongs to."""
        drawn: list[tuple[Content, int | None]] = []
        for index, pick in enumerate(self._picks):
            if pick.heading:
                drawn += [(Content(""), None)] if drawn else []
                drawn.append((Content.styled(pick.heading, "bold $quiet"), None))
            drawn += [(line, index) for line in self._lines(index, pick, max(width, LEAST))]
        return drawn

    def _lines(self, index: int, pick: Pick, width: int) -> list[Content]:
        here = index == self.cursor
        number = f"{index + 1:>2}" if self._numbered is None or index < self._numbered else "  "
        tick = "" if self.ticked is None else ("[x] " if index in self.ticked else "[ ] ")
        lead = f"{'▸' if here else ' '}{number}  {tick}"
        text = Content.assemble(pick.text, (f"  {pick.detail}" if pick.detail else "", "$quiet"))
        lines = hanging(text, width, lead)
        if here:
            return [
                line.pad_right(max(0, width - line.cell_length)).stylize("bold $accent-text on $accent")
                for line in lines
            ]
        return [lines[0].stylize("bold $text-accent", 0, len(lead)), *lines[1:]]

    def _bring_into_view(self) -> None:
        rows = [
            row for row, (_, index) in enumerate(self._drawn(self.content_size.width)) if index == self.cursor
        ]
        parent = self.parent
        if rows and isinstance(parent, Widget):
            region = Region(0, rows[0] + self.virtual_region.y, 1, len(rows))
            parent.scroll_to_region(region, animate=False)
