"""Opening a job from the app: loading the flow, and telling in words when that cannot be done.

Imported only once a job is opened: it brings the flow loader along, which the start screen does without.
"""

from __future__ import annotations

from collections.abc import Coroutine
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from engine.flow.bundle import ENDING
from engine.flow.library import NoSuchFlow, Source, find
from engine.flow.problem import FlowErrors
from engine.job.session import Session
from engine.job.store import StoreError
from engine.job.walk import WalkError
from tui.plain import plain
from tui.reopening import Unopened, reopened
from tui.screens.question import Question
from tui.screens.walk import WalkScreen

if TYPE_CHECKING:
    from tui.app import LoadstepApp

MOST_PROBLEMS = 20
"""Problems of a flow shown at once; `loadstep lint` lists all."""


async def start(app: LoadstepApp, flow: str, after: int | None = None) -> None:
    """Begin a job and show its walk, or say why it cannot begin."""
    with TemporaryDirectory() as folder:
        try:
            source = _source(app, flow, after, Path(folder))
        except (NoSuchFlow, StoreError, OSError) as error:
            await tell(app, "This flow is not there", [str(error)])
        else:
            learner, language = app.settings.learner, app.settings.language
            opening = Session.start(app.store, source, learner, after, clock=app.clock, language=language)
            await _show(app, opening)


async def resume(app: LoadstepApp, job: int) -> None:
    """Show an open job where it was left, or say why it cannot be resumed."""
    await _show(app, reopened(app.store, job, app.clock, app.settings.language))


def _source(app: LoadstepApp, flow: str, after: int | None, folder: Path) -> Source:
    """The flow called `flow`; one that was known by its path only is that kept with job `after`."""
    try:
        return find(flow, app.store.file.parent)
    except NoSuchFlow:
        kept = app.store.bundle(after) if after else None
        main = Path(flow).stem + ENDING
        if kept is None or main not in kept.files:
            raise
    for name, content in kept.files.items():
        file = (folder / name).resolve()
        if file.is_relative_to(folder.resolve()):
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(content)
    return Source(flow, folder / main)


async def _show(app: LoadstepApp, opening: Coroutine[Any, Any, Session]) -> None:
    try:
        session = await opening
    except FlowErrors as errors:
        await tell_problems(app, "This flow cannot be walked", errors)
    except (Unopened, StoreError, WalkError, OSError) as error:
        await tell(app, "This job cannot be opened", [str(error)])
    else:
        app.session = session
        await app.push_screen(WalkScreen(session))


async def tell_problems(app: LoadstepApp, title: str, errors: FlowErrors) -> None:
    """A box with the first problems of a flow."""
    await tell(app, title, [str(problem) for problem in errors.problems[:MOST_PROBLEMS]])


async def tell(app: LoadstepApp, title: str, sentences: list[str]) -> None:
    """A box with sentences; it waits until the person goes back."""
    await app.push_screen_wait(Question(title, [plain(each) for each in sentences], ["Back"]))
