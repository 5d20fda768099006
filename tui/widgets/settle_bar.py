"""The settle time as a bar and a clock; the words beside it say the same without colour."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tui.asking import duration


class SettleBar(Widget):
    """Shows how much of `total` seconds is over."""

    DEFAULT_CSS = "SettleBar { height: 1; width: 1fr; }"

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._left, self._total = 0.0, 0.0

    def show(self, left: float, total: float) -> None:
        """`left` of `total` seconds are still to wait."""
        self._left, self._total = max(0.0, left), max(total, 1.0)
        self.refresh()

    @property
    def words(self) -> str:
        """`1:20 left of 3:00`, or that the time is over."""
        if self._left <= 0:
            return f"{duration(self._total)} are over"
        return f"{duration(self._left)} left of {duration(self._total)}"

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 1

    def render(self) -> Content:
        words = self.words
        room = max(0, self.content_size.width - len(words) - 2)
        full = round(room * (1 - self._left / self._total)) if self._total else room
        return Content.assemble(
            ("█" * full, "$accent"), ("░" * (room - full), "$quiet"), "  ", (words, "bold")
        )
