"""The sheet dialog for a session: where the sheet would go, and what goes into it."""

from __future__ import annotations

from engine.job.session import Session
from engine.job.sheet import build_sheet, to_html, to_markdown
from tui.screens.sheet import SheetScreen
from tui.sheet_file import default_path
from tui.units import Units


def sheet_screen(session: Session, units: Units) -> SheetScreen:
    """Asks where the sheet of `session` goes, in the person's units, and writes it there."""

    def made(markdown: bool) -> str:
        sheet = build_sheet(session.walk.job_flow, session.events, session.job, units)
        return to_markdown(sheet) if markdown else to_html(sheet)

    return SheetScreen(default_path(session.store.file.parent, session.job), made)
