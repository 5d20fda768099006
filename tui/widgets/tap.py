"""A button for the mouse and the finger: it names its key, never takes the focus, and runs an action."""

from __future__ import annotations

from textual import events
from textual.content import Content
from textual.widget import Widget


class Tap(Widget):
    """Runs `action` (a Textual action such as `screen.accept`) when clicked anywhere on it."""

    DEFAULT_CSS = """
    Tap { width: auto; height: auto; padding: 0 1; background: $panel; color: $foreground; pointer: pointer; }
    Tap:hover { text-style: underline; }
    Tap.-main { background: $accent; color: $accent-text; text-style: bold; }
    Tap.-main:hover { text-style: bold underline; }
    Tap:ansi { background: ansi_white; color: ansi_black; }
    Tap.-main:ansi { background: ansi_cyan; color: ansi_black; }
    """

    def __init__(
        self, label: str, key: str, action: str, *, id: str | None = None, classes: str = ""
    ) -> None:
        super().__init__(id=id, classes=classes)
        self._label, self._key, self._action = label, key, action

    def show(self, label: str) -> None:
        """Change the words; with none the button is not displayed."""
        if label != self._label:
            self._label = label
            self.refresh(layout=True)
        self.display = bool(label)

    @property
    def label(self) -> str:
        return self._label

    def render(self) -> Content:
        return Content.assemble(self._label, "  ", (self._key, "bold"))

    async def on_click(self, event: events.Click) -> None:
        event.stop()
        await self.run_action(self._action)
