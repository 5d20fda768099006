"""A widget that draws itself as lines of text for whatever width it gets, and helpers to make such lines."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual.content import Content
from textual.geometry import Size
from textual.strip import Strip
from textual.visual import Visual
from textual.widget import Widget

from tui.plain import plain

Draw = Callable[[int], list[Content]]
"""Makes the lines for a width in cells. Called again when the width changes, so it holds no state."""

LEAST = 8
"""Below this width nothing can be read; lines are made for it and cut."""


class LineView(Widget):
    """As tall as its lines. The text is literal: nothing in it is read as markup."""

    DEFAULT_CSS = "LineView { height: auto; width: 1fr; }"

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(id=id, classes=classes)
        self._draw: Draw = lambda width: []
        self._made: tuple[int, list[Content]] | None = None

    def show(self, draw: Draw) -> None:
        """Draw with `draw` from now on; what comes out the same is not painted again, nor laid out."""
        self._draw, made = draw, self._made
        if made is None or not self.is_attached:
            self._made = None
            self.refresh(layout=True)
            return
        width, old = made
        new = draw(width)
        self._made = (width, new)
        if len(new) != len(old):
            self.refresh(layout=True)
        elif not all(map(Content.is_same, new, old)):
            self.refresh()

    @property
    def text(self) -> str:
        """What is drawn now, without styles."""
        return "\n".join(line.plain for line in self._lines(self.content_size.width))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self._lines(width))

    def render(self) -> Content:
        return Content("\n").join(self._lines(self.content_size.width))

    def render_line(self, y: int) -> Strip:
        """One line: only those in view are ever styled, and none is wrapped a second time."""
        width = self.content_size.width
        lines = self._lines(width)
        if not width or y >= len(lines) or self.text_selection is not None:
            return super().render_line(y)
        return Visual.to_strips(self, lines[y], width, 1, self.visual_style, pad=True)[0]

    def _lines(self, width: int) -> list[Content]:
        width = max(width, LEAST)
        if self._made is None or self._made[0] != width:
            self._made = (width, self._draw(width))
        return self._made[1]


def hanging(content: Content, width: int, first: str = "", rest: str | None = None) -> list[Content]:
    """`content` wrapped to `width`; `first` before its first line, `rest` (else blanks) before the others."""
    rest = " " * len(first) if rest is None else rest
    room = max(width - max(len(first), len(rest)), LEAST)
    lines = [line.rstrip() for line in content.wrap(room)]
    return [Content(rest if place else first) + line for place, line in enumerate(lines)]


def numbered(texts: Iterable[str], width: int) -> list[Content]:
    """Each text as literal lines behind its number."""
    return [
        line
        for number, text in enumerate(texts, 1)
        for line in hanging(Content(plain(text)), width, f"{number}. ")
    ]


def heading(text: str) -> list[Content]:
    """A blank line and a heading: bold capitals, so that it stands out without colour."""
    return [Content(""), Content.styled(plain(text).upper(), "bold $text-accent")]
