"""An app with the program's looks and nothing else, to put one screen or widget on."""

from __future__ import annotations

from typing import Any

from textual.app import App, ComposeResult
from textual.screen import Screen
from textual.widget import Widget

from tui import themes
from tui.app import LoadstepApp
from tui.units import Units


class BareApp(App[None]):
    """Shows a widget in its default screen, or a screen on top of it; `results` keeps what that gave."""

    HORIZONTAL_BREAKPOINTS = LoadstepApp.HORIZONTAL_BREAKPOINTS
    VERTICAL_BREAKPOINTS = LoadstepApp.VERTICAL_BREAKPOINTS

    def __init__(self, shown: Widget | Screen[Any], theme: str = themes.DARK.name) -> None:
        super().__init__()
        self.shown = shown
        self.results: list[Any] = []
        self.started: list[tuple[str, int | None]] = []
        self.units = Units()
        for each in themes.THEMES:
            self.register_theme(each)
        self.theme = theme

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return themes.DARK.variables

    def compose(self) -> ComposeResult:
        if not isinstance(self.shown, Screen):
            yield self.shown

    def on_mount(self) -> None:
        if isinstance(self.shown, Screen):
            self.push_screen(self.shown, self.results.append)

    def start_job(self, flow: str, after: int | None = None) -> None:
        self.started.append((flow, after))
