"""The last line of a screen: its main keys, which the mouse can press too.

Textual's own footer rebuilds its widgets whenever the focus moves, which costs more than a whole answer may take,
and it cuts off what a narrow terminal has no room for. This one is a single line that fits itself.
"""

from __future__ import annotations

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tui.actions import Action, actions_on


class KeyBar(Widget):
    """Shows the actions of the screen `where` that the registry marks as shown."""

    DEFAULT_CSS = """
    KeyBar { dock: bottom; height: 1; width: 100%; background: $surface; color: $foreground; pointer: pointer; }
    """

    def __init__(self, where: str) -> None:
        super().__init__()
        self._actions = tuple(action for action in actions_on(where) if action.shown)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 1

    def render(self) -> Content:
        return Content("").join(
            part for _, _, *parts in self._fitted(self.size.width) for part in parts
        )

    async def on_click(self, event: events.Click) -> None:
        for start, action, *parts in self._fitted(self.size.width):
            if start <= event.x < start + sum(part.cell_length for part in parts):
                self.app.simulate_key(action.key)

    def _fitted(self, width: int) -> list[tuple[int, Action, Content, Content]]:
        """The actions that fit into `width` cells, each with the cell it starts at, its key and its label."""
        for gap in ("  ", " "):
            if sum(len(f"{each.key_text} {each.label}{gap}") for each in self._actions) <= width:
                break
        fitted: list[tuple[int, Action, Content, Content]] = []
        start = 0
        for action in self._actions:
            key = Content.styled(f"{gap[1:]}{action.key_text}", "bold $text-accent")
            label = Content(f" {action.label}{gap[:1]}")
            if start + key.cell_length + label.cell_length > width + 1:
                break
            fitted.append((start, action, key, label))
            start += key.cell_length + label.cell_length
        return fitted
