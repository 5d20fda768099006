"""Showing the drawing of a flow or of a stored job from a screen that has not loaded it.

Imported only once a drawing is asked for: it brings the flow loader along, and the start screen does without.
"""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING

from engine.flow.library import NoSuchFlow, find
from engine.flow.load import load_flow
from engine.flow.problem import FlowErrors
from engine.job.drawn import path_overlay
from tui.opening import tell, tell_problems
from tui.reopening import Unopened, reopened
from tui.screens.drawing import DrawingScreen

if TYPE_CHECKING:
    from tui.app import LoadstepApp


async def show_flow(app: LoadstepApp, name: str) -> None:
    """The drawing of the flow called `name`, or why there is none."""
    try:
        flow = await asyncio.to_thread(load_flow, find(name, app.store.file.parent), app.settings.language)
    except NoSuchFlow as error:
        await tell(app, "This flow is not there", [str(error)])
    except FlowErrors as errors:
        await tell_problems(app, "This flow cannot be drawn", errors)
    else:
        await app.push_screen(DrawingScreen(flow))


async def show_job(app: LoadstepApp, job: int) -> None:
    """The path of a stored job on the drawing of its flow, or why it cannot be shown."""
    try:
        session = await reopened(app.store, job, app.clock, app.settings.language)
    except Unopened as error:
        await tell(app, "This job cannot be drawn", [str(error)])
    else:
        await app.push_screen(DrawingScreen(session.walk.job_flow, path_overlay(session.walk, f"job {job}")))
