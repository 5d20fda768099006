"""The app: themes, units, and which screen is on top. It knows no readings and no rules of diagnosis."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any, ClassVar

from textual import work
from textual.app import App, SystemCommand
from textual.binding import BindingType
from textual.screen import Screen

from tui import settings, themes
from tui.actions import EVERYWHERE, actions_on, bindings
from tui.screens.start import StartScreen
from tui.units import Units

if TYPE_CHECKING:
    from engine.job.session import Session
    from engine.job.store import Store

WIDTHS = [(0, "-narrow"), (80, "-wide"), (130, "-roomy")]
HEIGHTS = [(0, "-short"), (20, "-middling"), (38, "-tall")]
"""From this many columns or lines on, screens carry the class; the styles do the rest."""


class LoadstepApp(App[None]):
    """loadstep in the terminal.

    `flow` (a name or a path) starts a job at once, `job` resumes one; with neither the start screen waits.
    `language` is kept as the person's choice (empty: flows as they were written).
    Settings are kept in `folder`, by default that of the store.
    An exception nobody handled ends the app and is raised by `run`, for the command to report.
    """

    TITLE = "loadstep"
    CSS_PATH = "styles/app.tcss"
    ENABLE_COMMAND_PALETTE = True
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(EVERYWHERE)]
    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS

    def __init__(
        self,
        store: Store,
        flow: str | None = None,
        job: int | None = None,
        learner: bool | None = None,
        clock: Callable[[], datetime] = lambda: datetime.now(UTC),
        folder: Path | None = None,
        language: str | None = None,
    ) -> None:
        super().__init__()
        self.store = store
        self.folder = folder or store.file.parent
        self.clock = clock
        self.session: Session | None = None
        self._first_flow, self._first_job = flow, job
        kept = settings.load(self.folder)
        self.settings = kept if learner is None else replace(kept, learner=learner)
        if language is not None:
            self.settings = replace(self.settings, language=language)
            self._keep_settings()
        for theme in themes.THEMES:
            self.register_theme(theme)
        self.theme = self.settings.theme or themes.first_theme(self.console.color_system)

    @property
    def units(self) -> Units:
        """The units that everything is shown in now."""
        return Units(self.settings.units)

    def get_default_screen(self) -> Screen[Any]:
        return StartScreen()

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return themes.DARK.variables

    def on_mount(self) -> None:
        if self._first_job is not None:
            self.resume_job(self._first_job)
        elif self._first_flow is not None:
            self.start_job(self._first_flow)

    @work(exclusive=True, group="open")
    async def start_job(self, flow: str, after: int | None = None) -> None:
        """Begin a job of `flow` (`after`: the job it verifies) and show its walk."""
        await (await _later("tui.opening")).start(self, flow, after)

    @work(exclusive=True, group="open")
    async def resume_job(self, job: int) -> None:
        """Show the walk of an open job where it was left."""
        await (await _later("tui.opening")).resume(self, job)

    @work(exclusive=True, group="open")
    async def draw_flow(self, flow: str) -> None:
        """Show the drawing of a flow."""
        await (await _later("tui.drawings")).show_flow(self, flow)

    @work(exclusive=True, group="open")
    async def draw_job(self, job: int) -> None:
        """Show the drawing of a job's flow with its path."""
        await (await _later("tui.drawings")).show_job(self, job)

    def action_units(self) -> None:
        """The next units, on every screen that shows some."""
        self.settings = replace(self.settings, units=self.units.next().name)
        self._keep_settings()
        for screen in self.screen_stack:
            show_units = getattr(screen, "show_units", None)
            if show_units is not None:
                show_units(self.units)

    def action_theme(self) -> None:
        """The next theme."""
        self.theme = themes.next_theme(self.theme)
        self.settings = replace(self.settings, theme=self.theme)
        self._keep_settings()

    def set_learner(self, learner: bool) -> None:
        """Turn the learner option on or off for the jobs begun from now on."""
        self.settings = replace(self.settings, learner=learner)
        self._keep_settings()

    def action_help(self) -> None:
        """Help for the screen on top."""
        from tui.screens.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(getattr(self.screen, "WHERE", EVERYWHERE), self.session))

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """The registry's actions that work on the screen, for the command palette."""
        for action in actions_on(getattr(screen, "WHERE", EVERYWHERE)):
            if action.name != "command_palette":
                title = f"{action.label} ({action.key_text})"
                yield SystemCommand(title, action.help, self._doing(screen, action.name))

    def run(self, **options: Any) -> None:
        """Run until the person quits. Raises what nobody handled."""
        super().run(**options)
        if self._exception is not None:
            raise self._exception

    def _fatal_error(self) -> None:
        # Textual would print a traceback with local variables, among them what customers' readings are; the
        # command writes a report without them.
        self.bell()
        self._close_messages_no_wait()

    def _doing(self, screen: Screen[Any], action: str) -> Callable[[], Any]:
        namespace = screen if hasattr(screen, f"action_{action}") else self
        return lambda: self.run_action(action, default_namespace=namespace)

    def _keep_settings(self) -> None:
        settings.save(self.folder, self.settings)


async def _later(module: str) -> ModuleType:
    # A third of a second the first time: in a thread, so that the screen goes on answering.
    return await asyncio.to_thread(import_module, module)
