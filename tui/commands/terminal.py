"""Opening the screen: on a real terminal only, left cleanly at a signal, never crashing into the shell."""

from __future__ import annotations

import asyncio
import os
import select
import signal
import sys
from threading import Thread
from types import FrameType
from typing import TYPE_CHECKING

from tui.commands.exit_codes import BUG
from tui.commands.refusal import Refusal

if TYPE_CHECKING:
    from tui.app import LoadstepApp


def open_screen(flow: str | None = None, language: str | None = None) -> int:
    """Run the app until the person quits; `flow` starts a job at once. Returns the exit code."""
    require_terminal()
    from engine.job.store import Store
    from tui.app import LoadstepApp

    with Store.open() as store:
        return run_app(LoadstepApp(store, flow=flow, language=language))


def run_app(app: LoadstepApp) -> int:
    """Run an app on the terminal until the person quits. Returns the exit code."""
    from tui.pauses import spare_pauses

    spare_pauses()
    _leave_cleanly_when_told(app)
    _end_with_the_terminal()
    try:
        app.run()
    except Exception as error:
        return _crashed(error, app)
    return app.return_code or 0


def require_terminal() -> None:
    """Raises Refusal where no screen can be drawn."""
    if os.environ.get("TEXTUAL_DRIVER"):
        return  # the screen is drawn elsewhere
    if not (sys.stdin and sys.stdout and sys.stdin.isatty() and sys.stdout.isatty()):
        raise Refusal(
            "the screen needs a terminal for its input and its output. Run it in one, without a pipe; "
            "`loadstep replay --demo` shows a job without a terminal."
        )
    if os.environ.get("TERM") == "dumb":
        raise Refusal(
            "this terminal (TERM=dumb) cannot draw a screen. Use another one; "
            "`loadstep replay --demo` shows a job without a screen."
        )


def _leave_cleanly_when_told(app: LoadstepApp) -> None:
    """SIGTERM and SIGINT give the terminal back as it was; every answer is on disk before and after."""

    def leave(number: int, _: FrameType | None) -> None:
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:  # the app is not running yet, or no more
            sys.exit(128 + number)
        loop.call_soon_threadsafe(lambda: app.exit(return_code=128 + number))

    signal.signal(signal.SIGTERM, leave)
    signal.signal(signal.SIGINT, leave)  # from outside: on the terminal Ctrl+C is a key like others


def _end_with_the_terminal() -> None:
    """A terminal that is closed ends the program as the system does it for its own: by SIGHUP.

    The system tells only the program whose controlling terminal it was. Any other would read the end of its
    input again and again, for ever, with nobody to see it. Every answer is on disk by then.
    """
    if not hasattr(select, "poll") or not sys.stdin.isatty():  # Windows, or the screen is drawn elsewhere
        return

    def watch(terminal: int) -> None:
        gone = select.poll()
        gone.register(terminal, 0)  # nothing but the end of it
        if any(event & (select.POLLHUP | select.POLLERR) for _, event in gone.poll()):
            os.kill(os.getpid(), signal.SIGHUP)

    Thread(target=watch, args=(sys.stdin.fileno(),), name="terminal", daemon=True).start()


def _crashed(error: Exception, app: LoadstepApp) -> int:
    from tui.commands.crash import OpenJob, report_crash

    session = app.session
    if session is None:
        report_crash(error)
    else:
        kinds = [event.kind for event in session.events]
        report_crash(error, OpenJob(session.job, session.walk.flow.name, kinds))
    return BUG
