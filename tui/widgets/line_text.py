"""A short text that may wrap: it asks for a new layout only if it needs more or fewer lines than before."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget


class LineText(Widget):
    """Shows one content, as tall as it wraps to. Static would lay the whole screen out at every change."""

    DEFAULT_CSS = "LineText { height: auto; width: 1fr; }"

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._content = Content("")

    @property
    def text(self) -> str:
        """What is shown, without styles."""
        return self._content.plain

    def show(self, content: Content) -> None:
        """Show `content` instead."""
        if content.is_same(self._content):
            return
        width = self.content_size.width
        layout = self._height(content, width) != self._height(self._content, width)
        self._content = content
        self.refresh(layout=layout)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return self._height(self._content, width)

    def render(self) -> Content:
        return self._content

    @staticmethod
    def _height(content: Content, width: int) -> int:
        return len(content.wrap(width)) if width > 0 and content else 1
