"""The last line of a screen: its main keys, which the mouse can press too.

Textual's own footer rebuilds its widgets whenever the focus moves, which costs more than a whole answer may
take, and it cuts off what a narrow terminal has no room for. This one is a single line that fits itself.
"""

from __future__ import annotations

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tui.actions import Action, actions_on

GIVES_WAY = ("units", "back", "learner", "help")
"""Left out one after the other where not all fit; they work all the same."""


class KeyBar(Widget):
    """Shows the actions of the screen `where` that the registry marks as shown."""

    DEFAULT_CSS = """
    KeyBar { dock: bottom; height: 1; width: 100%; background: $surface; pointer: pointer; }
    """

    def __init__(self, where: str) -> None:
        super().__init__()
        self._actions = tuple(action for action in actions_on(where) if action.shown)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 1

    def render(self) -> Content:
        parts = (part for _, _, *parts in self._fitted(self.size.width) for part in parts)
        return Content(" ") + Content("").join(parts)

    async def on_click(self, event: events.Click) -> None:
        for start, action, *parts in self._fitted(self.size.width):
            if start <= event.x < start + sum(part.cell_length for part in parts):
                self.app.simulate_key(action.key)

    def _fitted(self, width: int) -> list[tuple[int, Action, Content, Content]]:
        """The actions that fit into `width` cells, each with the cell it starts at, its key and its label."""
        actions = list(self._actions)
        gap = "  " if _cells(actions, "  ") <= width else " "
        for name in GIVES_WAY:
            if _cells(actions, gap) > width:
                actions = [action for action in actions if action.name != name]
        fitted: list[tuple[int, Action, Content, Content]] = []
        start = 1
        for action in actions:
            key = Content.styled(action.key_text, "bold $text-accent")
            label = Content(f" {action.label}{gap}")
            fitted.append((start, action, key, label))
            start += key.cell_length + label.cell_length
        return fitted


def _cells(actions: list[Action], gap: str) -> int:
    return sum(len(f"{action.key_text} {action.label}{gap}") for action in actions)
